"""`contradiction`: the note gives two values for one thing and does not say which one holds."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from saidspec.heard.restated import RESTATED, restated
from saidspec.model import Fact, Flag, Quantity
from saidspec.reconcile.case import Case, Outcome, said_of, told_fact
from saidspec.reconcile.causes import Difference, causes
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.context import system_of
from saidspec.reconcile.cues import cue
from saidspec.reconcile.difference import likely
from saidspec.reconcile.excuses import undone_at
from saidspec.reconcile.named_parts import named_here
from saidspec.reconcile.question import as_spec
from saidspec.reconcile.said_twice import said_twice

HEADS = frozenset({"plug", "union", "fitting", "nipple"})  # parts that are tightened themselves
HALF_SURE = 0.65  # confidence up to which a figure contradicts nothing
APART = 120  # characters from which a second figure is no longer part of the first one's list


def grave(case: Case, fact: Fact) -> bool:
    """Whether the part belongs to a system whose failure hurts people."""
    return system_of(case.phrase(fact).order, case.context.vocabulary) in case.context.vocabulary.danger


def contradiction(case: Case, first: Fact, second: Fact, words: str) -> Flag:
    """The flag on the second of two values."""
    difference = Difference(second, as_spec(first))
    cause, further, told = likely(causes(difference))
    name = second.component or first.component
    message = (f"{name or 'no part named'}: the note says {told_fact(first)} (\"{first.provenance.quote}\") and "
               f"{told_fact(second)} (\"{second.provenance.quote}\"){words}.{told}")
    quoted = Quantity(first.value, first.value_high, first.unit, first.code, "the note itself")
    return Flag("contradiction", "danger" if grave(case, second) else "wrong", message, name, second.kind, second.id,
                said_of(second), quoted, cause, further)


def in_two_units(case: Case) -> Iterator[Flag]:
    """One figure given in two units that do not come to the same."""
    for kind in RESTATED:
        for first, second in restated(case.reading.note.text, case.facts(kind)):
            verdict = compare_numbers(second, replace(as_spec(first), kind="measurement"))
            summed = kind == "volume" and cue("total").search(case.near_text(second, 20, 20))
            if verdict and not verdict.agrees and not summed:
                yield contradiction(case, first, second, f": in two units, but {verdict.deviation} apart")


def thing(case: Case, fact: Fact) -> Hashable | None:
    """What a torque is of, beyond doubt: the specification and the place, else the words of its component; None for a
    component that might be anything."""
    phrase, match = case.phrase(fact), case.match(fact)
    if match.certainty == "sure" and match.spec is not None:
        return match.spec.place, match.spec.component, phrase.positions
    fastened = bool(phrase.fasteners) or phrase.head in HEADS
    distinct = phrase.core - case.context.vocabulary.generic or len(phrase.core) > 1
    return (phrase.words, phrase.positions, phrase.size, phrase.bundle) if fastened and distinct else None


def by_thing(case: Case, facts: Iterable[Fact]) -> dict[Hashable, list[Fact]]:
    """The torques of each thing, in order."""
    found: dict[Hashable, list[Fact]] = {}
    for fact in facts:
        key = thing(case, fact)
        if key is not None and fact.value is not None and fact.unit:
            found.setdefault(key, []).append(fact)
    return found


def in_steps(case: Case, fact: Fact) -> bool:
    """Whether a torque is said to be one of several steps, or one at which something came undone."""
    return bool(cue("steps").search(case.sentence(fact))) or undone_at(case, fact)


def anothers(case: Case, fact: Fact) -> bool:
    """Whether a torque is the figure of a part of the sheet that it was not matched with: maybe only misplaced."""
    return any((verdict := compare_numbers(fact, spec)) and verdict.agrees for spec in case.holding("torque")
               if case.match(fact).spec is not spec)


def in_doubt(case: Case, fact: Fact) -> bool:
    """Whether a torque may not be what it seems: half sure, a step, of a part not named beside it, another part's."""
    return (fact.provenance.confidence <= HALF_SURE or in_steps(case, fact) or not named_here(case, fact)
            or anothers(case, fact))


def twice(case: Case) -> Iterator[Flag]:
    """A torque said twice of one fastener as done, far apart in the note and not in steps, with two values."""
    for facts in by_thing(case, case.facts("torque", ("stated",))).values():
        for first, second in pairwise(facts):
            close = second.provenance.start - first.provenance.end < APART
            if close or first.unit != second.unit or any(in_doubt(case, one) for one in (first, second)):
                continue  # who says a thing again says it in the same unit; another unit is another fastener's
            verdict = compare_numbers(second, as_spec(first))
            if verdict and not verdict.agrees:
                yield contradiction(case, first, second, "; it does not say which one holds")


def against_claims(case: Case) -> Iterator[Flag]:
    """A figure as done that is not the one the note itself quotes for the part, where the sheet has none for it."""
    quoted = by_thing(case, case.facts("torque", ("quoted",)))
    for key, facts in by_thing(case, case.facts("torque", ("stated",))).items():
        claims = quoted.get(key, [])
        if not claims or any(claim.value_high is not None for claim in claims):
            continue
        for done in facts:
            verdicts = [verdict for claim in claims if (verdict := compare_numbers(done, as_spec(claim)))]
            if case.match(done).certainty != "none" or done.provenance.confidence <= HALF_SURE or in_steps(case, done):
                continue
            if verdicts and not any(verdict.agrees for verdict in verdicts):
                yield contradiction(case, claims[0], done, f": what was done is {verdicts[0].deviation} off its claim")


def check_contradictions(case: Case) -> list[Outcome]:
    """`contradiction` on torques, volumes, measurements, fluids and designations."""
    again = [contradiction(case, first, second, "; it does not say which one holds")
             for first, second in said_twice(case)]
    return [*in_two_units(case), *twice(case), *against_claims(case), *again]
