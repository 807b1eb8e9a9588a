"""Figures that are another part's: was the wrong figure used, or was the right one put with the wrong part?"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import CLAIMED, Case, in_speech
from saidspec.reconcile.causes import bare
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.named_parts import (
    LATELY,
    SHORT,
    called_here,
    clause_end,
    last_said,
    named_here,
    named_since,
    placed,
    said_since,
)
from saidspec.reconcile.phrase import Phrase, read_phrase, words_of
from saidspec.reconcile.question import Question
from saidspec.reconcile.spoken import said_as
from saidspec.reconcile.unsaid_units import fits, unit_said
from saidspec.reference.applicability import applies

BESIDE, NAME = 40, 3  # characters before a figure that a clause is looked for in, words that a name may have
BEHIND = 30  # characters behind a part's name in which its figure stands
LISTED = 40  # characters between two figures of one list


def others_nearer(on: Question) -> str | None:
    """Another part, whose figure it is, was spoken of since the fact's own part was."""
    case, fact, spec = on.case, on.fact, on.spec
    phrase, full = case.phrase(fact), read_phrase(spec.component, spec.kind, case.context.vocabulary)
    own = last_said(phrase, clause_end(case, fact), case.context)
    if own is None or fact.value is None:
        return None
    for other in rivals(case, spec):
        wanted = read_phrase(other.component, other.kind, case.context.vocabulary)
        place = last_said(wanted, fact.provenance.end, case.context)
        if wanted.core == phrase.core or not fits(fact, other, case.context.vocabulary) or called_here(
                case, fact, phrase.core - wanted.core, wanted.core - phrase.core):
            continue
        nearer = place is not None and (place > own or (place == own and wanted.core > phrase.core))
        if nearer or named_since(phrase.core | full.core, wanted.core, fact, case.context):
            return f"it is the figure of {other.component}, which was spoken of since"
    return None


def named_short(on: Question) -> str | None:
    """A neighbour's figure behind a name that both share: "plugs eighteen foot pounds" may be any plugs'."""
    case, fact, found = on.case, on.fact, on.found
    if not found or found[0].cause != "neighbour":
        return None
    phrase = case.phrase(fact)
    text = case.reading.note.text[max(0, fact.provenance.start - SHORT):fact.provenance.end]
    said = {word for _, word in words_of(re.split(r"[.!?]\s|\n", text)[-1], case.context.vocabulary)}
    for other in rivals(case, on.spec):
        wanted = read_phrase(other.component, other.kind, case.context.vocabulary)
        shared, own = wanted.core & phrase.core, phrase.core - wanted.core
        if other.component == found[0].detail and shared and own and shared & said and not own & said:
            return f"only the name that it shares with {other.component} was said"
    return None


def another_beside(on: Question) -> str | None:
    """All that the clause has before a figure is another part, be it in the sheet or not: "clamp nuts 6, hold-down 14".
    """
    case, fact, vocabulary = on.case, on.fact, on.case.context.vocabulary
    if fact.kind not in ("torque", "measurement"):
        return None
    start = fact.provenance.start
    clause = re.split(r"[.,;:!?\n]", case.reading.note.text[max(0, start - BESIDE):start])[-1]
    own = {word for phrase in (case.phrase(fact), read_phrase(on.spec.component, on.spec.kind, vocabulary))
           for one in (phrase, phrase.by_name) if one for word in one.order}
    words = [word for _, word in words_of(clause, vocabulary) if word not in vocabulary.skip | vocabulary.links]
    plain = own | vocabulary.bundle | vocabulary.modifiers | vocabulary.fasteners | vocabulary.number_words
    if not 0 < len(words) <= NAME or any(word in plain or word not in vocabulary.known for word in words):
        return None
    if any((word,) in vocabulary.positions or (word,) in vocabulary.quantities for word in words):
        return None
    return f"'{' '.join(words)}' stands before the figure"


def rivals(case: Case, spec: Specification) -> Iterator[Specification]:
    """The other specifications of the same kind that hold for the vehicle."""
    for other in case.sheet.specifications:
        if other is not spec and other.kind == spec.kind and applies(other, case.sheet.vehicle) is not False:
            yield other


