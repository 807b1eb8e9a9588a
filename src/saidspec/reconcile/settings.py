"""What can be set (a pressure, a clearance): a value as it was found is no fault of the job that put it right."""

from __future__ import annotations

import re

from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.cues import cue
from saidspec.reconcile.phrase import read_phrase
from saidspec.reconcile.question import Question

BESIDE = 25  # characters before a figure in which what it is of may stand
SHORTLY = 200  # characters before a figure in which the right one may have been said
SETTABLE = frozenset({"pressure", "clearance", "play", "height", "toe", "speed"})


def was_before(on: Question) -> str | None:
    """A measure that is said to have been so before: "54 degrees, it was 31 before", "now 2.5 bar, it was only 2.1"."""
    where, text = on.fact.provenance, on.case.reading.note.text.lower()
    told = on.fact.kind == "measurement" and cue("was").search(text[max(0, where.start - 20):where.start])
    return "it was so before" if told and (
        cue("before").search(text[where.end:where.end + 30]) or right_already(on)) else None


def right_already(on: Question) -> bool:
    """Whether what can be set had its right value said shortly before."""
    case, spec, start = on.case, on.spec, on.fact.provenance.start
    quantity = read_phrase(spec.component, spec.kind, case.context.vocabulary).quantity
    earlier = [fact for fact in case.matched(spec) if start - SHORTLY <= fact.provenance.start < start]
    return quantity in SETTABLE and not spec.bound and any(
        (verdict := compare_numbers(fact, spec)) and verdict.agrees for fact in earlier)


def set_right(on: Question) -> str | None:
    """What can be set (a pressure, a clearance) was so before, and the note goes on to set it."""
    case, fact, spec = on.case, on.fact, on.spec
    quantity = read_phrase(spec.component, spec.kind, case.context.vocabulary).quantity
    if fact.kind != "measurement" or spec.bound or quantity not in SETTABLE:
        return None
    where, text = fact.provenance, case.reading.note.text.lower()
    before = re.split(r"[.!?\n]\s|\n", text[max(0, where.start - 60):where.start])[-1]
    return "it was so before it was put right" if cue("was").search(before) and cue("set-right").search(
        text[where.end:where.end + 220]) else None


def named_again(on: Question) -> bool:
    """Whether a later figure, of whatever part it was taken for, agrees and has this part or measure beside it:
    "slack now 35 mm"."""
    case, fact, spec = on.case, on.fact, on.spec
    said = re.findall(r"[a-z]+", f"{spec.component} {fact.role or ''}".lower())
    for later in case.said_after("measurement", fact):
        start = later.provenance.start
        verdict = compare_numbers(later, spec)
        beside = case.reading.note.text[max(0, start - BESIDE):start].lower()
        elsewhere = case.match(later).certainty == "sure" and case.match(later).spec is not spec
        if verdict and verdict.agrees and not elsewhere and any(word in beside for word in said):
            return True
    return False


def found_so(on: Question) -> str | None:
    """What can be set, as it was found: measured again later, or the part adjusted after it."""
    case, fact, spec = on.case, on.fact, on.spec
    quantity = read_phrase(spec.component, spec.kind, case.context.vocabulary).quantity
    if fact.kind != "measurement" or spec.bound or quantity not in SETTABLE:
        return None
    phrase = case.phrase(fact)
    if any(case.phrase(later).positions in (phrase.positions, frozenset()) for later in case.matched_after(spec, fact)):
        return "it was measured again later"
    if named_again(on):
        return "it was measured again later"
    for done in case.said_after("operation", fact):
        words = case.phrase(done).words
        if done.action in ("adjust", "replace") and (
                words & phrase.words or (not words and done.action == "adjust")):
            return "the part was adjusted or replaced after it"
    return None
