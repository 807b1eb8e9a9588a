"""What a check is given: a note's facts, the sheet, what each fact was matched with, and what is known from before."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property

from saidspec.model import Agreement, Assertion, Fact, Flag, Kind, Quantity, Reading, Severity, Sheet, Specification
from saidspec.reconcile.candidates import Candidate
from saidspec.reconcile.context import Context, system_of
from saidspec.reconcile.matching import Match, named
from saidspec.reconcile.phrase import Phrase, read_phrase
from saidspec.reference.applicability import applies
from saidspec.reference.units import show

DONE: frozenset[Assertion] = frozenset({"stated"})
CLAIMED: frozenset[Assertion] = frozenset({"stated", "quoted"})
Outcome = Flag | Agreement
SOON = 3000  # characters behind a figure in which it may still be put right or taken back


@dataclass(frozen=True, slots=True)
class PastReading:
    """An odometer reading of an earlier note of the vehicle."""

    value: Decimal
    unit: str | None
    on: date | None
    source: str


@dataclass(frozen=True, slots=True)
class PastJob:
    """When a part or fluid was last seen to, by an earlier note."""

    component: str
    on: date | None
    odometer: Decimal | None
    unit: str | None
    source: str


@dataclass(frozen=True, slots=True)
class History:
    """What the record knows of a vehicle from before a note."""

    readings: tuple[PastReading, ...] = ()
    jobs: tuple[PastJob, ...] = ()
    stock: tuple[tuple[str, Decimal], ...] = ()  # fluid -> litres on the shelf before the note


@dataclass(frozen=True)
class Case:
    """One note against one sheet."""

    reading: Reading
    sheet: Sheet
    context: Context
    matches: dict[int, Match] = field(default_factory=dict)
    history: History = History()

    def facts(self, kind: Kind, assertions: Iterable[Assertion] = CLAIMED) -> list[Fact]:
        """The facts of a kind with one of the assertions, in the order they were said."""
        wanted = set(assertions)
        return [fact for fact in self.by_kind.get(kind, ()) if fact.assertion in wanted]

    @cached_property
    def by_kind(self) -> dict[Kind, list[Fact]]:
        """The facts of each kind in the order they were said."""
        found: dict[Kind, list[Fact]] = {}
        for fact in sorted(self.reading.facts, key=lambda one: one.provenance.start):
            found.setdefault(fact.kind, []).append(fact)
        return found

    @cached_property
    def by_spec(self) -> dict[int, list[Fact]]:
        """The facts of which a specification is the likeliest match, in the order they were said, by its id()."""
        found: dict[int, list[Fact]] = {}
        for fact in sorted(self.reading.facts, key=lambda one: one.provenance.start):
            spec = self.match(fact).spec
            if spec is not None:
                found.setdefault(id(spec), []).append(fact)
        return found

    def matched(self, spec: Specification, assertions: Iterable[Assertion] = DONE) -> list[Fact]:
        """The facts of which a specification is the likeliest match, with one of the assertions."""
        wanted = set(assertions)
        return [fact for fact in self.by_spec.get(id(spec), ()) if fact.assertion in wanted]

    def matched_after(self, spec: Specification, fact: Fact) -> list[Fact]:
        """The stated facts matched with a specification that were said soon after a fact, in order."""
        return [later for later in soon_after(self.by_spec.get(id(spec), []), fact) if later.assertion in DONE]

    def said_after(self, kind: Kind, fact: Fact) -> list[Fact]:
        """The stated facts of a kind that were said soon after a fact, in order."""
        return [later for later in soon_after(self.by_kind.get(kind, []), fact) if later.assertion in DONE]

    def phrase(self, fact: Fact) -> Phrase:
        """The component of a fact, taken apart."""
        return read_phrase(fact.component, fact.kind, self.context.vocabulary)

    def match(self, fact: Fact) -> Match:
        """What a fact was matched with."""
        return self.matches.get(fact.id) or Match(fact, "none")

    def near_text(self, fact: Fact, before: int = 60, after: int = 40) -> str:
        """The words around a fact, in lower case."""
        where = fact.provenance
        return self.reading.note.text[max(0, where.start - before):where.end + after].lower()

    def around(self, fact: Fact) -> tuple[str, str]:
        """The words before and behind a fact as far as its line or sentence goes, in lower case."""
        where, text = fact.provenance, self.reading.note.text
        before = re.split(r"[.!?]\s|\n", text[max(0, where.start - 60):where.start])[-1]
        return before.lower(), re.split(r"[.!?]\s|\n", text[where.end:where.end + 40])[0].lower()

    def sentence(self, fact: Fact) -> str:
        """The words around a fact as far as its line or sentence goes, its own with them, in lower case."""
        before, after = self.around(fact)
        return before + self.reading.note.text[fact.provenance.start:fact.provenance.end].lower() + after

    def system(self, spec: Specification) -> str | None:
        """The system of a specification's component."""
        return system_of(read_phrase(spec.component, spec.kind, self.context.vocabulary).order,
                         self.context.vocabulary)

    def dangerous(self, spec: Specification) -> bool:
        """Whether the part belongs to a system whose failure hurts people."""
        return self.system(spec) in self.context.vocabulary.danger

    def holding(self, kind: Kind) -> list[Specification]:
        """The specifications of a kind that hold, or may hold, for the vehicle."""
        return [spec for spec in self.sheet.specifications
                if spec.kind == kind and applies(spec, self.sheet.vehicle) is not False]


