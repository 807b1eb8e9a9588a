"""One number with the unit behind it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from saidspec.extract.passage import Passage
from saidspec.extract.units import UnitTable, is_unit, unit_at

# Units that stand for the number before them even behind a comma: "164,902, km".
BEHIND_A_COMMA = frozenset({"km", "mile", "kilometre", "psi", "newton", "mm", "millimetre", "kpa", "rpm"})

TURNING_REACH = 6  # tokens from "idle" to its revolutions
VOLTS_REACH = 7  # tokens from what has volts to them
REVOLUTIONS = frozenset({"rpm", "rev"})


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with or without a unit, at tokens start..end (exclusive); `number` is the first number's token.

    `unit` and `dimension` are empty where no unit was said; `form` is that of the number ("fraction", "plural" ...);
    `high` is the upper end of a range, `angle` the further turn of a torque in degrees.
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

    @property
    def whole(self) -> bool:
        """Whether the value is a whole number."""
        return self.value == self.value.to_integral_value()


def said_units(items: Iterable[Quantity]) -> frozenset[str]:
    """The units of the quantities of a passage; eighths and thirty-seconds are of an inch."""
    return frozenset("in" if not item.unit and item.form == "fraction" and item.value * 4 % 1 else item.unit
                     for item in items)


def number_at(page: Passage, at: int) -> bool:
    """Whether a token is a number."""
    return at < len(page) and page.lexemes[at].kind == "number"


def single(page: Passage, at: int, units: UnitTable) -> Quantity:
    """The number at a token with the unit behind it, if any."""
    joined = _turning(page, at) or _volts(page, at, units)
    if joined is not None:
        return joined
    lex = page.lexemes[at]
    after = page.words(at + 1, at + 4)
    hit = unit_at(page, at + 1 + _loosely(after), units)
    if hit is None and after[:1] == [","] and len(after) > 1 and after[1] in BEHIND_A_COMMA:
        hit = unit_at(page, at + 2, units)
    if page.word(at + 1) == "of" and page.word(at + 2) in ("a", "an"):
        hit = unit_at(page, at + 3, units)  # "eight tenths of a millimetre", "half of a litre"
        if hit and hit[0].dimension == "turn" and lex.form != "fraction":
            hit = None
    value = lex.value if lex.value is not None else Decimal(0)
    if hit is None or not is_unit(page, at, hit[1], hit[0], units.words):
        return Quantity(at, at + 1, at, value, form=lex.form, sure=lex.sure)
    unit, end = hit
    return _hundred_more(page, Quantity(at, end, at, value, unit.unit, unit.dimension, form=lex.form, sure=lex.sure))


def _turning(page: Passage, at: int) -> Quantity | None:
    """"Idle's set to thirteen fifty": hundreds and tens of revolutions, in two numbers."""
    if not number_at(page, at + 1) or page.classes.turning.isdisjoint(page.words(at - TURNING_REACH, at + 3)):
        return None
    hundreds, tens = page.lexemes[at], page.lexemes[at + 1]
    if hundreds.form != "words" or tens.form != "words" or hundreds.value is None or tens.value is None or not (
            6 <= hundreds.value < 60 and 10 <= tens.value < 100 and hundreds.value % 10 and not tens.value % 5):
        return None
    end = at + 3 if page.word(at + 2) in REVOLUTIONS else at + 2
    unit, dimension = ("rpm", "speed") if end > at + 2 else ("", "")
    return Quantity(at, end, at, hundreds.value * 100 + tens.value, unit, dimension, form="words", sure=hundreds.sure)


def _volts(page: Passage, at: int, units: UnitTable) -> Quantity | None:
    """"Twelve six at rest": volts and tenths of a system of 12 V, in two numbers."""
    if not number_at(page, at + 1) or number_at(page, at + 2) or page.classes.volts_of.isdisjoint(
            page.words(at - VOLTS_REACH, at + VOLTS_REACH)):
        return None
    volts, tenths = page.lexemes[at], page.lexemes[at + 1]
    if volts.form != "words" or tenths.form != "words" or volts.value is None or tenths.value is None or not (
            9 <= volts.value <= 15 and 1 <= tenths.value <= 9) or page.word(at - 1) in ("a", "the"):
        return None
    hit = unit_at(page, at + 2, units)
    if hit is not None and hit[0].dimension != "voltage":
        return None
    return Quantity(at, hit[1] if hit else at + 2, at, volts.value + tenths.value / 10, "V", "voltage", form="words",
                    sure=False)


def _hundred_more(page: Passage, made: Quantity) -> Quantity:
    """"A buck ten foot pounds": a hundred and ten."""
    if page.words(made.start - 2, made.start) != ["a", "buck"] or not made.whole or not 1 <= made.value < 100:
        return made
    return replace(made, start=made.start - 2, value=made.value + 100, sure=False)


def _loosely(after: list[str]) -> int:
    """How many words between a number and its unit say that it is a rough one: "40 or so psi", "thirty-odd miles"."""
    if after[:2] in (["or", "so"], ["-", "ish"], ["-", "odd"]):
        return 2
    return 1 if after[:1] in (["odd"], ["ish"]) else 0
