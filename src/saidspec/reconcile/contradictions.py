"""`contradiction`: the note gives two values for one thing and does not say which one holds."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise

from saidspec.model import Fact, Flag, Kind, Quantity, Specification
from saidspec.reconcile.case import Case, Outcome, said_of, told_fact
from saidspec.reconcile.causes import Difference, causes
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.context import system_of
from saidspec.reconcile.values import UNDOING, likely
from saidspec.reference.units import convertible

RESTATING = re.compile(
    r"^[\s,;:–—-]*(?:so|or|that'?s|that is|which is|equals|i\.?e\.?|in other words|makes|comes to|\(|=)[\s,]*"
    r"(?:about |roughly |around )?$")
RESTATED: tuple[Kind, ...] = ("torque", "volume", "measurement")
HEADS = frozenset({"plug", "union", "fitting", "nipple"})  # parts that are tightened themselves
STEPS = re.compile(r"\b(steps?|stages?|rounds?|passes|first|then|finally|final|again|another|snug|started|going)\b")
RESTATED_WITHIN = 40  # characters between two units of one figure
APART = 120  # characters from which a second figure is no longer part of the first one's list


def as_spec(fact: Fact) -> Specification:
    """A fact as if it were a specification, to hold another one against it."""
    return Specification(fact.component or "", fact.kind, "the note itself", fact.value, fact.value_high, fact.unit,
                         fact.code, fact.angle)


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


def restated(case: Case) -> Iterator[Flag]:
    """One figure given in two units that do not come to the same."""
    for kind in RESTATED:
        facts = [fact for fact in case.facts(kind) if fact.value is not None and fact.unit]
        for first, second in pairwise(facts):
            between = case.reading.note.text[first.provenance.end:second.provenance.start].lower()
            if first.unit == second.unit or not convertible(first.unit, second.unit) or len(between) > RESTATED_WITHIN:
                continue
            if not RESTATING.search(between) or first.role != second.role or first.component != second.component:
                continue
            verdict = compare_numbers(second, replace(as_spec(first), kind="measurement"))
            if verdict and not verdict.agrees:
                yield contradiction(case, first, second, f": in two units, but {verdict.deviation} apart")


def same_thing(case: Case, first: Fact, second: Fact) -> bool:
    """Whether two facts speak of one fastener or fluid beyond doubt: the same words, more than a fastener's noun, and
    no place or size that only one of them has."""
    one, other = case.phrase(first), case.phrase(second)
    matched = case.match(first), case.match(second)
    if all(found.certainty == "sure" for found in matched) and matched[0].spec is matched[1].spec:
        return one.positions == other.positions
    fastened = bool(one.fasteners) or one.head in HEADS
    return (one.words == other.words and bool(one.core) and fastened and one.positions == other.positions
            and one.size == other.size
            and one.bundle == other.bundle and bool(one.core - case.context.vocabulary.generic or len(one.core) > 1))


def twice(case: Case) -> Iterator[Flag]:
    """A torque said twice of one fastener as done, far apart in the note and not in steps, with two values."""
    facts = [fact for fact in case.facts("torque", ("stated",)) if fact.value is not None and fact.unit]
    for first, second in combinations(facts, 2):
        if not same_thing(case, first, second) or second.provenance.start - first.provenance.end < APART:
            continue
        if any(STEPS.search(case.sentence(fact)) or UNDOING.search(case.near_text(fact, 30, 15))
               for fact in (first, second)):
            continue
        between = [fact for fact in facts if fact not in (first, second) and same_thing(case, first, fact)]
        verdict = compare_numbers(second, as_spec(first))
        if verdict and not verdict.agrees and not between:
            yield contradiction(case, first, second, "; it does not say which one holds")


def against_claims(case: Case) -> Iterator[Flag]:
    """A figure as done that is not the one the note itself quotes for the part, where the sheet has none for it."""
    quoted = [fact for fact in case.facts("torque", ("quoted",)) if fact.value is not None]
    for done in case.facts("torque", ("stated",)):
        if case.match(done).certainty != "none" or done.value is None:
            continue
        claims = [claim for claim in quoted if same_thing(case, claim, done)]
        verdicts = [verdict for claim in claims if (verdict := compare_numbers(done, as_spec(claim)))]
        steps = STEPS.search(case.sentence(done)) or UNDOING.search(case.near_text(done, 30, 15))
        if done.provenance.confidence <= 0.65 or any(claim.value_high is not None for claim in claims):
            continue
        if claims and verdicts and not any(verdict.agrees for verdict in verdicts) and not steps:
            yield contradiction(case, claims[0], done, f": what was done is {verdicts[0].deviation} off its claim")


def check_contradictions(case: Case) -> list[Outcome]:
    """`contradiction` on torques, volumes and measurements."""
    return [*restated(case), *twice(case), *against_claims(case)]
