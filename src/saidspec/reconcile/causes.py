"""Why does it differ?  Each cause is tried on a difference; the one that explains it best comes first.

The cost of a cause is its prior (how readily that mistake is made) plus how far the explained value is still off.
A cause that explains nothing costs nothing and is not named.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from saidspec.heard.confusions import codes_alike, like_sounding, load_confusions, point_elsewhere
from saidspec.model import Cause, Fact, Specification
from saidspec.reconcile.swaps import exchanged, swapped
from saidspec.reference.units import convert, dimension

CONFUSED: dict[str, tuple[str, ...]] = {
    "torque": ("N*m", "lbf*ft", "lbf*in", "kgf*m"),
    "volume": ("L", "qt", "pint", "gal", "mL", "floz"),
    "length": ("mm", "in", "thou", "cm"),
    "pressure": ("psi", "bar", "kPa"),
    "temperature": ("degC", "degF"),
    "distance": ("km", "mi"),
    "resistance": ("ohm", "kohm"),
    "time": ("month", "year", "hour", "day", "week"),
}
NEARLY = Decimal(3)  # per cent that an explained value may still be off
EXACTLY = Decimal("1.2")  # per cent for explanations by other numbers, which fit by chance more easily
WORDS: dict[Cause, str] = {
    "unit": "the number is right in another unit",
    "neighbour": "it is the value of a neighbouring part",
    "misheard": "it sounds like the right number",
    "decimal": "the decimal point is off",
    "transposed": "two digits are swapped",
    "imperial-quart": "US and imperial measure are mixed up",
    "old-part": "it is a superseded number",
}


@dataclass(frozen=True, slots=True)
class Named:
    """A cause with its cost, the smaller the likelier, and what it comes to: "35 N*m", "the pump's 45 N*m"."""

    cause: Cause
    cost: Decimal
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Difference:
    """A said quantity that differs from a specification, and the other specifications of the vehicle.

    `near` tells which of the others belong to the same system.
    """

    fact: Fact
    spec: Specification
    others: tuple[Specification, ...] = ()
    near: frozenset[str] = frozenset()  # components of the same system

    @property
    def unit(self) -> str | None:
        """The unit of the said value."""
        return self.fact.unit or self.spec.unit


def off_by(value: Decimal, unit: str, spec: Specification) -> Decimal | None:
    """How far in per cent a value is from a specification: 0 inside a range or on the right side near a limit."""
    if spec.value is None or spec.unit is None or dimension(unit) != dimension(spec.unit):
        return None
    said = convert(value, unit, spec.unit)
    low, high = spec.value, spec.value_high if spec.value_high is not None else spec.value
    if spec.bound:
        ratio = said / low if low else Decimal(0)
        inside = ratio >= 1 if spec.bound == "min" else ratio <= 1
        return Decimal(0) if inside and Decimal("0.6") <= ratio <= Decimal("1.7") else None
    if low <= said <= high:
        return Decimal(0)
    nearest = low if said < low else high
    if dimension(spec.unit) == "temperature":
        return abs(said - nearest)
    return abs(said - nearest) / abs(nearest) * 100 if nearest else None


def by_unit(difference: Difference) -> Iterator[Named]:
    """The number fits in another unit of the same quantity."""
    fact, spec, unit = difference.fact, difference.spec, difference.unit
    if fact.value is None or unit is None or spec.bound:
        return
    for other in CONFUSED.get(dimension(unit) or "", ()):
        if other == unit:
            continue
        off = off_by(fact.value, other, spec)
        if off is not None and off <= NEARLY:
            yield Named("unit", off * Decimal("0.3"), other)


def by_power(difference: Difference) -> Iterator[Named]:
    """The number fits with its decimal point elsewhere."""
    fact, unit = difference.fact, difference.unit
    if fact.value is None or unit is None:
        return
    for value in point_elsewhere(fact.value, load_confusions()):
        off = off_by(value, unit, difference.spec)
        if off is not None and off <= EXACTLY:
            yield Named("decimal", Decimal("0.25") + off * Decimal("0.2"), format(value, "f"))


def by_other_number(difference: Difference, others: Iterator[Decimal], cause: Cause) -> Iterator[Named]:
    """The number fits when it is one of others that are taken for it: the sheet's very number where the units are the
    same, else near it, for converted figures are rounded."""
    unit = difference.unit
    most = Decimal(0) if unit == difference.spec.unit else EXACTLY
    for value in others:
        off = off_by(value, unit, difference.spec) if unit else None
        if off is not None and off <= most:
            yield Named(cause, Decimal("0.2") + off * Decimal("0.2"), format(value, "f"))


def by_swap(difference: Difference) -> Iterator[Named]:
    """The number fits with two of its digits swapped."""
    fact = difference.fact
    if fact.value is None or difference.spec.bound:
        return
    texts = swapped(format(fact.value, "f"))
    yield from by_other_number(difference, (Decimal(text) for text in texts if text[0] != "0"), "transposed")


def by_sound(difference: Difference) -> Iterator[Named]:
    """The number fits when it is one that sounds like it."""
    fact = difference.fact
    if fact.value is not None and not difference.spec.bound:
        yield from by_other_number(difference, like_sounding(fact.value, load_confusions()), "misheard")


def by_neighbour(difference: Difference) -> Iterator[Named]:
    """The number is that of another specification of the same kind, best of the same system."""
    fact, spec, unit = difference.fact, difference.spec, difference.unit
    for other in difference.others:
        if other.kind != spec.kind or other.component == spec.component or other.bound:
            continue
        near = Decimal("0.15") if other.component in difference.near else Decimal("0.25")
        if fact.value is not None and unit and other.value_high is None:
            off = off_by(fact.value, unit, other)
            if off is not None and off <= EXACTLY:
                yield Named("neighbour", near + off * Decimal("0.2"), other.component)
        elif fact.code and other.code and bare(fact.code) == bare(other.code):
            yield Named("neighbour", near, other.component)


def bare(code: str) -> str:
    """A code in upper case without separators."""
    return re.sub(r"[^A-Z0-9]", "", code.upper())


def by_code(difference: Difference) -> Iterator[Named]:
    """A part number that was superseded, has two characters swapped, or one that sounds like the right one."""
    fact, spec = difference.fact, difference.spec
    if fact.kind != "part_number" or not fact.code or not spec.code:
        return
    said, wanted = bare(fact.code), bare(spec.code)
    if said in {bare(old) for old in spec.replaces}:
        yield Named("old-part", Decimal(0), spec.code)
    if wanted in set(swapped(said)) or exchanged(said, wanted):
        yield Named("transposed", Decimal("0.2"), spec.code)
    if codes_alike(said, wanted, load_confusions()):
        yield Named("misheard", Decimal("0.25"), spec.code)


TRIED: tuple[Callable[[Difference], Iterator[Named]], ...] = (
    by_unit, by_neighbour, by_swap, by_sound, by_power, by_code,
)  # fmt: skip


def causes(difference: Difference) -> list[Named]:
    """The causes that explain a difference, each once, the likeliest first."""
    found = sorted((named for tried in TRIED for named in tried(difference)), key=lambda named: named.cost)
    best: dict[Cause, Named] = {}
    for named in found:
        best.setdefault(named.cause, named)
    return list(best.values())
