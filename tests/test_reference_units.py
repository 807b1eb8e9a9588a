"""Units: factors against NIST SP 811, written forms, conversions, and how values are shown."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saidspec.patterns import rule_set
from saidspec.reference.units import (
    BY_NAME,
    COUNTERPARTS,
    UNITS,
    convert,
    convert_difference,
    convertible,
    counterpart,
    dimension,
    nearest_unit,
    read_unit,
    registry,
    show,
)

# NIST Special Publication 811 (2008), appendix B.8, factors as printed (seven digits; exact ones in full).
NIST_SP_811 = [
    ("lbf*ft", "N*m", "1.355818"),
    ("lbf*in", "N*m", "0.1129848"),
    ("kgf*m", "N*m", "9.80665"),
    ("gal", "L", "3.785412"),
    ("qt", "L", "0.9463529"),
    ("pint", "L", "0.4731765"),
    ("floz", "mL", "29.57353"),
    ("imperial_gal", "L", "4.54609"),
    ("imperial_floz", "mL", "28.41306"),
    ("in", "mm", "25.4"),
    ("thou", "mm", "0.0254"),
    ("ft", "m", "0.3048"),
    ("mi", "km", "1.609344"),
    ("psi", "kPa", "6.894757"),
    ("bar", "kPa", "100"),
    ("lb", "kg", "0.4535924"),
    ("year", "day", "365.25"),
    ("inHg", "kPa", "3.386389"),
]


@pytest.mark.parametrize(("unit", "to", "printed"), NIST_SP_811)
def test_factor_is_that_of_nist_sp_811(unit: str, to: str, printed: str) -> None:
    published = Decimal(printed)
    step = Decimal(1).scaleb(published.as_tuple().exponent)  # type: ignore[arg-type]
    assert abs(convert(Decimal(1), unit, to) - published) <= step / 2


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (-40, -40), (98.6, 37)])
def test_temperature_is_shifted_and_scaled(fahrenheit: float, celsius: float) -> None:
    # NIST SP 811, B.8: t/degC = (t/degF - 32)/1.8
    assert abs(convert(Decimal(str(fahrenheit)), "degF", "degC") - Decimal(str(celsius))) < Decimal("1e-20")


def test_a_difference_of_temperature_is_not_shifted() -> None:
    assert convert_difference(Decimal(9), "degF", "degC").quantize(Decimal("1e-15")) == 5


@given(st.decimals("0.001", "10000", places=3), st.sampled_from([unit.name for unit in UNITS]))
def test_there_and_back_is_the_same_number(value: Decimal, name: str) -> None:
    for other in UNITS:
        if convertible(name, other.name):
            back = convert(convert(value, name, other.name), other.name, name)
            assert abs(back - value) <= abs(value) * Decimal("1e-20") + Decimal("1e-20")


def test_every_unit_is_known_to_the_registry_with_its_own_dimension() -> None:
    for unit in UNITS:
        registry().parse_units(unit.pint)
    for unit in UNITS:
        for other in UNITS:
            one, two = (registry().parse_units(each.pint).dimensionality for each in (unit, other))
            alike = one == two
            assert not convertible(unit.name, other.name) or alike, (unit.name, other.name)


@pytest.mark.parametrize(("written", "unit"), [
    ("N*m", "N*m"), ("Nm", "N*m"), ("N·m", "N*m"), ("newton metres", "N*m"), ("ft-lb", "lbf*ft"), ("lb.ft", "lbf*ft"),
    ("lbf ft", "lbf*ft"), ("in-lbs", "lbf*in"), ("kgf·m", "kgf*m"), ("litres", "L"), ("l", "L"), ("ml", "mL"),
    ("quarts", "qt"), ("imp gal", "imperial_gal"), ("inch", "in"), ("°C", "degC"), ("kohm", "kohm"),
    ("month", "month"),
    ("hrs", "hour"), ("miles", "mi"),
])  # fmt: skip
def test_written_forms_mean_canonical_units(written: str, unit: str) -> None:
    assert read_unit(written) == unit


@pytest.mark.parametrize("written", ["", "N*n", "newtons", "foo", "m/s", "MPa", "lbf"])
def test_what_is_no_unit_is_none(written: str) -> None:
    assert read_unit(written) is None


@pytest.mark.parametrize(("misspelt", "near"), [
    ("N*n", "N*m"), ("lbf*fft", "lbf*ft"), ("litters", "L"), ("barr", "bar"),
])  # fmt: skip
def test_a_misspelt_unit_suggests_the_nearest(misspelt: str, near: str) -> None:
    assert nearest_unit(misspelt) == near


def test_nothing_near_suggests_nothing() -> None:
    assert nearest_unit("zzzzzz") is None


def test_torque_is_no_energy_and_a_length_no_distance() -> None:
    assert not convertible("mm", "km")
    assert not convertible("N*m", "L")
    assert dimension("joule") is None
    with pytest.raises(ValueError, match="do not measure the same"):
        convert(Decimal(1), "mm", "km")


@pytest.mark.parametrize(("value", "unit", "told"), [
    ("107", "N*m", "107 N·m (78.9 lbf·ft)"), ("9", "N*m", "9 N·m (79.7 lbf·in)"),
    ("35", "lbf*ft", "35 lbf·ft (47.5 N·m)"), ("4.3", "L", "4.3 L (4.54 qt)"), ("0.05", "mm", "0.05 mm (1.97 thou)"),
    ("28", "psi", "28 psi (1.93 bar)"), ("90", "degC", "90 °C (194 °F)"), ("12.6", "V", "12.6 V"),
    ("12", "week", "12 weeks"),
])  # fmt: skip
def test_a_value_is_shown_in_both_units(value: str, unit: str, told: str) -> None:
    assert show(Decimal(value), unit) == told


def test_a_range_is_shown_in_both_units() -> None:
    assert show(Decimal(100), "N*m", Decimal(115)) == "100 to 115 N·m (73.8 to 84.8 lbf·ft)"


def test_a_counterpart_measures_the_same() -> None:
    for unit, other in COUNTERPARTS.items():
        assert convertible(unit, other)
    assert counterpart(Decimal(1), "V") is None
    assert counterpart(Decimal(1), None) is None
    assert set(COUNTERPARTS) <= set(BY_NAME)


def test_every_unit_that_a_note_can_be_read_in_is_known() -> None:
    said = {entry["unit"] for entry in rule_set().entries("units", "unit")}
    assert said
    assert {unit for unit in said if not convertible(unit, unit)} == set()
    assert said <= set(BY_NAME)
