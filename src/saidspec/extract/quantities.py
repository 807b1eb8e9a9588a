"""Numbers with their units: values, ranges, tolerances, torque with an angle, and what makes them approximate."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from saidspec.extract.passage import Passage
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
    if page.word(at) == "-" or page.word(at) == "." and page.word(at + 1) in units.forms and at and (
            page.lexemes[at].end == page.lexemes[at + 1].start and page.lexemes[at - 1].end == page.lexemes[at].start):
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


LETTER_UNITS = {"l", "v", "a", "c", "f", "g", "h", "k", "w", "m", "in", "min", "mil", "mill", "second", "pound", "foot", "bar",
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
    hit = unit_at(page, at + 2 if page.word(at + 1) in ("odd", "ish", "or") and page.word(at + 2) != "so" else at + 1, units)
    if page.word(at + 1) == "or" and page.word(at + 2) == "so":
        hit = unit_at(page, at + 3, units)
    if page.word(at + 1) == "of" and page.word(at + 2) in ("a", "an"):
        hit = unit_at(page, at + 3, units)  # "eight tenths of a millimetre", "half of a litre"
        if hit and hit[0].dimension == "turn" and lex.form != "fraction":
            hit = None
    if hit and _is_unit(page, at, hit[1], hit[0]):
        return replace(made, unit=hit[0].unit, dimension=hit[0].dimension, end=hit[1], unit_end=hit[1])
    return made


def _is_unit(page: Passage, at: int, end: int, unit: Unit) -> bool:
    """A short or everyday word is a unit only where it can be one: "a" not as an article, "in" not as a preposition."""
    word = page.word(end - 1)
    after = page.word(end)
    touching = page.lexemes[end - 1].start == page.lexemes[at].end
    if word == "a" and end - at == 2:
        return (touching or page.said(end - 1) == "A") and after != "side"
    if word == "in" and end - at == 2:
        return touching or after in ("", ".", ",", "socket", "wrench", "spanner", "\n", "drive", "bore", "hose", "bolt")
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


def _ranged(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    """With the upper end: "30 to 35", "between 20 and 25", "10-12 mm", "18 plus or minus 2"."""
    place = item.end
    word = page.word(place)
    if word in ("plus", "±", "+", "give") and _tolerance(page, place):
        return _plus_minus(page, item, units)
    if word not in RANGE_WORDS or not _number(page, place + 1):
        return item
    if word == "and" and page.word(item.start - 1) != "between":
        return item
    if word == "or" and not (item.unit == "" and page.word(item.start - 1) not in ("a", "the", "either")):
        return item
    other = _single(page, place + 1, units)
    same = not item.unit or not other.unit or item.unit == other.unit
    if not same or other.value <= item.value or word == "-" and item.unit or other.form == "year":
        return item
    if word == "or" and (other.value - item.value > max(2, item.value / 4)):
        return item
    if word == "to" and (item.unit and not other.unit or page.word(item.start - 1) == "from"):
        if page.word(item.start - 1) == "from" and not other.unit:
            return item
    if other.value > item.value * 10 and item.value > 0 and word in ("to", "-"):
        return item
    return replace(item, end=other.end, high=other.value, unit=other.unit or item.unit, unit_end=other.unit_end,
                   dimension=other.dimension or item.dimension, sure=item.sure and other.sure)


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


ANGLE_JOINTS = (("plus",), ("+",), ("and", "then"), ("then",), ("and",), (",", "then"), (",", "plus"), ("followed", "by"), (",", "and"),
                ("plus", "another"), ("then", "another"), ("and", "another"), ("and", "then", "another"), ("then", "turn"),
                ("and", "a", "further"), ("plus", "a", "further"), ("then", "a", "further"), ("then", "go", "another"), ("and", "then", "the"),
                ("then", "it", "gets", "another"), (",", "then", "another"), ("then", "an", "extra"), ("plus", "an", "extra"), ("with",), ("and", "the"),
                ("then", "the"), ("and", "turn"), ("plus", "a"), ("and", "a"), ("and", "then", "a"), ("then", "a"), (",", "then", "a"), ("and", "an", "extra"))


def _angled(page: Passage, item: Quantity, units: UnitTable) -> Quantity:
    """With the further turn: "120 newton metres plus 90 degrees", "90 and then 60 degrees", "then a quarter turn"."""
    if item.dimension not in ("torque", "") or item.form in ("fraction", "year"):
        return item
    for joint in ANGLE_JOINTS:
        if tuple(page.words(item.end, item.end + len(joint))) != joint:
            continue
        place = item.end + len(joint)
        if not _number(page, place):
            continue
        turn = _single(page, place, units)
        if turn.dimension == "degree" and 15 <= turn.value <= 360 and turn.unit == "deg":
            angle, end = turn.value, turn.end
        elif turn.dimension == "turn" and turn.value <= 2 and item.dimension == "torque":
            angle, end = turn.value * 360, turn.end
        else:
            continue
        while True:  # "plus ninety plus ninety degrees": one turn in two steps
            more = next((j for j in (("plus",), ("and",), ("and", "another"), ("plus", "another"), ("then", "another"), (",", "then", "another"), ("and", "then", "another"))
                         if tuple(page.words(end, end + len(j))) == j and _number(page, end + len(j))), None)
            if more is None:
                break
            extra = _single(page, end + len(more), units)
            if extra.dimension != "degree":
                break
            angle, end = angle + extra.value, extra.end
        return replace(item, angle=angle, end=end, dimension="torque")
    return item


def _approximated(page: Passage, item: Quantity) -> Quantity:
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