def in_speech(case: Case, at: int) -> bool:
    """Whether an offset is within what was said, and not in a caption's number or time or a message's stamp."""
    spans = case.reading.note.utterances
    place = bisect_right(spans, at, key=lambda one: one.start)
    return not spans or (place > 0 and at < spans[place - 1].end)


def soon_after(facts: list[Fact], fact: Fact) -> list[Fact]:
    """Of facts in order, those that begin after a fact and not too far behind it."""
    start = fact.provenance.start
    first = bisect_right(facts, start, key=lambda one: one.provenance.start)
    return facts[first:bisect_right(facts, start + SOON, key=lambda one: one.provenance.start)]


def said_of(fact: Fact) -> Quantity:
    """The said side of a flag."""
    return Quantity(fact.value, fact.value_high, fact.unit, fact.code)


def reference_of(spec: Specification) -> Quantity:
    """The reference side of a flag."""
    return Quantity(spec.value, spec.value_high, spec.unit, spec.code, spec.source)


def told_fact(fact: Fact, unit: str | None = None) -> str:
    """A fact's value for a sentence, in both units."""
    if fact.value is None:
        return fact.code or (f"{fact.angle}°" if fact.angle is not None else "nothing")
    turn = f" + {fact.angle.normalize():f}°" if fact.angle is not None else ""
    return show(fact.value, fact.unit or unit, fact.value_high) + turn


def told_spec(spec: Specification) -> str:
    """A specification's value for a sentence, in both units."""
    if spec.value is None:
        return spec.code or "nothing"
    bound = {"min": "at least ", "max": "at most "}.get(spec.bound or "", "")
    turn = f" + {spec.angle.normalize():f}°" if spec.angle is not None else ""
    return bound + show(spec.value, spec.unit, spec.value_high) + turn


def agreement(case: Case, fact: Fact, spec: Specification, tolerance: str, why: str) -> Agreement:
    """A fact that agrees with a specification."""
    words = f"{why}; tolerance {tolerance}" if tolerance else why
    return Agreement(named(fact, spec, case.context), fact.kind, fact.id,
                     f"{spec.component}: {told_spec(spec)} ({spec.source})", words, said_of(fact))


def severity(case: Case, spec: Specification, otherwise: Severity = "wrong") -> Severity:
    """`danger` where the part can hurt people, else what is given."""
    return "danger" if case.dangerous(spec) else otherwise


__all__ = [
    "CLAIMED", "DONE", "Candidate", "Case", "History", "Outcome", "PastJob", "PastReading", "agreement",
    "reference_of", "said_of", "severity", "told_fact", "told_spec",
]  # fmt: skip
