"""Measures, fluids and designations given twice for one thing, with two values and not a word on which of them holds.

Who measures twice says so: before and after, inner and outer, at the worst spot.  Only where nothing of the kind is
said, and the whole name with its place is said anew for the second value, are the two taken for one thing.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from itertools import pairwise

from saidspec.model import Fact, Kind
from saidspec.reconcile.case import Case
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.conditions import CHANGES
from saidspec.reconcile.context import system_of
from saidspec.reconcile.cues import cue
from saidspec.reconcile.designations import compare_designations
from saidspec.reconcile.fluids import agrees
from saidspec.reconcile.phrase import words_of
from saidspec.reconcile.question import as_spec

KINDS: tuple[Kind, ...] = ("measurement", "fluid", "size")
SIDED = frozenset({"brakes", "tyres", "wheels", "hubs", "suspension", "fork"})  # systems that have a part on each side
SEVERAL = frozenset({"pad", "shoe", "tread", "lining", "valve", "plug", "cylinder", "injector", "cell", "bearing"})
# What is done to a part, or to a fluid, without another value coming of it.
LEAVES: dict[Kind, frozenset[str]] = {
    "measurement": frozenset({"fill", "measure", "inspect", "test"}), "size": frozenset({"measure", "inspect"}),
    "fluid": frozenset({"fill", "install", "measure", "inspect", "test", "tighten"}),
}
SURE = 0.7  # confidence that both values must reach
FAR = 1500  # characters behind a value in which another one contradicts it


def thing(case: Case, fact: Fact) -> Hashable | None:
    """What a value is of, where it can be one thing alone: the words, the place and what is measured; else None."""
    phrase, vocabulary = case.phrase(fact), case.context.vocabulary
    if not phrase.words - vocabulary.generic or fact.provenance.confidence < SURE or fact.value_high is not None:
        return None
    if fact.kind == "fluid":
        return (phrase.words, phrase.positions) if fact.code else None
    if phrase.words & SEVERAL or (fact.kind == "size" and not fact.code):
        return None
    if system_of(phrase.order, vocabulary) in SIDED and not phrase.along("side"):
        return None
    measured = fact.value is not None and fact.unit and (fact.role or phrase.quantity)
    if fact.kind == "measurement" and not measured:
        return None
    return phrase.words, phrase.positions, fact.role or phrase.quantity, fact.unit


def named_anew(case: Case, first: Fact, second: Fact) -> bool:
    """Whether the part is named again, with its place, between two values."""
    text = case.reading.note.text[first.provenance.end:second.provenance.end]
    said = {word for _, word in words_of(text, case.context.vocabulary)}
    phrase = case.phrase(second)
    known = case.context.vocabulary.positions
    places = {known[word,] for word in said if (word,) in known}
    return phrase.core <= said and phrase.positions <= places


def reconciled(case: Case, first: Fact, second: Fact) -> bool:
    """Whether a word around two values, or work between them, may be the reason that they are two."""
    text, start, end = case.reading.note.text.lower(), first.provenance.start, second.provenance.end
    words = [*case.around(first), *case.around(second), text[first.provenance.end:min(end, first.provenance.end + FAR)]]
    worked = any(start < done.provenance.start < end and done.action not in LEAVES[first.kind]
                 for done in case.said_after("operation", first))
    return worked or any(cue(told).search(some) for some in words for told in ("not-again", *CHANGES))


def unlike(first: Fact, second: Fact) -> bool:
    """Whether two values of one thing do not agree."""
    if first.kind == "fluid":
        return agrees(second.code or "", first.code or "") is False
    verdict = (compare_designations if first.kind == "size" else compare_numbers)(second, as_spec(first))
    return verdict is not None and not verdict.agrees


def said_twice(case: Case) -> Iterator[tuple[Fact, Fact]]:
    """The pairs of values of one thing, said one after the other, that do not agree and that nothing reconciles."""
    for kind in KINDS:
        found: dict[Hashable, list[Fact]] = {}
        for fact in case.facts(kind, ("stated",)):
            key = thing(case, fact)
            if key is not None:
                found.setdefault(key, []).append(fact)
        for facts in found.values():
            for first, second in pairwise(facts):
                near = second.provenance.start - first.provenance.end <= FAR
                if near and unlike(first, second) and named_anew(case, first, second) and not reconciled(
                        case, first, second):
                    yield first, second
