"""A torque with the further turn behind it: "120 newton metres plus 90 degrees", "then a quarter turn"."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity, number_at, single
from saidspec.extract.units import UnitTable
from saidspec.normalise.number_words import whole

# What joins a torque to the turn behind it: a run of these words, of which one leads.
LEADS = frozenset({"plus", "+", "then", "another", "further", "extra", "followed", "and", "with", "&"})
FILLERS = LEADS | {"a", "an", "the", ",", "by", "it", "get", "gets", "got", "go", "goes", "turn", "turned", "on",
                   "them", "more", "again", "give", "gave", "its", "their"}
ADDING = frozenset({"plus", "+", "another", "further", "extra"})  # what makes a figure behind a turn one more turn
# Turns that makers prescribe, in degrees (common practice: full, half and quarter turns, flats of a hexagon, tens).
ANGLES = frozenset({15, 20, 30, 40, 45, 50, 60, 75, 80, 90, 100, 110, 120, 135, 140, 150, 160, 180, 225, 240, 270, 360})


def angled(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    """With the sum of the turns that follow it, in degrees: "90 and then 60 degrees", "plus 90 plus 90"."""
    if item.dimension not in ("torque", "") or item.form in ("fraction", "year", "plural"):
        return item
    angle, end = Decimal(0), item.end
    while True:
        place, leads = _joint(page, end)
        if not leads or (not item.dimension and not angle and leads <= {"and", "with", "&"}):
            break  # "90 and 60 degrees" are two values
        step = single(page, place, units)
        turned = _turn(step, torque=item.dimension == "torque" or bool(angle))
        if turned is None and _bare_turn(page, item, step, leads, units, started=bool(angle)):
            angle, end = angle + step.value, step.end
        elif turned is not None:
            angle, end = angle + turned, step.end
        else:
            break
    return replace(item, angle=whole(angle), end=end, dimension="torque") if angle else item


def _bare_turn(page: Passage, item: Quantity, step: Quantity, leads: set[str], units: UnitTable, started: bool) -> bool:
    """A further turn whose degrees are said with another one: "plus ninety plus ninety degrees", "and another 90"."""
    if step.dimension or step.value not in ANGLES:
        return False
    if started:
        return bool(leads & (ADDING | {"then"}))
    if item.dimension == "torque":
        if leads & {"then"} and step.value > item.value and _said_again(page, step):
            return True  # "30 Nm, then 90, then 90"
        return bool(leads & {"plus", "+"}) or (bool(leads & {"then", "another", "further"})
                                               and _degrees_follow(page, step.end, units))
    return bool(leads & {"plus", "+"}) and _degrees_follow(page, step.end, units)


def _said_again(page: Passage, step: Quantity) -> bool:
    """The same figure follows once more, as no torque does: "then 90, then 90"."""
    place, leads = _joint(page, step.end)
    return "then" in leads and number_at(page, place) and page.lexemes[place].value == step.value


def _turn(step: Quantity, torque: bool) -> Decimal | None:
    """The degrees of a further turn; turns of a screw are some only behind a torque."""
    if step.dimension == "degree" and step.unit == "deg" and 5 <= step.value <= 360:
        return step.value
    if step.dimension == "turn" and step.value <= 2 and torque:
        return step.value * 360
    return None


def _joint(page: Passage, at: int) -> tuple[int, set[str]]:
    """The place behind a run of joining words at `at` that a number follows, and the leading words of it."""
    place, leads = at, set()
    while place - at < 7 and page.word(place) in FILLERS:
        leads |= {page.word(place)} & LEADS
        place += 1
    return (place, leads) if leads and number_at(page, place) else (at, set())


def _degrees_follow(page: Passage, at: int, units: UnitTable) -> bool:
    """A further step behind it has the unit: "90 plus 90 degrees"."""
    place, leads = _joint(page, at)
    return bool(leads) and single(page, place, units).dimension == "degree"
