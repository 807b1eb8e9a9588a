"""A component phrase as matching sees it: content words, where it is, what is measured, which fastener."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from saidspec.model import Kind
from saidspec.reconcile.vocabulary import Vocabulary, folded

LONGEST = 5  # words of the longest phrase of the vocabulary that is looked for
SIZE = re.compile(r"\b(\d+(?:\.\d+)?)\s?mm\b|\b(M\d+)\b|\b([ET]\d+)\b")


@dataclass(frozen=True, slots=True)
class Phrase:
    """A component phrase taken apart."""

    said: str
    words: frozenset[str] = frozenset()  # content words in canonical form
    order: tuple[str, ...] = ()  # the same in order
    fasteners: frozenset[str] = frozenset()
    positions: frozenset[tuple[str, str]] = frozenset()
    bundle: frozenset[str] = frozenset()
    modifiers: frozenset[str] = frozenset()
    quantity: str | None = None
    size: str | None = None  # "16" or "E14": a size that is part of the name

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


def canonical(words: tuple[str, ...], vocabulary: Vocabulary) -> tuple[str, ...]:
    """The words with every synonym replaced by its canonical phrase, the longest synonym first, at most twice over."""
    for _ in range(2):
        made: list[str] = []
        at = 0
        while at < len(words):
            length = longest(words, at, vocabulary.synonyms)
            made += vocabulary.synonyms[words[at:at + length]] if length else words[at:at + 1]
            at += length or 1
        if tuple(made) == words:
            break
        words = tuple(made)
    return words


def take_positions(words: tuple[str, ...], vocabulary: Vocabulary
                   ) -> tuple[tuple[str, ...], frozenset[tuple[str, str]]]:
    """The words that are no position, and the positions."""
    rest: list[str] = []
    found: set[tuple[str, str]] = set()
    at = 0
    while at < len(words):
        length = longest(words, at, vocabulary.positions)
        numbered = words[at].isdigit() and (not rest or at > 0)
        if length and words[at:at + length] in (("number",), ("no.",), ("cylinder", "number")):
            length = 0
        if length:
            found.add(vocabulary.positions[words[at:at + length]])
        elif numbered and len(words[at]) == 1:
            found.add(("order", words[at]))
        elif words[at] not in ("number", "no"):
            rest.append(words[at])
        at += length or 1
    return tuple(rest), frozenset(found)


def take_quantity(words: tuple[str, ...], vocabulary: Vocabulary) -> tuple[tuple[str, ...], str | None]:
    """The words before the name of what is measured, and that name's group; the last words decide."""
    quantity = None
    while words:
        for length in range(min(3, len(words)), 0, -1):
            group = vocabulary.quantities.get(words[-length:])
            if group:
                quantity, words = quantity or group, words[:-length]
                break
        else:
            return words, quantity
    return words, quantity


def read_phrase(said: str | None, kind: Kind, vocabulary: Vocabulary) -> Phrase:
    """A component phrase of a fact or specification of a kind; an empty Phrase for None."""
    said = said or ""
    sized = SIZE.search(said)
    size = next((group for group in sized.groups() if group), None) if sized else None
    words = folded(SIZE.sub(" ", said) if sized else said)
    quantity = None
    if kind == "measurement":
        words, quantity = take_quantity(words, vocabulary)
    words = canonical(words, vocabulary)
    words, positions = take_positions(words, vocabulary)
    words = tuple(word for word in words if word not in vocabulary.skip)
    bundle = frozenset(word for word in words if word in vocabulary.bundle)
    modifiers = frozenset(word for word in words if word in vocabulary.modifiers)
    content = tuple(word for word in words if word not in bundle)
    if not content:
        content, bundle = words, frozenset()
    return Phrase(said, frozenset(content), content, frozenset(content) & vocabulary.fasteners, positions, bundle,
                  modifiers, quantity, size)


def conflicting(one: Phrase, other: Phrase) -> str | None:
    """The axis on which two phrases name different places, or None."""
    for axis, _ in one.positions:
        here, there = one.along(axis), other.along(axis)
        if here and there and not here & there:
            if axis == "side" and not (here | there) <= {"left", "right"}:
                continue  # nearside and left, or "other side": neither the same for certain nor different
            return axis
    return None


def unsaid_positions(spec: Phrase, fact: Phrase) -> frozenset[tuple[str, str]]:
    """The positions of the specification on axes of which the fact says nothing."""
    axes = {axis for axis, _ in fact.positions}
    return frozenset((axis, name) for axis, name in spec.positions if axis not in axes)


def words_of(text: str, vocabulary: Vocabulary) -> Iterator[tuple[int, str]]:
    """(offset, canonical word) of every word of a text, in order."""
    raw = [(found.start(), folded(found[0])) for found in re.finditer(r"[A-Za-z0-9][A-Za-z0-9.'’]*", text)]
    tokens = [(start, word) for start, parts in raw for word in parts]
    words = tuple(word for _, word in tokens)
    at = 0
    while at < len(words):
        length = longest(words, at, vocabulary.synonyms)
        for word in (canonical(words[at:at + length], vocabulary) if length else words[at:at + 1]):
            yield tokens[at][0], word
        at += length or 1
