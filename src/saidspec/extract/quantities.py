"""Numbers with their units: values, ranges, tolerances, torque with an angle, and what makes them approximate."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from saidspec.extract.passage import Passage
from saidspec.normalise.numbers import whole
from saidspec.normalise.words import normal_form
from saidspec.patterns import listed


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as said: the spelling of the output, and what it measures."""

    unit: str
    dimension: str


@dataclass(frozen=True, slots=True)
class UnitTable:
    """Units by the normal form of their first word: (words, unit), longest first."""

    forms: dict[str, list[tuple[tuple[str, ...], Unit]]]

    def single(self, dimension: str) -> dict[str, str]:
        """The units of a dimension that are one word, by its normal form."""
        return {word: unit.unit for word, options in self.forms.items() for words, unit in options
                if unit.dimension == dimension and len(words) == 1}

    def first_words(self) -> frozenset[str]:
        return frozenset(self.forms)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with or without a unit, at tokens start..end (exclusive); `number` is the first number's token.

    `unit` and `dimension` are empty where no unit was said; `form` is that of the number ("fraction", "plural" ...).
    """

    start: int
    end: int
    number: int
    value: Decimal
    unit: str = ""
    dimension: str = ""
    high: Decimal | None = None
    form: str = ""
    angle: Decimal | None = None
    approximate: bool = False
    sure: bool = True
    unit_end: int = 0
    flags: frozenset[str] = field(default_factory=frozenset)


def unit_table(entries: Iterable[dict[str, Any]]) -> UnitTable:
    """The units of the rule files."""
    forms: dict[str, list[tuple[tuple[str, ...], Unit]]] = {}
    for entry in entries:
        for form in listed(entry["said"]):
            words = tuple(normal_form(word) for word in form.split())
            forms.setdefault(words[0], []).append((words, Unit(entry["unit"], entry["dimension"])))
    for options in forms.values():
        options.sort(key=lambda option: -len(option[0]))
    return UnitTable(forms)


def unit_at(page: Passage, at: int, units: UnitTable) -> tuple[Unit, int] | None:
    """The unit whose words begin at token `at` (a hyphen or stop between them passed over), and the place after."""
    if page.word(at) == "-" or (page.word(at) == "." and page.word(at + 1) in units.forms and at and (
            page.lexemes[at].end == page.lexemes[at + 1].start and page.lexemes[at - 1].end == page.lexemes[at].start)):
        at += 1
    for words, unit in units.forms.get(page.word(at), ()):
        place = at
        for word in words:
            while place > at and page.word(place) in "-." and page.word(place) and word != page.word(place):
                place += 1
            if page.word(place) != word:
                break
            place += 1
        else:
            return unit, place
    return None


LETTER_UNITS = {"l", "v", "a", "c", "f", "g", "h", "k", "w", "m", "in", "min", "mil", "mill", "second", "pound",
    "foot", "bar",
                "minute", "winter", "summer", "t"}


def quantities(page: Passage, units: UnitTable) -> list[Quantity]:
    """Every number of the passage as a quantity, in order; ranges and torque + angle as one."""
    found: list[Quantity] = []
    at = 0
    while at < len(page):
        if page.lexemes[at].kind != "number":
            at += 1
            continue
        item = _approximated(page, _angled(page, _ranged(page, _single(page, at, units), units), units))
        found.append(item)
        at = max(item.end, at + 1)
    return found


def _single(page: Passage, at: int, units: UnitTable) -> Quantity:
    lex = page.lexemes[at]
    value = lex.value if lex.value is not None else Decimal(0)
    made = Quantity(at, at + 1, at, value, form=lex.form, sure=lex.sure, unit_end=at + 1)
    after = page.words(at + 1, at + 4)
    loose = 2 if after[:2] == ["or", "so"] else 1 if after[:1] in (["odd"], ["ish"]) else 2 if after[:2] == ["-",
        "ish"] or after[:2] == ["-", "odd"] else 0
    hit = unit_at(page, at + 1 + loose, units)
    if hit is None and after[:1] == [","] and len(after) > 1 and after[1] in PLAIN_UNITS:
        hit = unit_at(page, at + 2, units)  # "164,902, km"
    if page.word(at + 1) == "of" and page.word(at + 2) in ("a", "an"):
        hit = unit_at(page, at + 3, units)  # "eight tenths of a millimetre", "half of a litre"
        if hit and hit[0].dimension == "turn" and lex.form != "fraction":
            hit = None
    if hit and _is_unit(page, at, hit[1], hit[0]):
        return replace(made, unit=hit[0].unit, dimension=hit[0].dimension, end=hit[1], unit_end=hit[1])
    return made


PLAIN_UNITS = {"km", "mile", "kilometre", "psi", "newton", "mm", "millimetre", "kpa", "rpm"}


def _is_unit(page: Passage, at: int, end: int, unit: Unit) -> bool:
    """A short or everyday word is a unit only where it can be one: "a" not as an article, "in" not as a preposition."""
    word = page.word(end - 1)
    after = page.word(end)
    touching = page.lexemes[end - 1].start == page.lexemes[at].end
    if word == "a" and end - at == 2:
        return (touching or page.said(end - 1) == "A") and after != "side"
    if word == "in" and end - at == 2:
        return touching or after in ("", ".", ",", "socket", "wrench", "spanner", "\n", "drive", "bore", "hose",
            "bolt", "nut", "thick", "long", "wide", "deep", "diameter", "gap", "line", "pipe", "stud", "drill")
    if word == "c" or word == "f":
        return True
    if unit.unit == "ft":
        return after not in ("bound",)
    if word in ("second", "winter", "summer") and unit.dimension == "time":
        return word != "second" or page.lexemes[end - 1].text.lower().endswith("s") or page.word(at - 1) not in ("the",)
    if unit.dimension == "turn":
        return page.lexemes[at].form == "fraction" or page.lexemes[at].kind == "number"
    return True


RANGE_WORDS = {"to", "-", "–", "through", "till", "until", "and", "or"}
SHARED = {"torque", "pressure", "length", "mil", "volume", "voltage", "temperature", "distance"}
# Before "from": the value went from one to the other, and both are values.
CHANGES = {"went", "go", "gone", "going", "goes", "dropped", "drop", "fell", "fall", "rose", "came", "come", "up",
    "down", "changed", "change", "moved", "move",
           "adjusted", "brought", "cut", "backed", "swapped", "switched", "climbed", "reset", "turned", "opened",
               "take", "took"}


def _ranged(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    """With the upper end: "30 to 35", "between 20 and 25", "10-12 mm", "18 plus or minus 2"."""
    place = item.end
    if page.word(place) == "-" and page.word(place + 1) in ("to", "or"):
        place += 1  # "8- to 16-mm"
    word = page.word(place)
    if word in ("plus", "±", "+", "give") and _tolerance(page, place):
        return _plus_minus(page, item, units)
    if word not in RANGE_WORDS or not _number(page, place + 1):
        return item
    before = page.word(item.start - 1)
    if word == "and" and not _between(page, item.start):
        return item
    if word == "or" and (item.unit or before in ("a", "the", "either") or page.word(item.start - 2) == "either"):
        other = _single(page, place + 1, units)
        if item.unit or other.dimension not in SHARED or not other.value / 4 <= item.value <= other.value * 4:
            return item
        return replace(item, unit=other.unit, dimension=other.dimension)  # "either 25 or 30 newton metres"
    if before == "from" and {*page.words(item.start - 5, item.start - 1)} & CHANGES:
        return item
    other = _single(page, place + 1, units)
    same = not item.unit or not other.unit or item.unit == other.unit
    if not same or other.value <= item.value or (word == "-"
        and item.unit) or other.form == "year" or item.form == "plural":
        return item
    if word == "or" and (other.value - item.value > max(Decimal(2), item.value / 4)):
        return item
    if other.value > item.value * 10 and item.value > 0 and word in ("to", "-"):
        return item
    return replace(item, end=other.end, high=other.value, unit=other.unit or item.unit, unit_end=other.unit_end,
                   dimension=other.dimension or item.dimension, sure=item.sure and other.sure)


def _between(page: Passage, at: int) -> bool:
    """"Between 20 and 25", "anywhere between about 20 and 25"."""
    return "between" in page.words(at - 3, at) and page.word(at - 1) in ("between", "about", "roughly", "around",
        "say", "like")


def _number(page: Passage, at: int) -> bool:
    return at < len(page) and page.lexemes[at].kind == "number"


def _tolerance(page: Passage, at: int) -> int | None:
    words = page.words(at, at + 3)
    if words[:1] == ["±"]:
        return at + 1
    if words == ["plus", "or", "minus"] or words == ["give", "or", "take"]:
        return at + 3
    if words[:3] == ["+", "/", "-"]:
        return at + 3
    return None


def _plus_minus(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    place = _tolerance(page, item.end)
    if place is None or not _number(page, place):
        return item
    spread = _single(page, place, units)
    if spread.value >= item.value:
        return item
    return replace(item, end=spread.end, value=item.value - spread.value, high=item.value + spread.value,
                   unit=item.unit or spread.unit, dimension=item.dimension or spread.dimension)


# What joins a torque to the turn behind it: a run of these words, of which one leads.
LEADS = {"plus", "+", "then", "another", "further", "extra", "followed", "and", "with", "&"}
FILLERS = LEADS | {"a", "an", "the", ",", "by", "it", "get", "gets", "got", "go", "goes", "turn", "turned", "on",
    "them", "more", "again", "give", "gave", "its", "their"}
ANGLES = {15, 20, 30, 40, 45, 50, 60, 75, 80, 90, 100, 110, 120, 135, 140, 150, 160, 180, 225, 240, 270, 360}


def _joint(page: Passage, at: int) -> tuple[int, set[str]]:
    """The place behind a run of joining words at `at` that a number follows, and the leading words of it."""
    place, leads = at, set()
    while place - at < 7 and page.word(place) in FILLERS:
        leads |= {page.word(place)} & LEADS
        place += 1
    return (place, leads) if leads and _number(page, place) else (at, set())


def _angled(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    """With the further turn: "120 newton metres plus 90 degrees", "90 and then 60 degrees", "then a quarter turn"."""
    if item.dimension not in ("torque", "") or item.form in ("fraction", "year", "plural"):
        return item
    angle, end, waiting = Decimal(0), item.end, False
    while True:
        place, leads = _joint(page, end)
        if not leads:
            break
        if not item.dimension and not angle and leads <= {"and", "with", "&"}:
            break  # "90 and 60 degrees" are two values
        step = _single(page, place, units)
        if step.dimension == "degree" and step.unit == "deg" and 5 <= step.value <= 360:
            angle, end, waiting = angle + step.value, step.end, False
        elif step.dimension == "turn" and step.value <= 2 and (item.dimension == "torque" or angle):
            angle, end, waiting = angle + step.value * 360, step.end, False
        elif not step.dimension and step.value in ANGLES and (leads & {"plus", "+"}
            or waiting) and (item.dimension == "torque" or _degrees_follow(page, step.end, units)):
            angle, end, waiting = angle + step.value, step.end, True  # "plus ninety plus ninety degrees"
        else:
            break
    return replace(item, angle=whole(angle), end=end, dimension="torque") if angle else item


def _degrees_follow(page: Passage, at: int, units: UnitTable) -> bool:
    """A further step behind it has the unit: "90 plus 90 degrees"."""
    place, leads = _joint(page, at)
    return bool(leads) and _single(page, place, units).dimension == "degree"


def _approximated(page: Passage, item: Quantity) -> Quantity:
    if item.form == "couple":
        return replace(item, approximate=True)
    for at in range(item.start, item.start - 4, -1):
        cue = page.approx_ends.get(at)
        if cue and cue.term.meant == "forward":
            return replace(item, approximate=True)
        if page.word(at - 1) not in ("a", "the", "like", "of", "at", "an"):
            break
    for at in (item.end, item.end + 1, item.number + 1):
        after = page.starting("approx", at)
        if after and after.term.meant == "backward":
            return replace(item, approximate=True)
    return item
