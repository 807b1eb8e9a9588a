"""Values in the words that the reports print: said unit and counterpart, times, days, facts as short phrases."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

from saidspec.model import Fact, Kind, Quantity, Specification
from saidspec.reference.units import convert, counterpart, rounded, shown_unit

DONE: dict[str, str] = {
    "drain": "drained", "fill": "filled", "remove": "removed", "install": "installed", "replace": "replaced",
    "clean": "cleaned", "inspect": "inspected", "tighten": "tightened", "loosen": "loosened",
    "lubricate": "lubricated", "adjust": "adjusted", "bleed": "bled", "flush": "flushed", "test": "tested",
    "measure": "measured", "repair": "repaired", "rotate": "rotated", "reset": "reset",
}  # fmt: skip
# Kinds whose quantity is shown in the other system of units as well.  Tools, counts and times have no counterpart.
WITH_COUNTERPART: frozenset[Kind] = frozenset({"torque", "volume", "measurement", "odometer", "interval"})
WHOLE = Decimal(1)


def number(value: Decimal) -> str:
    """A number with its digits as said, thousands grouped from five digits on: 1.74, 9400, 148,312."""
    digits = f"{value:f}"
    whole, point, rest = digits.partition(".")
    return f"{int(whole):,}{point}{rest}" if len(whole.lstrip("-")) > 4 else digits


def in_fractions(value: Decimal) -> str:
    """Inches as tools are marked: 0.8125 is 13/16, 3.375 is 3 3/8; as said where no 64th fits."""
    top, bottom = (value * 64).as_integer_ratio() if value * 64 == (value * 64).to_integral_value() else (0, 0)
    if bottom != 1 or top % 64 == 0:
        return number(value)
    whole, rest = divmod(top, 64)
    part = Fraction(rest, 64)
    return f"{whole} {part}" if whole else str(part)


def unit_shown(unit: str, value: Decimal = WHOLE) -> str:
    """A unit of the contract in print: N·m, fl oz, 12 months, 1 month."""
    shown = shown_unit(unit)
    return shown[:-1] if value == 1 and shown.endswith("s") and len(shown) > 1 else shown


def amount(value: Decimal | None, high: Decimal | None, unit: str | None) -> str:
    """A number or range with its unit: "100 to 115 N·m", "45°", "" where there is no number."""
    if value is None:
        return ""
    told = number(value) if high is None else f"{number(value)} to {number(high)}"
    if not unit:
        return told
    shown = unit_shown(unit, value if high is None else high)
    return f"{told}{shown}" if shown in ("°", "%") else f"{told} {shown}"


def both_units(value: Decimal | None, high: Decimal | None, unit: str | None) -> str:
    """The quantity as said and, in brackets, its counterpart: "107 N·m (78.9 lbf·ft)"."""
    told = amount(value, high, unit)
    if value is None or not unit:
        return told
    other = counterpart(value, unit)
    if other is None:
        return told
    top = rounded(convert(high, unit, other[1])) if high is not None else None
    return f"{told} ({amount(other[0], top, other[1])})"


def quantity(fact: Fact | Specification) -> str:
    """The quantity of a fact or specification in words, with angle, approximation and bound."""
    counterpart = fact.kind in WITH_COUNTERPART
    told = (both_units if counterpart else amount)(fact.value, fact.value_high, fact.unit)
    if fact.kind == "size" and fact.unit == "in" and fact.value is not None and fact.value_high is None:
        told = f"{in_fractions(fact.value)} in"
    if fact.angle is not None:
        turn = fact.angle.quantize(WHOLE) if fact.angle == fact.angle.to_integral_value() else fact.angle
        told = f"{told or 'hand tight'} + {amount(turn, None, 'deg')}"
    if isinstance(fact, Fact):
        return f"about {told}" if fact.approximate and told else told
    if fact.or_value is not None:
        told = f"{told} or {amount(fact.or_value, None, fact.or_unit)}"
    return f"{fact.bound}imum {told}" if fact.bound else told


def phrase(fact: Fact) -> str:
    """What a fact says, without its component: "107 N·m (78.9 lbf·ft)", "4 mm thickness", "replaced", "dry"."""
    if fact.kind == "operation":
        return DONE.get(fact.action or "", fact.provenance.quote)
    if fact.kind == "observation":
        return fact.finding or fact.provenance.quote
    if fact.kind == "follow_up":
        return fact.action or fact.provenance.quote
    parts = [quantity(fact), fact.code or ""]
    if fact.kind == "interval":
        parts.insert(0, fact.role or "")
    elif fact.role and not (fact.kind == "size" and fact.role == "part"):
        parts.append(fact.role)
    return " ".join(part for part in parts if part) or fact.provenance.quote


def said_quantity(side: Quantity) -> str:
    """One side of a flag in words."""
    return both_units(side.value, side.value_high, side.unit) or side.code or ""


def distance(value: Decimal, unit: str) -> str:
    """A distance to the whole unit, with its counterpart: "148,312 km (92,157 mi)"."""
    return both_units(value.quantize(WHOLE), None, unit)


def clock(seconds: float | None) -> str:
    """A time in a recording: 0:07, 12:34, 1:02:03; "" where there is none."""
    if seconds is None:
        return ""
    minutes, second = divmod(int(seconds), 60)
    hour, minute = divmod(minutes, 60)
    return f"{hour}:{minute:02}:{second:02}" if hour else f"{minute}:{second:02}"


def day_shown(day: date | None) -> str:
    """A day that nobody can misread: 3 May 2026."""
    return f"{day.day} {day:%B} {day.year}" if day else "day not known"
