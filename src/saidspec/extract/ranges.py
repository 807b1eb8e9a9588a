"""Ranges and tolerances: "30 to 35", "between 20 and 25", "10-12 mm", "18 plus or minus 2"."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity, number_at, single
from saidspec.extract.units import UnitTable

JOINTS = frozenset({"to", "-", "–", "through", "till", "until", "and", "or"})
SHARED = frozenset({"torque", "pressure", "length", "mil", "volume", "voltage", "temperature", "distance"})
CHANGE_REACH = 8  # tokens from a verb of change to "from A to B"
RANGING = frozenset({"measured", "varied", "ranged", "rated", "listed", "allowed", "specified", "recommended", "need",
                     "needed", "red", "speed", "indeed", "differed"})
ABOUT = frozenset({"between", "about", "roughly", "around", "say", "like"})


def ranged(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    """With the upper end, where one follows: the value is the lower end, `high` the upper one."""
    place = item.end
    if page.word(place) == "-" and page.word(place + 1) in ("to", "or"):
        place += 1  # "8- to 16-mm"
    word = page.word(place)
    if word in ("plus", "±", "+", "give") and _tolerance(page, place):
        return _plus_minus(page, item, units)
    if word not in JOINTS or not number_at(page, place + 1):
        return item
    if word == "and" and not _between(page, item.start):
        return item
    if page.word(item.start - 1) == "all" and word == "to":
        return item  # "all eight to sixty five"
    if word == "or" and (item.unit or _one_of_two(page, item.start)):
        return _either(item, single(page, place + 1, units))
    if page.word(item.start - 1) == "from" and _became(page, item.start, units):
        return item  # "went from 4 to 6": the value was one and became the other, and both are values
    other = single(page, place + 1, units)
    item = _scaled_alike(item, other)
    if not _upper_end(item, other, word):
        return item
    return replace(item, end=other.end, high=other.value, unit=other.unit or item.unit,
                   dimension=other.dimension or item.dimension, sure=item.sure and other.sure)


def _scaled_alike(item: Quantity, other: Quantity) -> Quantity:
    """"Five to six hundred": 500 to 600; the scale is said once."""
    for scale in (1000, 100):
        top = other.value / scale
        if other.form == "scaled" and other.value % scale == 0 and item.form == "words" and item.whole and (
                item.value < top < item.value * 4):
            return replace(item, value=item.value * scale)
    return item


def _became(page: Passage, start: int, units: UnitTable) -> bool:
    """A verb of change stands before "from": in the past, unless it tells how far something ranges."""
    before = page.words(max(page.sentence_start(start), start - CHANGE_REACH), start - 1)
    return any(word in units.words.changes or (word.endswith("ed") and word not in RANGING) for word in before)


def _one_of_two(page: Passage, start: int) -> bool:
    return page.word(start - 1) in ("a", "the", "either") or page.word(start - 2) == "either"


def _either(item: Quantity, other: Quantity) -> Quantity:
    """"Either 25 or 30 newton metres": two values of one unit, and no range."""
    if item.unit or other.dimension not in SHARED or not other.value / 4 <= item.value <= other.value * 4:
        return item
    return replace(item, unit=other.unit, dimension=other.dimension)


def _upper_end(item: Quantity, other: Quantity, word: str) -> bool:
    """Whether a value can be the upper end of the range that another one begins."""
    if (item.unit and other.unit and item.unit != other.unit) or other.value <= item.value:
        return False
    if (word == "-" and item.unit) or other.form == "year" or item.form == "plural":
        return False
    if word == "or" and other.value - item.value > max(Decimal(2), item.value / 4):
        return False
    return not (word in ("to", "-") and item.value > 0 and other.value > item.value * 10)


def _between(page: Passage, at: int) -> bool:
    """"Between 20 and 25", "anywhere between about 20 and 25"."""
    return "between" in page.words(at - 3, at) and page.word(at - 1) in ABOUT


def _tolerance(page: Passage, at: int) -> int | None:
    """The place behind "plus or minus"."""
    words = page.words(at, at + 3)
    if words[:1] == ["±"]:
        return at + 1
    if words in (["plus", "or", "minus"], ["give", "or", "take"], ["+", "/", "-"]):
        return at + 3
    return None


def _plus_minus(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    """The range that a value with a tolerance spans."""
    place = _tolerance(page, item.end)
    if place is None or not number_at(page, place):
        return item
    spread = single(page, place, units)
    if spread.value >= item.value:
        return item
    return replace(item, end=spread.end, value=item.value - spread.value, high=item.value + spread.value,
                   unit=item.unit or spread.unit, dimension=item.dimension or spread.dimension)
