"""Holds a said quantity against a specification: the verdict, the deviation and the tolerance, in words.

The verdict is worked out in one unit for each dimension and by ratios, so that it does not change when either side is
given in another unit.  Default tolerances, where a sheet gives none:

torque      4 % above 10 N*m, 6 % up to there: the permissible deviation of setting torque tools in ISO 6789 (2003, type
            II class A; kept in ISO 6789-1:2017).  Read in a tool maker's manual that cites the standard; the standard's
            own table was not seen.
volume      5 % (common practice: marks on a dipstick and on jugs are no finer)
size        0.25 mm (common practice: sizes across flats nearer than that take the same nut)
measurement 5 % (common practice), temperatures 3 degC; ranges 0.5 % at either end for rounding in conversion; wear and
            service limits stand as they are
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from saidspec.model import Fact, Specification
from saidspec.reference.units import convert, convert_difference, dimension, plain, rounded, show, shown_unit

SMALL_TORQUE = Decimal("10.0001")  # N*m; the last digit keeps a converted 10 N*m on its side
TORQUE, TORQUE_SMALL = Decimal(4), Decimal(6)
PERCENT: dict[str, Decimal] = {"volume": Decimal(5), "measurement": Decimal(5), "interval": Decimal(1)}
SIZE_MM = Decimal("0.25")
TEMPERATURE = Decimal(3)
RANGE_SLACK = Decimal("0.5")
APPROXIMATE = Decimal(10)  # per cent granted to "about" and "roughly" (common practice)
EPSILON = Decimal("1e-12")


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a said value agrees with a specification; the deviation and the tolerance as a reader is told them."""

    agrees: bool
    deviation: str
    tolerance: str
    limit: bool = False  # a service limit was held against a measurement


@dataclass(frozen=True, slots=True)
class Span:
    """A value or range in one unit."""

    low: Decimal
    high: Decimal
    unit: str


def base_unit(unit: str) -> str:
    """The unit in which a dimension is compared."""
    return "degC" if dimension(unit) == "temperature" else unit


def span_of(value: Decimal, high: Decimal | None, unit: str, to: str) -> Span:
    """A value or range in another unit."""
    return Span(convert(value, unit, to), convert(high if high is not None else value, unit, to), to)


def default_percent(spec: Specification) -> tuple[Decimal, str]:
    """The default tolerance of a nominal value in per cent, and what it rests on."""
    if spec.kind == "torque" and spec.value is not None and spec.unit is not None:
        small = convert(spec.value, spec.unit, "N*m") <= SMALL_TORQUE
        return (TORQUE_SMALL if small else TORQUE), "torque tools, ISO 6789-1"
    return PERCENT.get(spec.kind, Decimal(5)), "common practice"


def allowed(spec: Specification, unit: str, nominal: Decimal) -> tuple[Decimal, str]:
    """The tolerance of a nominal value: the difference allowed in `unit`, and how it is told."""
    if spec.tolerance is not None and spec.tolerance_unit == "%":
        return abs(nominal) * spec.tolerance / 100, f"{plain(spec.tolerance)} % (the sheet's)"
    if spec.tolerance is not None and spec.tolerance_unit:
        amount = convert_difference(spec.tolerance, spec.tolerance_unit, unit)
        return amount, f"{plain(spec.tolerance)} {shown_unit(spec.tolerance_unit)} (the sheet's)"
    if spec.kind == "size" and dimension(unit) != "length":
        return Decimal(0), "none: numbers of a gauge are equal or not"
    if spec.kind == "size":
        return convert(SIZE_MM, "mm", unit), "0.25 mm (common practice)"
    if dimension(unit) == "temperature":
        return TEMPERATURE, "3 °C (common practice)"
    percent, source = default_percent(spec)
    return abs(nominal) * percent / 100, f"{plain(percent)} % ({source})"


