"""A component phrase as matching sees it: content words, where it is, what is measured, which fastener."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from saidspec.model import Kind
from saidspec.reconcile.cues import cue
from saidspec.reconcile.vocabulary import LETTERS, WORD, Vocabulary, folded

SAID = re.compile(rf"{LETTERS.pattern}|{WORD.pattern}")
ORDINALS = {"first": "1", "second": "2", "third": "3", "fourth": "4"}
NUMBERS = {word: str(at) for at, word in enumerate(("two", "three", "four", "five", "six", "seven", "eight"), 2)}
LONGEST = 5  # words of the longest phrase of the vocabulary that is looked for
CONDITION = re.compile(r"\s+(?=(?:without|with|including|incl\.?|excluding|excl\.?|when|if)\s)|\s*(?=\()")
SIZE = re.compile(r"\b(\d+(?:\.\d+)?)\s?mm\b|\b(M\d+)\b|\b([ET]\d+)\b")


@dataclass(frozen=True, slots=True)
class Phrase:
    """A component phrase taken apart."""

    said: str
    words: frozenset[str] = frozenset()  # content words in canonical form
    order: tuple[str, ...] = ()  # the same in order
    fasteners: frozenset[str] = frozenset()
    positions: frozenset[tuple[str, str]] = frozenset()
    inner: frozenset[tuple[str, str]] = frozenset()  # positions between content words: "lower arm rear bush bolt"
    bundle: frozenset[str] = frozenset()
    modifiers: frozenset[str] = frozenset()
    quantity: str | None = None
    size: str | None = None  # "16" or "E14": a size that is part of the name
    condition: str = ""  # "without filter change": under which the value holds
    by_name: Phrase | None = None  # the same with synonyms of parts replaced, where that makes a difference

    @property
    def core(self) -> frozenset[str]:
        """The words that say which part it is: no fastener's noun, and no modifiers where others are left."""
        held = self.words - self.fasteners
        return held - self.modifiers or held

    @property
    def head(self) -> str | None:
        """The last word of the core."""
        core = self.core
        return next((word for word in reversed(self.order) if word in core), None)

    def along(self, axis: str) -> set[str]:
        """The positions said on one axis."""
        return {name for on, name in self.positions if on == axis}


def longest(words: tuple[str, ...], start: int, table: Mapping[tuple[str, ...], object]) -> int:
    """How many words from `start` make the longest phrase of a table; 0 where none does."""
    for length in range(min(LONGEST, len(words) - start), 0, -1):
        if words[start:start + length] in table:
            return length
    return 0


def replaced(words: tuple[str, ...], table: Mapping[tuple[str, ...], tuple[str, ...]]) -> tuple[str, ...]:
    """The words with every phrase of a table replaced by what it stands for, the longest first."""
    made: list[str] = []
    at = 0
    while at < len(words):
        length = longest(words, at, table)
        made += table[words[at:at + length]] if length else words[at:at + 1]
        at += length or 1
    return tuple(made)


Places = frozenset[tuple[str, str]]


def counted(words: tuple[str, ...], at: int) -> int:
    """The place after a number of one figure at a place, "number" before it left aside; 0 where none is."""
    while words[at:at + 1] in (("number",), ("no",)):
        at += 1
    figure = at < len(words) and ((words[at].isdigit() and len(words[at]) == 1) or words[at] in NUMBERS)
    return at + 1 if figure else 0


def take_positions(words: tuple[str, ...], vocabulary: Vocabulary) -> tuple[tuple[str, ...], Places, Places]:
    """The words that are no position; the positions; and those of them that stand between content words."""
    rest: list[str] = []
    found: list[tuple[int, tuple[str, str]]] = []  # how many content words stand before a position, and the position
    at = 0
    while at < len(words):
        length = longest(words, at, vocabulary.positions)
        numbered = words[at].isdigit() and len(words[at]) == 1
        if length and words[at:at + length] in (("number",), ("no.",), ("cylinder", "number")):
            length = 0
        if words[at] == "cylinder" and 0 < counted(words, at + 1) <= len(words):
            at += 1  # "cylinder 2 coil" is the second coil
            continue
        if length:
            axis, name = vocabulary.positions[words[at:at + length]]
            found.append((len(rest), (axis, ORDINALS.get(name, name))))
        elif numbered or (words[at] in NUMBERS and len(words) > 1):
            found.append((len(rest), ("order", NUMBERS.get(words[at], words[at]))))
        elif words[at] not in ("number", "no"):
            rest.append(words[at])
        at += length or 1
    inner = frozenset(place for before, place in found if 0 < before < len(rest))
    outer = frozenset(place for before, place in found if not 0 < before < len(rest))
    axes = {axis for axis, _ in outer}
    return tuple(rest), outer | {place for place in inner if place[0] not in axes}, inner


