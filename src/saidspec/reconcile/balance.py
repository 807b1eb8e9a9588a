"""`balance`: what was bought, poured in and left over of a fluid does not add up.

Each figure is uncertain by half a unit of its last digit, or by a tenth where it was said as approximate; the sum is
wrong only beyond the sum of those and 7 % of what was bought (common practice: jugs are not emptied to the drop).
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import combinations, product

from saidspec.model import Fact, Flag, Quantity
from saidspec.reconcile.case import Case, Outcome
from saidspec.reconcile.cues import cue
from saidspec.reconcile.fills import is_top_up, litres, no_pour, system_unit, total_among, without_restated
from saidspec.reference.units import plain, rounded, show

SPILT = Decimal("0.07")
APPROXIMATE = Decimal("0.1")
SURE, HALF_SURE = 0.75, 0.7  # what each volume must reach; one of them may be half sure
IN_ONE_PLACE, PASSAGE = 0.55, 300  # what each must reach where all are told in as many characters, of one fluid alone
MOST_BOUGHT = 4  # purchases of which every choice is tried
NEAR = 60  # characters within which a count of containers belongs to a size


def uncertainty(fact: Fact, system: str) -> Decimal:
    """How far off a figure may be, in litres: half a unit of its last digit, a tenth where it is approximate."""
    amount = litres(fact, system) or Decimal(0)
    if fact.approximate:
        return amount * APPROXIMATE
    if fact.value is None or not fact.value:
        return Decimal(0)
    exponent = fact.value.normalize().as_tuple().exponent
    step = Decimal(1).scaleb(min(exponent, 0) if isinstance(exponent, int) else 0)
    return amount * (step / 2) / fact.value


def groups(case: Case) -> dict[frozenset[str], dict[str, list[Fact]]]:
    """The stated volumes by fluid and role.  A container's volume goes with the fluid of its name that was poured in,
    else with the one poured in nearest to it."""
    found: dict[frozenset[str], dict[str, list[Fact]]] = {}
    facts = [fact for fact in case.facts("volume", ("stated",)) if not no_pour(case, fact)]
    poured = [fact for fact in facts if fact.role == "added" and not is_top_up(case, fact)]
    named = {case.phrase(fact).words for fact in poured}
    for fact in facts:
        if fact.role not in ("added", "bought", "left over") or fact.value is None:
            continue
        words = case.phrase(fact).words
        if fact.role != "added" and poured and words not in named:
            nearest = min(poured, key=lambda one: abs(one.provenance.start - fact.provenance.start))
            words = case.phrase(nearest).words
        found.setdefault(words, {}).setdefault(fact.role, []).append(fact)
    return found


def counted(case: Case, fact: Fact) -> list[Decimal]:
    """The numbers of containers that a bought volume may have come in: 1, and the count said beside it."""
    counts = [count.value for count in case.facts("count", ("stated",))
              if count.value and abs(count.provenance.start - fact.provenance.start) <= NEAR]
    return [Decimal(1), *counts]


def holdings(case: Case, bought: list[Fact], system: str) -> Iterator[Decimal]:
    """What may have been bought, in litres, all of it first: each purchase in the containers that its count allows, and
    without those that may have been something else.
    """
    for size in range(len(bought), 0, -1):
        for some in combinations(bought[:MOST_BOUGHT], min(size, MOST_BOUGHT)):
            for numbers in product(*(counted(case, fact) for fact in some)):
                yield sum(((litres(fact, system) or Decimal(0)) * number
                           for fact, number in zip(some, numbers, strict=True)), Decimal(0))


def repeated(case: Case, pours: list[Fact]) -> list[Decimal]:
    """How often a pour was made: once, or twice where it is said of each of two places."""
    each = any(cue("each").search(case.near_text(fact, 40, 40)) for fact in pours)
    return [Decimal(1), Decimal(2), Decimal(4)] if each else [Decimal(1)]


def told_together(case: Case, volumes: list[Fact]) -> bool:
    """Whether volumes are told in one passage and none of anything else among them: of one fluid, whatever it is."""
    first = min(fact.provenance.start for fact in volumes)
    last = max(fact.provenance.end for fact in volumes)
    own = {fact.id for fact in volumes}
    among = [fact for fact in case.by_kind.get("volume", ()) if first <= fact.provenance.start <= last]
    return last - first <= PASSAGE and all(fact.id in own or fact.assertion == "retracted" for fact in among)


def proves_something(case: Case, volumes: list[Fact]) -> bool:
    """Whether the fluid and the role of each of some volumes are sure enough, and they are of the same stock."""
    sure = sorted(fact.provenance.confidence for fact in volumes)
    together = sure[0] >= IN_ONE_PLACE and told_together(case, volumes)
    if not together and (sure[0] < HALF_SURE or sure[1] < SURE):
        return False
    return not any(cue(told).search(case.near_text(fact, 60, 60)) for fact in volumes
                   for told in ("other-stock", "diluted"))


def check_group(case: Case, roles: dict[str, list[Fact]]) -> Iterator[Flag]:
    """Whether one fluid's volumes add up in any reading of its containers and measures."""
    bought, added, left = (roles.get(role, []) for role in ("bought", "added", "left over"))
    if not bought or not added or not left or not proves_something(case, [*bought, *added, *left]):
        return
    closest: tuple[Decimal, Decimal, Decimal, str] | None = None
    told = case.sheet.vehicle.volume_system
    for system in (told,) if told else ("us", "imperial"):
        pours = without_restated(case, added, system)
        total = total_among(case, pours, system)
        went_in = sum(((litres(fact, system) or Decimal(0)) for fact in ([total] if total else pours)), Decimal(0))
        rest = sum(((litres(fact, system) or Decimal(0)) for fact in left), Decimal(0))
        doubt = sum((uncertainty(fact, system) for fact in (*pours, *left)), Decimal(0))
        for whole, times in product(holdings(case, bought, system), repeated(case, pours)):
            gap = abs(whole - went_in * times - rest)
            if gap <= whole * SPILT + doubt:
                return
            if closest is None or gap < closest[0]:
                closest = (gap, whole, went_in * times, system)
    if closest is not None:
        yield unbalanced(added[0].component or bought[0].component, left[-1], *closest)


