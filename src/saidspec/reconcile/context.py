"""What the note was talking about: its words and systems in order, so that a short phrase finds its meaning.

A fact that says only "drain plug" belongs to the engine oil where the note has spoken of the engine oil and of no
other system since.  Words come from the note's text and, because recognisers mishear, from the components of its facts.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from saidspec.model import Fact, Kind, Reading
from saidspec.reconcile.phrase import Phrase, longest, read_phrase, words_of
from saidspec.reconcile.vocabulary import Vocabulary

NEAR = 140  # characters before a fact in which the whole name of its part is looked for
FAR_BACK = 3000  # characters after which a name is no longer what a short form means
FAR = 600  # characters after which a system is no longer what the note is about


@dataclass(frozen=True)
class Context:
    """The words of a note, canonical, with their offsets; the systems they belong to; the components said."""

    text: str
    vocabulary: Vocabulary
    words: tuple[tuple[int, str], ...]
    systems: tuple[tuple[int, str], ...]
    mentions: tuple[tuple[int, Phrase], ...]
    spoken: tuple[tuple[int, str], ...] = ()  # the words of the text alone
    facts: tuple[Fact, ...] = ()

    @cached_property
    def places_of(self) -> dict[str, list[int]]:
        """Word -> where it was said, in the text or in the components of the facts, in order."""
        return offsets(self.words)

    @cached_property
    def mentions_of(self) -> dict[str, list[tuple[int, Phrase]]]:
        """Word -> the components of facts that have it, with their offsets."""
        found: dict[str, list[tuple[int, Phrase]]] = {}
        for at, phrase in self.mentions:
            for word in phrase.words:
                found.setdefault(word, []).append((at, phrase))
        return found

    @cached_property
    def spoken_at(self) -> dict[str, list[int]]:
        """Word -> its places among the words of the text."""
        found: dict[str, list[int]] = {}
        for place, (_, word) in enumerate(self.spoken):
            found.setdefault(word, []).append(place)
        return found

    def last(self, word: str, before: int) -> int | None:
        """Where a word was last said before an offset."""
        found = self.places_of.get(word, [])
        at = bisect_left(found, before)
        return found[at - 1] if at else None

    def last_spoken(self, word: str, before: int) -> int | None:
        """Where a word last stood in the text before an offset."""
        found = self.spoken_at.get(word, [])
        at = bisect_left(found, before, key=lambda place: self.spoken[place][0])
        return self.spoken[found[at - 1]][0] if at else None

    @cached_property
    def all_systems(self) -> frozenset[str]:
        """Every system that the note speaks of."""
        return frozenset(name for _, name in self.systems)

    def attention(self, before: int, far: int = FAR) -> str | None:
        """The system that was spoken of last before an offset, not too far back."""
        at = bisect_right(self.systems, (before, ""))
        return self.systems[at - 1][1] if at and before - self.systems[at - 1][0] <= far else None

    def position(self, axis: str, before: int) -> str | None:
        """The position on an axis that was said last before an offset, in the components of the facts or the text."""
        found = self.places.get(axis, [])
        at = bisect_left(found, (before, ""))
        return found[at - 1][1] if at else None

    @cached_property
    def places(self) -> dict[str, list[tuple[int, str]]]:
        """Axis -> (offset, position) wherever one is said, in components or as a word that means no other."""
        found = [(on, at, name) for at, phrase in self.mentions for on, name in phrase.positions]
        known = self.vocabulary.positions
        heads = self.vocabulary.known - self.vocabulary.skip
        for (at, word), (_, after) in pairwise((*self.spoken, (0, ""))):
            if (word,) in known and (word in self.vocabulary.plain_positions or after in heads):
                axis, name = known[(word,)]
                found.append((axis, at, name))
        by_axis: dict[str, list[tuple[int, str]]] = {}
        for axis, at, name in sorted(found):
            by_axis.setdefault(axis, []).append((at, name))
        return by_axis

    def positions_said(self, axis: str) -> set[str]:
        """All positions on an axis that the note has."""
        return {name for _, name in self.places.get(axis, [])}


def offsets(words: Iterable[tuple[int, str]]) -> dict[str, list[int]]:
    """Word -> its offsets, in order."""
    found: dict[str, list[int]] = {}
    for at, word in words:
        found.setdefault(word, []).append(at)
    return found


def system_of(words: tuple[str, ...], vocabulary: Vocabulary) -> str | None:
    """The system that a run of canonical words belongs to: the first that claims some of them, longest phrase first."""
    for at in range(len(words)):
        length = longest(words, at, vocabulary.systems)
        if length:
            return vocabulary.systems[words[at:at + length]]
    return None


def systems_in(stream: tuple[tuple[int, str], ...], vocabulary: Vocabulary) -> list[tuple[int, str]]:
    """(offset, system) wherever a stream of words names something of a system."""
    words = tuple(word for _, word in stream)
    found, at = [], 0
    while at < len(words):
        length = longest(words, at, vocabulary.systems)
        if length and words[at + length:at + length + 1] not in {(word,) for word in vocabulary.named_for}:
            found.append((stream[at][0], vocabulary.systems[words[at:at + length]]))
        at += length or 1
    return found


def bare_oil(stream: tuple[tuple[int, str], ...], vocabulary: Vocabulary) -> Iterator[tuple[int, str]]:
    """(offset, "engine") wherever oil is said and no part's name before it: "did the oil", "the oil's black"."""
    for (_, before), (at, word) in pairwise(stream):
        if word == "oil" and before not in vocabulary.known - vocabulary.skip - vocabulary.links:
            yield at, "engine"