def take_quantity(words: tuple[str, ...], vocabulary: Vocabulary) -> tuple[tuple[str, ...], str | None]:
    """The words before the name of what is measured, and that name's group; the last words decide."""
    quantity = None
    while words:
        for length in range(min(3, len(words)), 0, -1):
            group = vocabulary.quantities.get(words[-length:])
            if group and quantity in (None, group):  # "float height" is the height of a float
                quantity, words = quantity or group, words[:-length]
                break
        else:
            return words, quantity
    return words, quantity


def read_phrase(said: str | None, kind: Kind, vocabulary: Vocabulary) -> Phrase:
    """A component phrase of a fact or specification of a kind; an empty Phrase for None.  Each is taken apart once."""
    key = said or "", kind == "measurement"
    known = vocabulary.read.get(key)
    if not isinstance(known, Phrase):
        known = vocabulary.read[key] = read_anew(*key, vocabulary)
    return known


def read_anew(said: str, measured: bool, vocabulary: Vocabulary) -> Phrase:
    """As `read_phrase`, for a phrase that was not taken apart before."""
    said, _, condition = CONDITION.sub("\n", said, count=1).partition("\n")
    said = cue("at-idle").sub("", said.lower()).strip() if measured else said  # "oil pressure at idle" is a pressure
    sized = SIZE.search(said)
    size = next((group for group in sized.groups() if group), None) if sized else None
    words = folded(SIZE.sub(" ", said) if sized else said)
    quantity = None
    if measured:
        rest, quantity = take_quantity(words, vocabulary)
        placed, _, _ = take_positions(rest, vocabulary)
        words = rest if placed else words  # "front toe" is the toe at the front
    plain = taken_apart(said, replaced(words, vocabulary.same), quantity, size, vocabulary)
    named = vocabulary.short.get(words) or replaced(words, vocabulary.synonyms)
    by_name = taken_apart(said, replaced(named, vocabulary.same), quantity, size, vocabulary)
    plain = replace(plain, condition=condition.strip())
    return replace(plain, by_name=by_name) if by_name.order != plain.order else plain


def taken_apart(said: str, words: tuple[str, ...], quantity: str | None, size: str | None, vocabulary: Vocabulary
                ) -> Phrase:
    """The parts of a phrase whose words have been replaced."""
    words, positions, inner = take_positions(words, vocabulary)
    words = tuple(word for word in words if word not in vocabulary.skip)
    bundle = frozenset(word for word in words if word in vocabulary.bundle)
    modifiers = frozenset(word for word in words if word in vocabulary.modifiers)
    content = tuple(word for word in words if word not in bundle)
    if not content:
        content, bundle = words, frozenset()
    return Phrase(said, frozenset(content), content, frozenset(content) & vocabulary.fasteners, positions,
                  inner, bundle, modifiers, quantity, size)


def conflicting(one: Phrase, other: Phrase) -> str | None:
    """The axis on which two phrases name different places, or None.

    Where both have a place between their words ("arm rear bush") those are compared with each other.
    """
    for axis in {axis for axis, _ in one.positions | one.inner}:
        inside = [{name for on, name in phrase.inner if on == axis} for phrase in (one, other)]
        if all(inside):
            if not inside[0] & inside[1]:
                return axis
            if any(phrase.along(axis) == within for phrase, within in zip((one, other), inside, strict=True)):
                continue  # one of them has no other place on this axis
        here, there = one.along(axis), other.along(axis)
        if here and there and not here & there:
            if axis == "side" and not (here | there) <= {"left", "right"}:
                continue  # driver's side and left, or "other side": neither the same for certain nor different
            if (inside[1] and inside[1] & here) or (inside[0] and inside[0] & there):
                continue  # the place of one is the other's inner place
            return axis
    return None


def unsaid_positions(spec: Phrase, fact: Phrase) -> frozenset[tuple[str, str]]:
    """The positions of the specification on axes of which the fact says nothing."""
    axes = {axis for axis, _ in fact.positions}
    return frozenset((axis, name) for axis, name in spec.positions if axis not in axes)


def words_of(text: str, vocabulary: Vocabulary) -> Iterator[tuple[int, str]]:
    """(offset, canonical word) of every word of a text, in order."""
    raw = [(found.start(), folded(found[0])) for found in SAID.finditer(text)]
    tokens = [(start, word) for start, parts in raw for word in parts]
    words = tuple(word for _, word in tokens)
    at = 0
    while at < len(words):
        length = longest(words, at, vocabulary.same)
        for word in (vocabulary.same[words[at:at + length]] if length else words[at:at + 1]):
            yield tokens[at][0], word
        at += length or 1
