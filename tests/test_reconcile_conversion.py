"""No conversion of units changes a verdict, and the causes' helpers keep their promises."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Literal

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from saidspec.heard.confusions import like_sounding, load_confusions
from saidspec.model import Fact, Kind, Provenance, Sheet, Specification, Vehicle
from saidspec.reconcile.causes import WORDS, Difference, causes
from saidspec.reconcile.compare import Verdict, compare_numbers
from saidspec.reconcile.run import reconcile
from saidspec.reconcile.swaps import swapped
from saidspec.reference.units import BY_NAME, convert, convert_difference
from tests.reconcile_notes import Spoken, torque

UNITS: dict[Kind, list[str]] = {
    "torque": ["N*m", "lbf*ft", "lbf*in", "kgf*m"],
    "volume": ["L", "mL", "qt", "pint", "gal", "floz", "imperial_qt", "imperial_gal"],
    "size": ["mm", "in"],
    "measurement": ["mm", "in", "thou"],
}
PRESSURES, TEMPERATURES = ["psi", "bar", "kPa"], ["degC", "degF"]
KINDS = [*((kind, units) for kind, units in UNITS.items()), ("measurement", PRESSURES), ("measurement", TEMPERATURES)]
KNOWN = load_confusions()
Bound = Literal["min", "max"] | None


def fact(kind: Kind, value: Decimal, unit: str) -> Fact:
    return Fact(1, kind, Provenance("it", 0, 2), "part", value, unit=unit)


def in_unit(spec: Specification, unit: str) -> Specification:
    """A specification with its value, range and tolerance in another unit."""
    assert spec.value is not None
    assert spec.unit is not None
    high = convert(spec.value_high, spec.unit, unit) if spec.value_high is not None else None
    tolerance, of = spec.tolerance, spec.tolerance_unit
    if tolerance is not None and of not in (None, "%"):
        tolerance, of = convert_difference(tolerance, of or "", unit), unit
    return replace(spec, value=convert(spec.value, spec.unit, unit), value_high=high, unit=unit, tolerance=tolerance,
                   tolerance_unit=of)


@st.composite
def pairs(draw: st.DrawFn) -> tuple[Fact, Specification, list[str]]:
    """A fact, a specification near it, and the units that both may be given in."""
    kind, units = draw(st.sampled_from(KINDS))
    unit = draw(st.sampled_from(units))
    value = draw(st.decimals("0.1", "500", places=2))
    said = draw(st.one_of(st.just(value), st.decimals("0.5", "2", places=3).map(lambda ratio: value * ratio)))
    form = draw(st.sampled_from(["nominal", "range", "min", "max", "percent", "amount"]))
    spec = Specification("part", kind, "m", value, unit=unit)
    if form == "range":
        spec = replace(spec, value_high=value * draw(st.decimals("1.01", "1.5", places=2)))
    elif form in ("min", "max"):
        bound: Bound = "min" if form == "min" else "max"
        spec = replace(spec, bound=bound)
    elif form == "percent" and units is not TEMPERATURES:
        spec = replace(spec, tolerance=Decimal(draw(st.integers(1, 20))), tolerance_unit="%")
    elif form == "amount":
        spec = replace(spec, tolerance=value / 20, tolerance_unit=unit)
    return fact(kind, said, unit), spec, units


def agrees(verdict: Verdict | None) -> bool:
    assert verdict is not None
    return verdict.agrees


@settings(deadline=None)  # the units are loaded in the first run
@given(pairs(), st.data())
def test_no_conversion_changes_a_verdict(pair: tuple[Fact, Specification, list[str]], data: st.DataObject) -> None:
    said, spec, units = pair
    assert said.value is not None
    assert said.unit is not None
    one, other = data.draw(st.sampled_from(units)), data.draw(st.sampled_from(units))
    first = agrees(compare_numbers(said, spec))
    converted = replace(said, value=convert(said.value, said.unit, one), unit=one)
    assert agrees(compare_numbers(converted, in_unit(spec, other))) == first


@settings(deadline=None, max_examples=60)
@given(st.decimals("5", "300", places=1), st.decimals("0.5", "2", places=3), st.sampled_from(UNITS["torque"]),
       st.sampled_from(UNITS["torque"]))
def test_no_conversion_changes_what_is_flagged(value: Decimal, ratio: Decimal, unit: str, other: str) -> None:
    spec = Specification("wheel nut", "torque", "m", value, unit="N*m")

    def outcome(said: Decimal, said_in: str, of: Specification) -> tuple[list[str], int]:
        spoken = Spoken().say("wheel nuts at that", torque("wheel nut", said, said_in))
        flags, agreements, _ = reconcile(spoken.reading(), Sheet(Vehicle("Hallam Drover"), (of,)))
        return [flag.check for flag in flags], len(agreements)

    converted = convert(value * ratio, "N*m", unit)
    assert outcome(converted, unit, in_unit(spec, other)) == outcome(value * ratio, "N*m", spec)


@settings(deadline=None)
@given(st.decimals("1", "400", places=1), st.sampled_from(UNITS["torque"]), st.sampled_from(UNITS["torque"]))
def test_the_number_of_another_unit_is_named_so(value: Decimal, unit: str, other: str) -> None:
    assume(unit != other)
    spec = Specification("part", "torque", "m", value, unit=unit)
    said = fact("torque", value, other)
    assert not agrees(compare_numbers(said, spec))
    assert causes(Difference(said, spec))[0].cause == "unit"


@settings(deadline=None)
@given(st.integers(10, 999), st.integers(-3, 3))
def test_a_cause_explains_the_difference_or_none_is_named(wanted: int, shift: int) -> None:
    assume(shift != 0)
    spec = Specification("part", "torque", "m", Decimal(wanted), unit="N*m")
    said = fact("torque", Decimal(wanted) * Decimal(10) ** shift, "N*m")
    named = [found.cause for found in causes(Difference(said, spec))]
    assert "decimal" in named
    assert set(named) <= set(WORDS)


@settings(deadline=None)
@given(st.integers(10, 9999))
def test_swapping_twice_gives_the_number_back(number: int) -> None:
    for text in swapped(str(number)):
        assert str(number) in set(swapped(text))
        assert sorted(text) == sorted(str(number))


@settings(deadline=None)
@given(st.integers(1, 999))
def test_what_sounds_alike_does_so_both_ways(number: int) -> None:
    for other in like_sounding(Decimal(number), KNOWN):
        assert Decimal(number) in set(like_sounding(other, KNOWN))


def test_teens_and_tens() -> None:
    heard = {number: {int(other) for other in like_sounding(Decimal(number), KNOWN)}
             for number in (15, 50, 13, 30, 115, 22)}  # fmt: skip
    assert heard[15] >= {50}
    assert heard[50] >= {15}
    assert heard[13] == {30}
    assert heard[30] == {13}
    assert 150 in heard[115]
    assert heard[22] == set()


def test_every_unit_of_the_table_is_known() -> None:
    assert all(unit in BY_NAME for _, units in KINDS for unit in units)
