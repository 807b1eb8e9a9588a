"""Figures whose unit was not said: the reading took it from the context, and so it may be another one."""

from __future__ import annotations

import re

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import Case
from saidspec.reconcile.causes import CONFUSED
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.phrase import words_of
from saidspec.reconcile.question import Question
from saidspec.reconcile.vocabulary import Vocabulary
from saidspec.reference.units import dimension

FOLLOWS = 35  # characters after a figure in which its unit may still be said


def unit_said(fact: Fact, vocabulary: Vocabulary) -> bool:
    """Whether the words of a fact have its unit: letters that are no number's."""
    words = re.findall(r"[a-zA-Z°%Ωµ]+", fact.provenance.quote.lower())
    return any(word not in vocabulary.number_words for word in words)


def unit_follows(case: Case, fact: Fact) -> bool:
    """Whether the unit of a fact is said a few words after it: "15 again, that was foot pounds"."""
    text, end = case.reading.note.text, fact.provenance.end
    words = [word for _, word in words_of(text[end:end + FOLLOWS], case.context.vocabulary)]
    forms = case.context.vocabulary.units.get(fact.unit or "", frozenset())
    return any(tuple(words[at:at + len(form)]) == form for form in forms for at in range(len(words)))


def fits(fact: Fact, spec: Specification, vocabulary: Vocabulary) -> bool:
    """Whether a number agrees with another specification, in its own unit or, where none was said with it, in any."""
    units = [fact.unit]
    if fact.unit and not unit_said(fact, vocabulary):
        units += [unit for unit in CONFUSED.get(dimension(fact.unit) or "", ()) if unit != fact.unit]
    return any((verdict := compare_numbers(fact, spec, unit)) is not None and verdict.agrees for unit in units)


def unit_unsaid(on: Question) -> str | None:
    """A figure whose unit was not said and that fits in another one: any for a measurement, for a torque or volume one
    that the note uses elsewhere ("13 foot pounds … 70 inch pounds, and the bolt got the 13")."""
    case, fact, found = on.case, on.fact, on.found
    if not found or found[0].cause != "unit" or unit_said(fact, case.context.vocabulary) or unit_follows(case, fact):
        return None
    used = {other.unit for other in case.reading.facts if other.kind == fact.kind and other.assertion != "retracted"
            and other.id != fact.id and unit_said(other, case.context.vocabulary)}
    if fact.kind != "measurement" and found[0].detail not in used:
        return None
    return "its unit was not said, and it fits in another"