def read_context(reading: Reading, vocabulary: Vocabulary) -> Context:
    """The context of a note, from its text and the components of its facts."""
    stream = tuple(words_of(reading.note.text, vocabulary))
    words, systems = list(stream), systems_in(stream, vocabulary)
    mentions: list[tuple[int, Phrase]] = []
    for fact in reading.facts:
        if fact.component:
            kind: Kind = fact.kind
            phrase = read_phrase(fact.component, kind, vocabulary)
            at = fact.provenance.start
            mentions.append((at, phrase))
            words += [(at, word) for word in phrase.order]
            systems += systems_in(tuple((at, word) for word in phrase.order), vocabulary)
    if not {name for _, name in systems} & vocabulary.other_oils:
        systems += bare_oil(stream, vocabulary)
    return Context(reading.note.text, vocabulary, tuple(sorted(words)), tuple(sorted(systems)),
                   tuple(sorted(mentions, key=lambda mention: mention[0])), stream, reading.facts)


def near_stream(context: Context, fact: Fact) -> list[tuple[int, str]]:
    """The canonical words shortly before a fact and in it, offsets counted in the note's text."""
    end = fact.provenance.end
    start = max(0, end - NEAR)
    return [(start + at, word) for at, word in words_of(context.text[start:end], context.vocabulary)]


def says_tail(context: Context, fact: Fact, phrase: Phrase, spec: Phrase) -> bool:
    """Whether the words shortly before a fact have the end of the sheet's phrase, from the fact's first word on."""
    order = [word for word in spec.order if word not in spec.modifiers]
    shared = [at for at, word in enumerate(order) if word in phrase.core]
    if not shared or not phrase.core <= set(order):
        return False
    return says_in_order(context, fact, order[shared[0]:], spec.modifiers)


def says_in_order(context: Context, fact: Fact, name: list[str], aside: frozenset[str] = frozenset()) -> bool:
    """Whether the words shortly before a fact have a run of words, others of a set left aside."""
    words = [word for _, word in near_stream(context, fact) if word not in aside]
    return any(words[at:at + len(name)] == name for at in range(len(words) - len(name) + 1))


def qualifiers(context: Context, fact: Fact, phrase: Phrase) -> list[tuple[int, str, str]]:
    """(offset, word before, first word of the fact's part) wherever the part was said before the fact's end, latest
    first: what "cover" was called when it was last called by its whole name."""
    core = [word for word in phrase.order if word in phrase.core]
    end = fact.provenance.end
    found = []
    spots = context.spoken_at.get(core[0], [])
    first = bisect_left(spots, end - FAR_BACK, key=lambda place: context.spoken[place][0])
    for place in spots[first:bisect_left(spots, end, key=lambda place: context.spoken[place][0])]:
        (at, before), (here, word) = context.spoken[max(place - 1, 0)], context.spoken[place]
        if place and joined(context.text, at, here):
            found.append((at, before, word))
    mentions = context.mentions_of.get(core[0], [])
    first = bisect_left(mentions, end - FAR_BACK, key=lambda mention: mention[0])
    for at, mention in mentions[first:bisect_left(mentions, end, key=lambda mention: mention[0])]:
        if mention.order != phrase.order:
            found += [(at, before, word) for before, word in pairwise(mention.order) if word == core[0]]
    return sorted(found, reverse=True)


def joined(text: str, at: int, place: int) -> bool:
    """Whether nothing parts two words and the first is no plural: "pins bracket bolts" is no pin bracket."""
    between = text[at:place]
    return not re.search(r"[.,;:!?\n]", between) and not re.match(r"\w+s\b", between)


def called(context: Context, fact: Fact, phrase: Phrase, spec: Phrase) -> tuple[bool, str] | None:
    """What the note last called the fact's part: (True, word) by a word of the specification, (False, word) by one that
    makes it another part, None by neither.

    "timing cover bolts" is no "valve cover bolt", even where the fact kept only "cover bolt".  Only words that are
    known to stand before such a part, or that name another system, count: dictation has no commas.
    """
    vocabulary = context.vocabulary
    wanted = spec.words | (spec.by_name.words if spec.by_name else frozenset())
    system = system_of(spec.order, vocabulary)
    for _, before, word in qualifiers(context, fact, phrase):
        if before in phrase.words or before in vocabulary.skip or before in vocabulary.modifiers:
            continue
        if (before,) in vocabulary.positions:
            continue  # places are compared as places: "rear bush bolt" is a bush bolt
        if before in wanted:
            return True, before
        if set(vocabulary.synonyms.get((before, word), ("",))) <= wanted:
            return True, before  # a pad bracket is a caliper bracket
        other = vocabulary.systems.get((before,))
        if (before, word) in vocabulary.compounds or (other and other != system):
            return False, before
    return None
