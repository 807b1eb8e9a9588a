"""Which specification a fact speaks of, how certain that is, and why.

Candidates come in bands, the closest first: the same words; the same but for the noun of the fastener; a phrase that
says less than the sheet ("drain plug" for "engine oil drain plug"), which counts only where the note supplies the rest;
a phrase that says more.  What several candidates share is decided by what the note was talking about; where that does
not decide, the match is `contested` and nothing is called wrong on its strength.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from saidspec.model import Fact, Sheet, Specification
from saidspec.reconcile.candidates import Candidate, candidates_of, named_before, of_one_measure
from saidspec.reconcile.comparable import by_measure
from saidspec.reconcile.context import Context, system_of
from saidspec.reconcile.phrase import Phrase, read_phrase

Certainty = Literal["sure", "unsure", "contested", "none"]


@dataclass(frozen=True, slots=True)
class Match:
    """The specifications that a fact may speak of, the likeliest first, how certain, and why in words."""

    fact: Fact
    certainty: Certainty
    candidates: tuple[Candidate, ...] = ()
    why: str = "nothing in the sheet has this part"

    @property
    def spec(self) -> Specification | None:
        """The likeliest specification."""
        return self.candidates[0].spec if self.candidates else None


def said_sizes(fact: Fact, context: Context) -> set[str]:
    """Sizes said in the words of a fact or between it and the quantity before: "the sixteens are fifty-five"."""
    start, end = fact.provenance.start, fact.provenance.end
    before = [other.provenance.end for other in context.facts
              if other.kind == fact.kind and other.provenance.end <= start]
    text = context.text[max([0, start - 60, *before]):end].lower()
    words = re.findall(r"[a-z]*\d+|[a-z-]+", text)
    sizes = context.vocabulary.sizes
    spoken = {sizes[form] for word in words for form in (word, word.removesuffix("s"), word.removesuffix("es"))
              if form in sizes}
    return spoken | {word.upper() for word in words if word[-1].isdigit()}


def narrow(found: list[Candidate], keep: Callable[[Candidate], bool]) -> list[Candidate]:
    """The candidates that pass, or all where none does."""
    return [candidate for candidate in found if keep(candidate)] or found


def last_mention(candidate: Candidate, fact: Fact, context: Context) -> int:
    """Where the least recent of the words was said that tell a candidate from the fact's own words; -1 for never."""
    places = [context.last(word, fact.provenance.end) for word in candidate.missing]
    return min((place if place is not None else -1 for place in places), default=-1)


def match(fact: Fact, sheet: Sheet, context: Context) -> Match:
    """The specification that a fact speaks of, or all that it may, with the certainty and the reason."""
    phrase = read_phrase(fact.component, fact.kind, context.vocabulary)
    phrases = by_measure(fact, phrase, context) if not phrase.words and fact.kind == "measurement" else [phrase]
    if not any(one.words for one in phrases):
        return Match(fact, "none", why="the note names no part")
    tried = ((one, candidates_of(fact, one, sheet, context)) for one in phrases if one.words)
    phrase, found = next(((one, found) for one, found in tried if found), (phrases[0], []))
    found = found or named_before(fact, sheet, context) or of_one_measure(fact, phrase, sheet, context)
    if not found:
        return Match(fact, "none")
    best = min(candidate.band for candidate in found)
    found = [candidate for candidate in found if candidate.band == best]
    found = narrow(found, lambda candidate: candidate.supported)
    return decide(fact, phrase, found, sheet, context)


def decide(fact: Fact, phrase: Phrase, found: list[Candidate], sheet: Sheet, context: Context) -> Match:
    """Choose among the candidates of one band."""
    sizes = {phrase.size} if phrase.size else said_sizes(fact, context) if len(found) > 1 else set()
    found = [one for one in found if not (phrase.size and one.phrase.size and one.phrase.size != phrase.size)] or found
    found = narrow(found, lambda one: one.phrase.size is not None and one.phrase.size in sizes)
    fewest = min(len(one.phrase.modifiers ^ phrase.modifiers) for one in found)
    found = narrow(found, lambda one: len(one.phrase.modifiers ^ phrase.modifiers) == fewest)
    found = narrow(found, lambda one: bool(one.phrase.inner & phrase.positions))
    found = narrow(found, lambda one: not one.unsaid and bool(one.phrase.positions))
    found = narrow(found, lambda one: bool(one.unsaid) and fact.kind == "torque" and same_number(fact, one.spec))
    nearest = place_said(found, fact, context)
    found = narrow(found, lambda one: all(nearest.get(axis) == name for axis, name in one.unsaid))
    components = {(one.phrase.words, one.phrase.positions, one.phrase.inner, one.phrase.size) for one in found}
    if len(found) == 1:
        return Match(fact, "sure" if certain(found[0], fact, sheet, context) else "unsure", tuple(found), found[0].why)
    if len(components) == 1:
        return Match(fact, "contested", tuple(found), f"{len(found)} entries of the sheet are of this part")
    ordered = sorted(found, key=lambda one: last_mention(one, fact, context), reverse=True)
    names = ", ".join(one.spec.component for one in ordered)
    return Match(fact, "contested", tuple(ordered), f"{len(found)} entries fit: {names}")


