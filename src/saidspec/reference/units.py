"""The one unit registry of the project: canonical unit names, conversions in Decimal, and how a unit is written.

Words never reach pint: a written or spoken unit is first mapped to a canonical name of the output contract, and only
canonical names are converted.  (pint reads "foot pounds" as length times mass and "Nm" as a number times metres.)
Factors are those of NIST Special Publication 811 (2008), appendix B.8; the tests check each of them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import pint

Dimension = Literal[
    "torque", "volume", "length", "distance", "pressure", "voltage", "resistance", "current", "temperature", "time",
    "mass", "angle", "speed", "rotation", "ratio", "wire", "power", "charge",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Unit:
    """A canonical unit: its dimension, its pint expression, how a person reads it, and how sheets write it."""

    name: str
    dimension: Dimension
    pint: str
    shown: str
    written: str = ""  # other written forms, comma separated, in lower case without spaces, dots and hyphens


UNITS: tuple[Unit, ...] = (
    Unit("N*m", "torque", "newton * meter", "N·m", "nm, newtonmetre, newtonmeter"),
    Unit("lbf*ft", "torque", "force_pound * foot", "lbf·ft", "ftlb, ftlbf, lbft, lbfft, footpound, poundfoot"),
    Unit("lbf*in", "torque", "force_pound * inch", "lbf·in", "inlb, inlbf, lbin, lbfin, inchpound, poundinch"),
    Unit("kgf*m", "torque", "kilogram_force * meter", "kgf·m", "kgm, mkg, mkgf, kpm"),
    Unit("L", "volume", "liter", "L", "l, litre, liter, ltr"),
    Unit("mL", "volume", "milliliter", "mL", "ml, cc, cm3, millilitre, milliliter"),
    Unit("qt", "volume", "US_liquid_quart", "qt", "quart, usqt"),
    Unit("pint", "volume", "pint", "pt", "pt, pints"),
    Unit("gal", "volume", "US_liquid_gallon", "gal", "gallon, usgal"),
    Unit("floz", "volume", "US_fluid_ounce", "fl oz", "fluidounce, oz"),
    Unit("imperial_qt", "volume", "imperial_quart", "imperial qt", "impqt, ukqt, imperialquart"),
    Unit("imperial_pint", "volume", "imperial_pint", "imperial pt", "imppt, ukpt, imperialpint"),
    Unit("imperial_gal", "volume", "imperial_gallon", "imperial gal", "impgal, ukgal, imperialgallon"),
    Unit("imperial_floz", "volume", "imperial_fluid_ounce", "imperial fl oz", "impfloz, ukfloz"),
    Unit("mm", "length", "millimeter", "mm", "millimetre, millimeter"),
    Unit("cm", "length", "centimeter", "cm", "centimetre, centimeter"),
    Unit("m", "length", "meter", "m", "metre, meter"),
    Unit("in", "length", "inch", "in", 'inch, inches, "'),
    Unit("thou", "length", "thou", "thou", "mil"),
    Unit("ft", "length", "foot", "ft", "foot, feet"),
    Unit("km", "distance", "kilometer", "km", "kilometre, kilometer, kms"),
    Unit("mi", "distance", "mile", "mi", "mile"),
    Unit("psi", "pressure", "psi", "psi", "lb/in2, lbf/in2"),
    Unit("bar", "pressure", "bar", "bar"),
    Unit("kPa", "pressure", "kilopascal", "kPa", "kilopascal"),
    Unit("inHg", "pressure", "inch_Hg", "inHg", "inchofmercury, inchesofmercury"),
    Unit("V", "voltage", "volt", "V", "volt"),
    Unit("mV", "voltage", "millivolt", "mV", "millivolt"),
    Unit("ohm", "resistance", "ohm", "Ω", "ω, ohms"),
    Unit("kohm", "resistance", "kiloohm", "kΩ", "kω, kiloohm"),
    Unit("A", "current", "ampere", "A", "amp, ampere"),
    Unit("mA", "current", "milliampere", "mA", "milliamp, milliampere"),
    Unit("Ah", "charge", "ampere * hour", "Ah", "amphour, amperehour"),
    Unit("W", "power", "watt", "W", "watt"),
    Unit("degC", "temperature", "degC", "°C", "°c, c, celsius"),
    Unit("degF", "temperature", "degF", "°F", "°f, f, fahrenheit"),
    Unit("s", "time", "second", "s", "sec, second"),
    Unit("min", "time", "minute", "min", "minute"),
    Unit("hour", "time", "hour", "h", "h, hr, hrs"),
    Unit("day", "time", "day", "days"),
    Unit("week", "time", "week", "weeks"),
    Unit("month", "time", "month", "months", "mo"),
    Unit("year", "time", "year", "years", "yr"),
    Unit("g", "mass", "gram", "g", "gram"),
    Unit("kg", "mass", "kilogram", "kg", "kilogram, kilo"),
    Unit("lb", "mass", "pound", "lb", "lbs"),
    Unit("deg", "angle", "degree", "°", "°, degree"),
    Unit("turn", "angle", "turn", "turns"),
    Unit("rpm", "rotation", "rpm", "rpm", "rev/min, 1/min"),
    Unit("percent", "ratio", "percent", "%", "%, pct"),
    Unit("gauge", "wire", "dimensionless", "gauge", "awg"),
)

BY_NAME: dict[str, Unit] = {unit.name: unit for unit in UNITS}
IMPERIAL: dict[str, str] = {name: f"imperial_{name}" for name in ("qt", "pint", "gal", "floz")}

# The customary other unit that a reader may have a tool or a jug for.
COUNTERPARTS: dict[str, str] = {
    "N*m": "lbf*ft", "lbf*ft": "N*m", "lbf*in": "N*m", "kgf*m": "N*m", "L": "qt", "mL": "floz", "qt": "L",
    "pint": "L", "gal": "L", "floz": "mL", "imperial_qt": "L", "imperial_pint": "L", "imperial_gal": "L",
    "imperial_floz": "mL", "mm": "in", "cm": "in", "in": "mm", "thou": "mm", "ft": "m", "m": "ft", "km": "mi",
    "mi": "km", "psi": "bar", "bar": "psi", "kPa": "psi", "inHg": "kPa", "degC": "degF", "degF": "degC", "kg": "lb",
    "lb": "kg",
}  # fmt: skip
SMALL_TORQUE = Decimal(15)  # N*m below which inch pounds are the customary counterpart (common practice)


def squash(text: str) -> str:
    """A written unit without case, spaces, dots, hyphens and signs of multiplication."""
    return re.sub(r"[\s·.*×\-]+", "", text).lower()


@cache
def written_forms() -> dict[str, str]:
    """Every accepted written form, squashed, and the canonical unit that it means."""
    forms: dict[str, str] = {}
    for unit in UNITS:
        for form in [unit.name, unit.shown, *filter(None, unit.written.split(", "))]:
            forms.setdefault(squash(form), unit.name)
            if len(form) > 3 and not form.endswith("s"):
                forms.setdefault(squash(form) + "s", unit.name)
    for wrong in ("newtonmetres", "newtonmeters", "footpounds", "inchpounds"):
        forms.setdefault(wrong, forms[wrong[:-1]])
    return forms


def read_unit(text: str) -> str | None:
    """The canonical unit that a written unit means ("Nm", "lb-ft", "litres"), or None."""
    if text in BY_NAME:
        return text
    return written_forms().get(squash(text))


def nearest_unit(text: str) -> str | None:
    """The canonical unit whose written form is nearest to a misspelt one, or None where nothing is near."""
    near = get_close_matches(squash(text), written_forms(), n=1, cutoff=0.5)
    return written_forms()[near[0]] if near else None


def dimension(unit: str | None) -> Dimension | None:
    """What a canonical unit measures; None for no unit or one that is not known."""
    known = BY_NAME.get(unit or "")
    return known.dimension if known else None


@cache
def registry() -> pint.UnitRegistry[Decimal]:
    """The project's one pint registry, with Decimal magnitudes.  Made on first use: importing pint takes a while."""
    import pint

    return pint.UnitRegistry(non_int_type=Decimal)


