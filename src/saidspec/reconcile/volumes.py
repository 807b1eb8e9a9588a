"""Fluid volumes: what was poured in, summed, against the capacity; and whether bought, poured and left over add up.

Several pours of one fluid in one note make one fill.  What was drained, bought or left over is no capacity, and
topping up is no fill.  A pint, quart or gallon is the US or the imperial one as the vehicle's `volume_system` says;
where it is silent both are tried before anything is flagged.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from saidspec.model import Fact, Flag, Quantity, Specification
from saidspec.reconcile.case import Case, Outcome, agreement, reference_of, severity
from saidspec.reconcile.causes import Named, causes
from saidspec.reconcile.compare import Verdict, compare_claim, compare_numbers
from saidspec.reconcile.cues import cue
from saidspec.reconcile.difference import claim, difference_of, disagreement
from saidspec.reconcile.doubts import doubt
from saidspec.reconcile.fills import (
    Fill,
    drained,
    is_top_up,
    litres,
    poured,
    spec_in,
    system_unit,
    systems_to_try,
    told_fill,
    whole_fills,
)
from saidspec.reference.units import convert, show

# Fluids of which a part is thrown away while they are bled or flushed, and of which a part stays in when drained.
WASTED = frozenset({"brakes", "clutch", "steering"})
STAYS_IN = frozenset({"cooling"})
NEVER_TOPPED = frozenset({"fork"})  # filled whole or not at all (common practice): a tenth of it is no topping up
SUM_OFF = Decimal("0.12")  # share by which a sum of pours may be off before a pour that was not caught is likelier


def verdict_of(fill: Fill, spec: Specification, system: str) -> Verdict | None:
    """A fill against a capacity, in one volume system."""
    stand_in = replace(fill.last, value=fill.litres, value_high=None, unit="L",
                       approximate=any(fact.approximate for fact in fill.pours))
    return compare_numbers(stand_in, spec_in(spec, system))


def capacity_specs(case: Case) -> list[Specification]:
    """The capacities that hold for the vehicle."""
    return [spec for spec in case.holding("volume") if spec.role in (None, "capacity")]


def judge_fill(case: Case, spec: Specification) -> Iterator[Outcome]:
    """The fill of one fluid against its capacity."""
    facts = [fact for fact in poured(case, spec) if not is_top_up(case, fact)]
    if not facts:
        return
    tried = list(whole_fills(case, spec))
    for made, system in tried:
        verdicts = [(fill, verdict) for fill in made if (verdict := verdict_of(fill, spec, system))]
        if verdicts and all(verdict.agrees for _, verdict in verdicts):
            for fill, verdict in verdicts:
                for fact in (*fill.pours, *((fill.total,) if fill.total else ())):
                    yield agreement(case, fact, spec, verdict.tolerance,
                                    f"{told_fill(fill, system)}; {case.match(fact).why}")
            return
    first, system = tried[0]
    fill = max(first, key=lambda one: one.litres)
    verdict = verdict_of(fill, spec, system)
    flag = fill_flag(case, fill, spec, verdict, system) if verdict is not None else None
    if flag is None or case.match(fill.last).certainty != "sure" or case.system(spec) in WASTED:
        return
    if blameworthy(case, fill, spec_in(spec, system)) or flag.likely in ("imperial-quart", "unit") or (
            flag.likely == "decimal" and (drained(case, spec) or case.system(spec) in NEVER_TOPPED)):
        yield flag


def blameworthy(case: Case, fill: Fill, spec: Specification) -> bool:
    """Whether a fill that differs may be called wrong: a whole fill, or more than the system takes."""
    if spec.value is None or spec.unit is None or any(is_top_up(case, fact) for fact in fill.pours):
        return False
    capacity = convert(spec.value_high or spec.value, spec.unit, "L")
    if len(fill.pours) > 1 and fill.total is None and abs(fill.litres / capacity - 1) < SUM_OFF:
        return False
    over = fill.litres > capacity
    if not over and any(cue("to-the-level").search(case.near_text(fact, 60, 80)) for fact in fill.pours):
        return False  # what stays in from before counts too
    if not over and case.system(spec) in STAYS_IN:
        return False
    open_end = any(cue("left-open").search(case.near_text(fact, 40, 120)) for fact in fill.pours)
    return over or (drained(case, spec) and not open_end and fill.litres * 2 > convert(spec.value, spec.unit, "L"))


def fill_flag(case: Case, fill: Fill, spec: Specification, verdict: Verdict, system: str) -> Flag | None:
    """The flag on a fill that differs from its capacity; None where it is in doubt that it does."""
    single = fill.total or (fill.pours[0] if len(fill.pours) == 1 else None)
    stand_in = single or replace(fill.last, value=fill.litres, unit="L")
    found = causes(difference_of(case, stand_in, spec))
    other = "us" if system == "imperial" else "imperial"
    facts = (fill.total,) if fill.total else fill.pours
    again = sum((litres(fact, other) or Decimal(0) for fact in facts), Decimal(0))
    check = verdict_of(replace(fill, litres=again), spec, "us")
    if again != fill.litres and check and check.agrees:
        found = [Named("imperial-quart", Decimal(0)), *(one for one in found if one.cause != "unit")]
    if doubt(case, stand_in, spec_in(spec, system), found):
        return None
    said = Quantity(stand_in.value, stand_in.value_high, stand_in.unit, None)
    flag = disagreement(case, fill.last, spec_in(spec, system), f"poured in {told_fill(fill, system)}",
                        verdict.deviation, verdict.tolerance, severity(case, spec), found, said=said)
    return replace(flag, reference=reference_of(spec))


def judge_quoted(case: Case, fact: Fact) -> Iterator[Outcome]:
    """A capacity that the note quotes, as a claim about the reference."""
    found = case.match(fact)
    if found.spec is None or fact.role in ("added", "drained", "bought", "left over") or not fact.unit:
        return
    for system in systems_to_try(case, (fact,), found.spec):
        verdict = compare_claim(replace(fact, unit=system_unit(fact.unit, system)), spec_in(found.spec, system))
        if verdict and verdict.agrees:
            yield agreement(case, fact, found.spec, verdict.tolerance, found.why)
            return
    explained = causes(difference_of(case, fact, found.spec))
    if verdict and found.certainty == "sure" and doubt(case, fact, found.spec, explained) is None:
        told = claim(fact, show(fact.value or Decimal(0), system_unit(fact.unit, case.sheet.vehicle.volume_system)))
        yield disagreement(case, fact, found.spec, told, verdict.deviation, verdict.tolerance,
                           severity(case, found.spec, "look"), explained)


def check_volumes(case: Case) -> list[Outcome]:
    """`differs` and agreements on what was poured in, and on capacities that the note quotes."""
    made = [outcome for spec in capacity_specs(case) for outcome in judge_fill(case, spec)]
    quoted = [fact for fact in case.facts("volume", ("quoted",)) if fact.value is not None]
    return [*made, *(outcome for fact in quoted for outcome in judge_quoted(case, fact))]
