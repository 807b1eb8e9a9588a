"""Figures that are somebody else's vehicle's, or of one that the note came to later."""

from __future__ import annotations

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import Case
from saidspec.reconcile.cues import cue
from saidspec.reconcile.phrase import read_phrase
from saidspec.reconcile.question import Question

MOVED_ON = 200  # characters behind a figure in which another one of the same part may be another vehicle's


def another_vehicle(on: Question) -> str | None:
    """The sentence is about somebody else's: "the other tractor, it's 40 on the pump", "22 in hers"; or another vehicle
    was named since the part got its figure: "front tyres 2.3 bar, the trailer's tyres 3 bar"."""
    return "it may be another vehicle's" if somebody_elses(on) or moved_on(on) else None


def somebody_elses(on: Question) -> bool:
    """Whether another's vehicle is named before a figure in its sentence, or behind it and tied to it: not in "bolts at
    120 foot pounds, my neighbour's estate has 140 on those"."""
    before, after = on.case.around(on.fact)
    behind = cue("another-vehicle").search(after)
    return bool(cue("another-vehicle").search(before)
                or (behind and cue("belongs-before").search(after[:behind.start()])))


def of_same(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a fact may be of a specification, by what it was matched with or by its words alone."""
    words = case.phrase(fact).words
    wanted = read_phrase(spec.component, spec.kind, case.context.vocabulary).words
    return any(one.spec is spec for one in case.match(fact).candidates) or (bool(words) and words <= wanted)


def moved_on(on: Question) -> bool:
    """Whether a vehicle that is not the sheet's was named, for the first time, since the part was given a figure."""
    case, fact, about = on.case, on.fact, on.case.sheet.vehicle
    text, start = case.reading.note.text.lower(), fact.provenance.start
    before = [other.provenance.end for other in case.by_kind.get(fact.kind, ())
              if start - MOVED_ON < other.provenance.end <= start and other.assertion != "retracted"
              and of_same(case, other, on.spec)]
    own = " ".join((about.name, *about.options)).lower()
    known = text[:before[-1]] if before else ""
    return bool(before) and any(
        (noun := found[0].split()[-1]) not in own and noun not in known
        for found in cue("a-vehicle").finditer(text, before[-1], start))