def percent_off(said: Decimal, wanted: Decimal) -> str:
    """How far off in per cent, with its sign."""
    if wanted == 0:
        return "from zero"
    off = (said - wanted) / abs(wanted) * 100
    return f"{'+' if off > 0 else ''}{plain(rounded(off, 2))} %"


def against_limit(said: Span, limit: Decimal, spec: Specification) -> Verdict:
    """A measurement against a wear or service limit, which stands as it is."""
    slack = abs(limit) * EPSILON
    worst = said.low if spec.bound == "min" else said.high
    gap = worst - limit if spec.bound == "min" else limit - worst
    agrees = gap >= -slack
    where = "inside" if agrees else "beyond"
    told = f"{show(rounded(abs(gap), 3), said.unit)} {where} the limit"
    return Verdict(agrees, told, "none: a limit stands as it is", limit=True)


def against_range(said: Span, wanted: Span, approximate: bool) -> Verdict:
    """A value or range against a range: the ends stand, but for rounding in conversion."""
    slack = RANGE_SLACK + (APPROXIMATE if approximate else 0)
    low, high = wanted.low - abs(wanted.low) * slack / 100, wanted.high + abs(wanted.high) * slack / 100
    agrees = said.low >= low - EPSILON and said.high <= high + EPSILON
    if agrees:
        return Verdict(True, "inside the range", f"the range and {plain(slack)} % at its ends")
    off = percent_off(said.low, wanted.low) if said.low < low else percent_off(said.high, wanted.high)
    end = "lower" if said.low < low else "upper"
    return Verdict(False, f"{off} from the {end} end", f"the range and {plain(slack)} % at its ends")


def against_nominal(said: Span, nominal: Decimal, spec: Specification, approximate: bool) -> Verdict:
    """A value against a nominal one with its tolerance; a said range agrees where it holds the nominal value."""
    amount, told = allowed(spec, said.unit, nominal)
    if approximate and abs(nominal) * APPROXIMATE / 100 > amount:
        amount, told = abs(nominal) * APPROXIMATE / 100, f"{plain(APPROXIMATE)} % (said as approximate)"
    slack = amount + abs(nominal) * EPSILON
    agrees = said.low - slack <= nominal <= said.high + slack
    nearest = said.low if abs(said.low - nominal) <= abs(said.high - nominal) else said.high
    off = f"{show(rounded(nearest - nominal, 2), said.unit)}" if dimension(said.unit) == "temperature" else (
        percent_off(nearest, nominal))
    return Verdict(agrees, off, told)


def compare_numbers(fact: Fact, spec: Specification, unit: str | None = None) -> Verdict | None:
    """A numeric fact against a specification, or None where the two cannot be compared.

    `unit` stands in for the fact's own: for a unit left out, or to try another one.
    """
    told = unit or fact.unit or spec.unit
    if fact.value is None or spec.value is None or spec.unit is None or told is None:
        return None
    if dimension(told) != dimension(spec.unit) or dimension(told) is None:
        return None
    base = base_unit(spec.unit)
    said = span_of(fact.value, fact.value_high, told, base)
    wanted = span_of(spec.value, spec.value_high, spec.unit, base)
    if spec.bound:
        return against_limit(said, wanted.low, spec)
    if spec.value_high is not None:
        return against_range(said, wanted, fact.approximate)
    return against_nominal(said, wanted.low, spec, fact.approximate)


def compare_claim(fact: Fact, spec: Specification) -> Verdict | None:
    """What the note quotes from a book or a label, as a claim about the reference: equal or not."""
    if fact.value is None or spec.value is None or spec.unit is None or not fact.unit:
        return None
    if dimension(fact.unit) != dimension(spec.unit):
        return None
    if not spec.bound:
        return compare_numbers(fact, spec)
    base = base_unit(spec.unit)
    said, limit = convert(fact.value, fact.unit, base), convert(spec.value, spec.unit, base)
    slack = TEMPERATURE if base == "degC" else abs(limit) / 100
    return Verdict(abs(said - limit) <= slack, percent_off(said, limit), "1 % (a quoted limit)", limit=True)
