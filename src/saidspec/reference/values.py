"""The values of a reference sheet's entries: ranges, torque with an angle, limits, codes, intervals.

Nothing is guessed: what cannot be read raises `UnreadableError` with what is wrong and what to write instead.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from saidspec.model import Kind
from saidspec.reference.units import dimension, nearest_unit, read_unit

NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)"
SPEC_KINDS: tuple[Kind, ...] = ("torque", "volume", "size", "part_number", "fluid", "measurement", "interval")
EXAMPLES: dict[str, str] = {
    "torque": "107 N*m, 100 to 115 N*m or 35 N*m + 90 deg",
    "volume": "4.3 L",
    "size": "19 mm, 9/16 in, M8x1.25 or T45",
    "part_number": "KD-3318-F",
    "fluid": "5W-30 or DOT 4",
    "measurement": "min 22 mm, max 0.05 mm or 0.7 to 0.8 mm",
    "interval": "60000 km or 48 month",
}
FITTING: dict[str, tuple[str, ...]] = {
    "torque": ("torque",),
    "volume": ("volume",),
    "size": ("length", "wire"),
    "interval": ("distance", "time"),
}
SIGNS = str.maketrans({"−": "-", "–": "-", "—": "-", "\u00a0": " ", "\u202f": " ", "º": "°"})


class UnreadableError(ValueError):
    """A value that cannot be read; its text says why and what to write instead."""


@dataclass(frozen=True, slots=True)
class SpecValue:
    """The value of one specification; fields as in `Specification`."""

    value: Decimal | None = None
    value_high: Decimal | None = None
    unit: str | None = None
    code: str | None = None
    angle: Decimal | None = None
    bound: Literal["min", "max"] | None = None
    or_value: Decimal | None = None
    or_unit: str | None = None


def read_number(text: str) -> Decimal:
    """A number, a fraction or a whole number and a fraction ("1 1/16") as Decimal."""
    whole, _, fraction = text.strip().rpartition(" ") if "/" in text else (text.strip(), "", "")
    total = Decimal(whole) if whole else Decimal(0)
    if fraction:
        above, below = fraction.split("/")
        if Decimal(below) == 0:
            raise UnreadableError(f"'{text}' divides by zero")
        total += Decimal(above) / Decimal(below)
    return total


def known_unit(text: str, kind: Kind) -> str:
    """The canonical unit of a written one that fits the kind; else UnreadableError, naming the nearest known unit."""
    unit = read_unit(text)
    if unit is None:
        near = nearest_unit(text)
        raise UnreadableError(f"unknown unit '{text}'" + (f"; did you mean {near}?" if near else ""))
    fitting = FITTING.get(kind)
    if fitting and dimension(unit) not in fitting:
        raise UnreadableError(f"a {kind} cannot be in {unit}; write for example {EXAMPLES[kind]}")
    return unit


def check_figures(text: str, kind: Kind) -> None:
    """Refuse what is written so that two readings are possible."""
    if re.search(r"\d,\d", text):
        raise UnreadableError(f"'{text}' has a comma in a number; write a decimal point, and no separator of thousands")
    if "±" in text or "+/-" in text or "+-" in text:
        raise UnreadableError(f"'{text}': give the middle value, and the rest as tolerance = \"5 N*m\" or \"10 %\"")
    if re.fullmatch(NUMBER, text.strip()):
        raise UnreadableError(f"'{text}' has no unit; write for example {EXAMPLES[kind]}")


def read_amount(text: str, kind: Kind) -> SpecValue:
    """`107 N*m`, `100 to 115 N*m`, `min 22 mm`, `max 0.05 mm`."""
    bound = re.match(r"(min|max)(?:imum|\.)?\s+(?=[\d.])", text, re.IGNORECASE)
    rest = text[bound.end():] if bound else text
    found = re.fullmatch(rf"({NUMBER})(?:\s*(?:to|-|\.\.)\s*({NUMBER}))?\s*([^\d\s].*)", rest.strip())
    if not found:
        raise UnreadableError(f"cannot read '{text}' as a {kind}; write for example {EXAMPLES[kind]}")
    low, high, written = read_number(found[1]), found[2], found[3].strip()
    top = read_number(high) if high else None
    if top is not None and top <= low:
        raise UnreadableError(f"'{text}': the upper end of a range must be above the lower one")
    if bound and top is not None:
        raise UnreadableError(f"'{text}': a limit has one number; write '{bound[1].lower()} {high} {written}'")
    side: Literal["min", "max"] | None = None
    if bound:
        side = "min" if bound[1].lower() == "min" else "max"
    return SpecValue(low, top, known_unit(written, kind), bound=side)


def read_torque(text: str) -> SpecValue:
    """A torque, with its further turn where one is given: `35 N*m + 90 deg`."""
    amount, plus, turn = text.partition("+")
    if not plus:
        return read_amount(text, "torque")
    angle = re.fullmatch(rf"\s*({NUMBER})\s*(?:deg|degrees?|°)\s*", turn, re.IGNORECASE)
    if not angle:
        raise UnreadableError(f"cannot read '{turn.strip()}' as an angle; write for example 35 N*m + 90 deg")
    return replace(read_amount(amount.strip(), "torque"), angle=read_number(angle[1]))


def is_run(unit: str | None) -> bool:
    """Whether an interval in this unit is counted by the odometer or hour meter and not by the calendar."""
    return unit == "hour" or dimension(unit) == "distance"


def read_interval(text: str) -> SpecValue:
    """A distance, a time, or both: `60000 km or 48 month`."""
    parts = [read_amount(part.strip(), "interval") for part in re.split(r"\s+or\s+", text.strip())]
    if len(parts) > 2 or (len(parts) == 2 and is_run(parts[0].unit) == is_run(parts[1].unit)):
        raise UnreadableError(f"'{text}': an interval is one distance or running time, one time, or both; write for "
                              f"example {EXAMPLES['interval']} or 50 hour or 12 month")
    if len(parts) == 1:
        return parts[0]
    return replace(parts[0], or_value=parts[1].value, or_unit=parts[1].unit)


def read_size(text: str) -> SpecValue:
    """A length (`19 mm`, `9/16 in`) or a designation, which becomes the code (`M8x1.25`, `T45`, `225/60R17`)."""
    text = re.sub(r"^(\d+)-(\d+/\d+)(?=\s*(?:in\b|inch|\"))", r"\1 \2", text)  # 1-1/16 in
    if re.fullmatch(rf"{NUMBER}\s*(?:to\s*{NUMBER}\s*)?([a-zA-Z\"]+)", text) and not re.fullmatch(
            r"\d+(?:/\d+)?[- ]?(?:UNC|UNF|BSP|BSF|BSW|TPI)", text, re.IGNORECASE):
        return read_amount(text, "size")
    if re.search(r"[A-Za-z]", text) or "/" in text:
        return SpecValue(code=re.sub(r"\s+", " ", text.strip()).replace("×", "x"))
    raise UnreadableError(f"cannot read '{text}' as a size; write for example {EXAMPLES['size']}")


def read_value(kind: Kind, written: str) -> SpecValue:
    """The value of a specification of a kind.

    Raises UnreadableError, with what to write instead, where it cannot be read with certainty.
    """
    text = written.translate(SIGNS).strip()
    if not text:
        raise UnreadableError(f"value is empty; write for example {EXAMPLES[kind]}")
    if kind in ("part_number", "fluid"):
        return SpecValue(code=text.upper() if kind == "part_number" else text)
    check_figures(text, kind)
    if kind == "torque":
        return read_torque(text)
    if kind == "interval":
        return read_interval(text)
    if kind == "size":
        return read_size(text)
    return read_amount(text, kind)


def read_tolerance(written: str, unit: str | None) -> tuple[Decimal, str]:
    """`10 %` or `5 N*m`: the number, and "%" or the unit, which must measure what the value's unit measures."""
    text = written.translate(SIGNS).strip().removeprefix("±").removeprefix("+-").removeprefix("+/-").strip()
    found = re.fullmatch(rf"({NUMBER})\s*(\S.*)", text)
    if not found:
        raise UnreadableError(f"cannot read tolerance '{written}'; write for example \"10 %\" or \"5 N*m\"")
    amount, name = read_number(found[1]), found[2].strip()
    if name in ("%", "percent"):
        return amount, "%"
    of = read_unit(name)
    if of is None or (unit is not None and dimension(of) != dimension(unit)):
        near = nearest_unit(name) if of is None else unit
        raise UnreadableError(f"tolerance '{written}' is not in a unit of the value" +
                         (f"; did you mean {near}?" if near else "; write a percentage"))
    return amount, of
