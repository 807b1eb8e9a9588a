"""Reasons to doubt a figure that lie in what the note goes on to say: taken back, swapped, put right, or doubted there.

Dictation does not always say "correction": the right number alone may follow ("fat thumbs, 14"), or another voice asks
("41?").  What the corrections of the reading did not catch is at least not called wrong.
"""

from __future__ import annotations

import re
from decimal import Decimal

from saidspec.model import Fact
from saidspec.reconcile.case import Case, in_speech
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.cues import cue
from saidspec.reconcile.phrase import conflicting, words_of
from saidspec.reconcile.question import Question
from saidspec.reconcile.spoken import said_as
from saidspec.reference.units import convert, convertible

NEXT = 110  # characters after a figure in which the right one alone, or a question, puts it in doubt
LATER = 3000  # characters after a figure in which it may still be taken back


def later_words(case: Case, fact: Fact) -> str:
    """What the note says in the minutes after a fact, in lower case."""
    end = fact.provenance.end
    return case.reading.note.text[end:end + LATER].lower()


def turned_round(on: Question) -> str | None:
    """A neighbour's figure in a note that says that it had two things the wrong way round."""
    case, fact, spec, found = on.case, on.fact, on.spec, on.found
    neighbour = any(named.cause == "neighbour" for named in found)
    later = later_words(case, fact)
    told = neighbour and cue("turned-round").search(later)
    return "the note says that it had two the wrong way round" if told and spec else None


def put_right_later(on: Question) -> str | None:
    """A torque whose part was later brought to the specification: a step, a slip of the tongue, or done again."""
    case, fact, spec = on.case, on.fact, on.spec
    if fact.kind != "torque":
        return None
    phrase = case.phrase(fact)
    for later in case.matched_after(spec, fact):
        if case.match(later).certainty != "sure":
            continue
        verdict = compare_numbers(later, spec)
        places = case.phrase(later).positions
        everywhere = places <= phrase.positions or ("side", "both sides") in places
        if verdict and verdict.agrees and everywhere:
            return "the part was brought to the specification later in the note"
    return None


def taken_back(on: Question) -> str | None:
    """The note later takes something back and names the part again: "I tell a lie. The union was 14"."""
    case, fact = on.case, on.fact
    head = case.phrase(fact).head
    text = later_words(case, fact)
    for found in cue("taken-back").finditer(text):
        after = words_of(text[found.end():found.end() + 60], case.context.vocabulary)
        if head is not None and any(word == head for _, word in after):
            return "the note takes something back and names the part again"
    return None


def right_number_next(on: Question) -> str | None:
    """The sheet's own number follows at once and is no other part's: "pipe nut 41 - fat thumbs, 14"."""
    case, fact, spec = on.case, on.fact, on.spec
    if spec.value is None or spec.value_high is not None or spec.bound or fact.value is None:
        return None
    start = fact.provenance.end
    text = case.reading.note.text[start:start + NEXT].lower()
    wanted = [spec.value]
    if fact.unit and spec.unit and fact.unit != spec.unit and convertible(fact.unit, spec.unit):
        wanted = [convert(spec.value, spec.unit, fact.unit).quantize(Decimal(1))]  # as it would be said in that unit
    for form in (form for value in wanted for form in said_as(value)):
        for found in re.finditer(rf"(?<![\w.]){re.escape(form)}(?![\w]|[.,]\d)", text):
            at = start + found.start()
            if in_speech(case, at) and not told_of_another(case, fact, at):
                return "the sheet's own number follows at once"
    return None


def first_step(on: Question) -> str | None:
    """A torque below the sheet's that is said to be a first step: "first to 60 while turning the wheel"."""
    case, fact, spec = on.case, on.fact, on.spec
    if fact.kind != "torque" or fact.value is None or spec.value is None or not fact.unit or not spec.unit:
        return None
    where, text = fact.provenance, case.reading.note.text.lower()
    low = convert(fact.value, fact.unit, spec.unit) < spec.value
    before, after = text[max(0, where.start - 30):where.start], text[where.end:where.end + 20]
    told = cue("first-step").search(before) or cue("first-step-after").search(after)
    return "it is said to be a first step" if low and told else None


def told_of_another(case: Case, fact: Fact, at: int) -> bool:
    """Whether the number at an offset is the figure of another fact, of another kind or another part of the sheet."""
    phrase = case.phrase(fact)
    for other in case.reading.facts:
        if not other.provenance.start <= at < other.provenance.end:
            continue
        same = case.phrase(other).core == phrase.core and not conflicting(case.phrase(other), phrase)
        if other.kind != fact.kind or (not same and case.match(other).certainty != "none"):
            return True
    return False


def asked_again(on: Question) -> str | None:
    """Somebody asks about the figure as soon as it is said: "41?? You'd strip it"."""
    case, fact = on.case, on.fact
    if fact.value is None:
        return None
    text = later_words(case, fact)[:NEXT]
    asked = any(re.search(rf"(?<![\w.]){re.escape(form)}\s?\?", text) for form in said_as(fact.value))
    return "the figure is asked about at once" if asked else None