def accounted_for(case: Case, spec: Specification, but: Fact) -> bool:
    """Whether another fact of the note is the figure of a specification."""
    return any(fact.id != but.id
               and ((fact.code and spec.code and bare(fact.code) == bare(spec.code))
                    or ((verdict := compare_numbers(fact, spec)) is not None and verdict.agrees))
               for fact in case.matched(spec, CLAIMED))


def unclaimed_neighbour(on: Question) -> str | None:
    """A neighbour's figure, where the note spoke of the neighbour before and has no other figure for it: it is
    likelier that the figure was put with the wrong part than that the wrong one was used."""
    case, fact, spec, found = on.case, on.fact, on.spec, on.found
    if not found or found[0].cause != "neighbour":
        return None
    for other in case.sheet.specifications:
        if other.kind != spec.kind or other.component != found[0].detail or accounted_for(case, other, fact):
            continue
        wanted = read_phrase(other.component, other.kind, case.context.vocabulary)
        if wanted.core == case.phrase(fact).core and placed(case, fact):
            continue
        own = case.phrase(fact).core
        if has_own(case, fact, other, wanted):
            continue
        if called_here(case, fact, own - wanted.core, wanted.core - own) and not said_since(
                case, wanted.core - own, fact.provenance.start - LATELY):
            continue
        spoken = [case.context.last(word, fact.provenance.start) for word in wanted.core]
        if all(place is not None for place in spoken):
            return f"it is the figure of {other.component}, which the note has no other figure for"
    return None


def has_own(case: Case, fact: Fact, other: Specification, wanted: Phrase) -> bool:
    """Whether a neighbour's figure is said once more, right behind the neighbour's own name, even where no fact came of
    it: "pinch bolt 38, track rod end was 38 as well"."""
    text, where = case.reading.note.text.lower(), fact.provenance
    for form in said_as(other.value) if other.value is not None else ():
        for found in re.finditer(rf"(?<![\w.]){re.escape(form)}(?![\w]|[.,]\d)", text):
            at = found.start()
            if where.start <= at < where.end or not in_speech(case, at):
                continue
            before = {word for _, word in words_of(text[max(0, at - BEHIND):at], case.context.vocabulary)}
            if wanted.head in before and len(wanted.core & before) >= min(2, len(wanted.core)):
                return True
    return False


def has_its_figure(on: Question) -> str | None:
    """A second figure behind a short name, where the part has its right figure already: "plugs thirteen foot pounds"
    after the drain plug's 25 may be any plugs'."""
    case, fact = on.case, on.fact
    right = any(other.provenance.start < fact.provenance.start and (verdict := compare_numbers(other, on.spec))
                and verdict.agrees for other in case.matched(on.spec))
    if fact.kind != "torque" or not right:
        return None
    return None if named_here(case, fact) else "the part has its figure already, and its whole name is not said here"


def another_measure(on: Question) -> str | None:
    """A figure without its unit that is the very number of a specification of another kind, of which the note has no
    other figure: "rears had fourteen pounds, now eighteen" is no torque where the sheet has 18 psi."""
    case, fact = on.case, on.fact
    if fact.value is None or unit_said(fact, case.context.vocabulary) or in_list(case, fact):
        return None
    for other in case.sheet.specifications:
        if other.kind != on.spec.kind and other.value == fact.value and other.value_high is None and not accounted_for(
                case, other, fact):
            return f"without its unit it may be the figure of {other.component}"
    return None


def in_list(case: Case, fact: Fact) -> bool:
    """Whether a figure goes on a list of measures of one kind of which another had the unit: "105 psi, 110, 85"."""
    start, told = fact.provenance.start, case.by_kind.get(fact.kind, [])
    at = bisect_left(told, start, key=lambda one: one.provenance.start)
    while at and start - told[at - 1].provenance.end <= LISTED and told[at - 1].unit == fact.unit:
        at, start = at - 1, told[at - 1].provenance.start
        if fact.kind == "measurement" and unit_said(told[at], case.context.vocabulary):
            return True
    return False