@cache
def factor(unit: str, to: str) -> Decimal:
    """How many of `to` one `unit` is; units of one dimension with a common zero."""
    made = registry().Quantity(Decimal(1), BY_NAME[unit].pint).to(BY_NAME[to].pint)
    return Decimal(made.magnitude)


def convertible(unit: str | None, to: str | None) -> bool:
    """Whether both measure the same: one unit, or known ones of one dimension (a length in mm is no distance in km)."""
    return unit is not None and (unit == to or (dimension(unit) is not None and dimension(unit) == dimension(to)))


def convert(value: Decimal, unit: str, to: str) -> Decimal:
    """A value in another unit of the same dimension.

    Raises ValueError where the two units do not measure the same.
    """
    if unit == to:
        return value
    if not convertible(unit, to):
        raise ValueError(f"{unit} and {to} do not measure the same")
    if dimension(unit) == "temperature":
        return Decimal(registry().Quantity(value, BY_NAME[unit].pint).to(BY_NAME[to].pint).magnitude)
    return value * factor(unit, to)


def convert_difference(value: Decimal, unit: str, to: str) -> Decimal:
    """A difference (a tolerance, a deviation) in another unit: for temperatures without the shift of zero."""
    if dimension(unit) == "temperature" and unit != to:
        return convert(value, unit, to) - convert(Decimal(0), unit, to)
    return convert(value, unit, to)


def counterpart(value: Decimal, unit: str | None) -> tuple[Decimal, str] | None:
    """The value in the customary other unit, rounded for reading, or None where there is none.

    Small torques go to inch pounds, lengths under 1 mm to thousandths of an inch.
    """
    other = COUNTERPARTS.get(unit or "")
    if unit is None or other is None:
        return None
    if unit == "N*m" and abs(value) < SMALL_TORQUE:
        other = "lbf*in"
    if unit == "mm" and abs(value) < 1:
        other = "thou"
    if unit == "L" and abs(value) < Decimal("0.5"):
        other = "floz"
    return rounded(convert(value, unit, other)), other


def rounded(value: Decimal, digits: int = 3) -> Decimal:
    """A converted value to a number of significant digits that a tool can show (whole numbers keep all of theirs)."""
    if value == 0:
        return Decimal(0)
    places = max(digits - 1 - value.adjusted(), 0)
    return value.quantize(Decimal(1).scaleb(-places))


def plain(value: Decimal) -> str:
    """A number without exponent and trailing zeros."""
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def shown_unit(unit: str | None) -> str:
    """How a person reads a unit."""
    return BY_NAME[unit].shown if unit in BY_NAME else (unit or "")


def show(value: Decimal, unit: str | None, high: Decimal | None = None) -> str:
    """A value or range with its unit and, in brackets, in its customary other unit: `107 N·m (78.9 lbf·ft)`."""
    numbers = plain(value) if high is None else f"{plain(value)} to {plain(high)}"
    told = f"{numbers} {shown_unit(unit)}".strip()
    other = counterpart(value, unit)
    if other is None:
        return told
    number, name = other
    top = "" if high is None or unit is None else f" to {plain(rounded(convert(high, unit, name)))}"
    return f"{told} ({plain(number)}{top} {shown_unit(name)})"