def same_number(fact: Fact, spec: Specification) -> bool:
    """Whether a fact has the very number of a specification in another unit: likelier a slip of the unit than the part
    at another place, which the fact does not name."""
    return fact.value is not None and fact.value == spec.value and None is not fact.unit != spec.unit


def place_said(found: list[Candidate], fact: Fact, context: Context) -> dict[str, str | None]:
    """For each axis on which the sheet tells places apart and the fact does not: the place said last before it."""
    axes = {axis for candidate in found for axis, _ in candidate.unsaid}
    return {axis: context.position(axis, fact.provenance.end) for axis in axes}


def only_there(candidate: Candidate, axis: str, sheet: Sheet, context: Context) -> bool:
    """Whether the sheet has other parts of the same system at the other place and no such part: drums at the rear."""
    phrases = [read_phrase(spec.component, spec.kind, context.vocabulary) for spec in sheet.specifications]
    there = candidate.phrase.along(axis)
    elsewhere = [phrase for phrase in phrases if phrase.along(axis) and not phrase.along(axis) & there]
    system = system_of(candidate.phrase.order, context.vocabulary)
    alike = [phrase for phrase in elsewhere if system_of(phrase.order, context.vocabulary) == system]
    return bool(alike) and not any(phrase.core & candidate.phrase.core for phrase in alike)


def nowhere_else(candidate: Candidate, axis: str, name: str, sheet: Sheet, context: Context) -> bool:
    """Whether the sheet is of one place alone, and the note puts no such part at another."""
    phrases = (read_phrase(spec.component, spec.kind, context.vocabulary) for spec in sheet.specifications)
    if any(phrase.along(axis) - {name} for phrase in phrases):
        return False
    head = candidate.phrase.head or ""
    if any(said.along(axis) - {name} for _, said in context.mentions_of.get(head, ())):
        return False
    before = [context.spoken[place - 1][1] for place in context.spoken_at.get(head, ()) if place]
    places = {context.vocabulary.positions.get((word,), ("", ""))for word in before}
    return not any(on == axis and place != name for on, place in places)


def certain(candidate: Candidate, fact: Fact, sheet: Sheet, context: Context) -> bool:
    """Whether a single candidate is certain enough that a difference may be called one."""
    if not candidate.supported or candidate.open_option or candidate.band >= 5:
        return False
    for axis, name in candidate.unsaid:
        said = context.positions_said(axis) - {"middle"}
        if only_there(candidate, axis, sheet, context) or nowhere_else(candidate, axis, name, sheet, context):
            continue
        if said and name not in said:
            return False  # the note speaks of another place
        if len(said) > 1 and context.position(axis, fact.provenance.end) != name:
            return False
    # a spanner on something near the fastener is no wrong size of it
    return fact.kind != "size" or candidate.band in (0, 2)


def explain(found: Match) -> str:
    """One line on a match: the fact's component, the candidates in order, and why."""
    said = found.fact.component or "(no part)"
    if not found.candidates:
        return f"{said}: {found.why}"
    listed = "; ".join(f"{one.spec.component} [{one.spec.place}: {one.why}]" for one in found.candidates)
    return f"{said}: {found.certainty}: {found.why}; candidates: {listed}"


def named(fact: Fact, spec: Specification, context: Context) -> str:
    """The sheet's name of the part, with the places that only the fact has."""
    said, wanted = (read_phrase(text, fact.kind, context.vocabulary) for text in (fact.component, spec.component))
    axes = {axis for axis, _ in wanted.positions}
    extra = sorted(name for axis, name in said.positions if axis not in axes and axis != "order")
    numbers = sorted(name for axis, name in said.positions if axis == "order" and axis not in axes)
    return " ".join([*extra, spec.component, *numbers])