def unbalanced(name: str | None, rest_said: Fact, gap: Decimal, whole: Decimal, went_in: Decimal, system: str) -> Flag:
    """The flag on what is left over of a fluid where `whole` litres were bought and `went_in` litres poured in."""
    implied = whole - went_in
    words = f"{plain(rounded(implied))} L should be left" if implied >= 0 else "more was poured than was bought"
    rest_told = show(rest_said.value or Decimal(0), system_unit(rest_said.unit, system) if rest_said.unit else None)
    message = (f"{name or 'fluid'}: bought {show(rounded(whole), 'L')}, poured in {show(rounded(went_in), 'L')}, "
               f"left over {rest_told}: {words}; off by {plain(rounded(gap))} L, more than the figures' uncertainty.")
    return Flag("balance", "look", message, name, "volume", rest_said.id,
                Quantity(rest_said.value, None, rest_said.unit),
                Quantity(rounded(implied), None, "L", None, "the note"))


def check_totals(case: Case) -> Iterator[Flag]:
    """A total said for pours that is not their sum."""
    for roles in groups(case).values():
        pours = without_restated(case, roles.get("added", []), "us")
        total = total_among(case, pours, "us")
        before = total.provenance.start if total else 0
        parts = [fact for fact in pours if fact is not total and fact.provenance.start < before]
        if total is None or len(parts) < 2 or len({fact.unit for fact in parts} & {total.unit}) == 0:
            continue
        amount, said = sum(((litres(fact, "us") or Decimal(0)) for fact in parts), Decimal(0)), litres(total, "us")
        doubt = sum((uncertainty(fact, "us") for fact in (*parts, total)), Decimal(0))
        if said is not None and abs(amount - said) > amount * SPILT + doubt:
            message = (f"{total.component or 'fluid'}: {show(total.value or Decimal(0), total.unit)} is said in total, "
                       f"but the pours make {show(rounded(amount), 'L')}.")
            yield Flag("balance", "look", message, total.component, "volume", total.id,
                       Quantity(total.value, None, total.unit), Quantity(rounded(amount), None, "L", None, "the note"))


def check_stock(case: Case) -> Iterator[Flag]:
    """More poured in than was on the shelf and bought, by the record's stock, where the note itself keeps count of what
    was bought: who never says what was bought is not asked where it came from.
    """
    shelf = dict(case.history.stock)
    for words, roles in groups(case).items():
        name = next((fluid for fluid in shelf if frozenset(fluid.split()) == words), None)
        if name is None or not roles.get("bought"):
            continue
        pours = without_restated(case, roles.get("added", []), "us")
        used = sum(((litres(fact, "imperial") or Decimal(0)) for fact in pours), Decimal(0))
        least = min(used, sum(((litres(fact, "us") or Decimal(0)) for fact in pours), Decimal(0)))
        had = shelf[name] + sum(((litres(fact, "imperial") or Decimal(0)) * max(counted(case, fact))
                                 for fact in roles.get("bought", [])), Decimal(0))
        if pours and least > had * (1 + SPILT) + sum((uncertainty(fact, "us") for fact in pours), Decimal(0)):
            message = (f"{name}: poured in {show(rounded(least), 'L')}, but only {show(rounded(had), 'L')} was on the "
                       "shelf or bought by the record.")
            yield Flag("balance", "look", message, name, "volume", pours[-1].id, Quantity(rounded(least), None, "L"),
                       Quantity(rounded(had), None, "L", None, "the record's stock"))


def check_balance(case: Case) -> list[Outcome]:
    """`balance` of one note's volumes, and with the stock where the record is known."""
    return [*(flag for roles in groups(case).values() for flag in check_group(case, roles)), *check_totals(case),
            *check_stock(case)]
