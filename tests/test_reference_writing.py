"""Writing sheets: what is written is read back, and a first sheet is made of what notes quoted."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saidspec.model import Fact, Kind, Provenance, Specification, Vehicle
from saidspec.reference.sheets import read_toml
from saidspec.reference.values import read_value
from saidspec.reference.writing import HEAD, TO_CONFIRM, sheet_text, started, unconfirmed, value_text
from tests.reconcile_notes import sheet

D = Decimal
VEHICLE = Vehicle('The "Drover"', 2012, ("2.0 diesel",), "km", "imperial")


def quoted(kind: Kind, component: str | None, quote: str = "the book says", **fields: object) -> Fact:
    return Fact(1, kind, Provenance(quote, 0, len(quote)), component, assertion="quoted", **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(("kind", "written"), [
    ("torque", "107 N*m"), ("torque", "100 to 115 N*m"), ("torque", "35 N*m + 90 deg"), ("measurement", "min 22 mm"),
    ("measurement", "max 0.05 mm"), ("interval", "60000 km or 48 month"), ("size", "M8x1.25"), ("fluid", "DOT 4"),
])  # fmt: skip
def test_a_value_is_written_as_it_is_read(kind: Kind, written: str) -> None:
    (spec,) = sheet(("part", kind, written)).specifications
    assert value_text(spec) == written


@given(st.text(st.characters(exclude_categories=("Cs",)), min_size=1).filter(lambda text: text.strip() == text),
       st.decimals("0.01", "9999", places=2))
def test_a_sheet_is_read_back_whatever_it_is_called(name: str, value: Decimal) -> None:
    spec = Specification(name, "torque", f"book of {name}", value, None, "N*m", tolerance=D(10), tolerance_unit="%",
                         only=name)
    made, problems = read_toml(sheet_text(Vehicle(name, options=(name,)), [spec]), "sheet.toml")
    assert not problems
    (read,) = made.specifications
    assert (read.component, read.source, read.value, read.only) == (name, f"book of {name}", value, name)
    assert made.vehicle == Vehicle(name, options=(name,))


def test_a_vehicle_is_read_back() -> None:
    spec = Specification("part", "part_number", "list", code="KD-3318-F", replaces=("KD-3318-E",))
    made, problems = read_toml(sheet_text(VEHICLE, [spec], HEAD), "sheet.toml")
    assert not problems
    assert made.vehicle == VEHICLE
    assert made.specifications[0].replaces == ("KD-3318-E",)


def test_a_first_sheet_of_what_was_quoted() -> None:
    told = [
        quoted("torque", "caliper bracket bolt", "book says 107", value=D(107), unit="N*m"),
        quoted("torque", "caliper bracket bolt", "107 again", value=D(107), unit="N*m"),
        quoted("torque", "caliper bracket bolt", "the label says 110", value=D(110), unit="N*m"),
        quoted("measurement", "brake disc", "minimum stamped on the hat is 24", value=D(24), unit="mm"),
        quoted("volume", "engine oil", "takes 4.3 litres", value=D("4.3"), unit="L"),
        quoted("torque", None, "12 for those", value=D(12), unit="N*m"),
        quoted("torque", "hub nut", "hand tight"),
        quoted("odometer", "engine", "sticker says 49200", value=D(49200), unit="km"),
        quoted("torque", "drain plug", "34", value=D(34), unit="N*m").but(assertion="stated"),
    ]
    specs = started((fact, "note.txt", "") for fact in told)
    assert [(spec.component, value_text(spec), spec.role) for spec in specs] == [
        ("caliper bracket bolt", "107 N*m", None), ("caliper bracket bolt", "110 N*m", None),
        ("brake disc", "min 24 mm", None), ("engine oil", "4.3 L", "capacity")]  # fmt: skip
    assert specs[0].source == f'{TO_CONFIRM}: note.txt has "book says 107"'
    assert unconfirmed(specs) == specs
    made, problems = read_toml(sheet_text(VEHICLE, specs, HEAD), "sheet.toml")
    assert not problems
    values = [read_value(spec.kind, value_text(spec)).value for spec in made.specifications]
    assert values == [D(107), D(110), D(24), D("4.3")]


def test_a_limit_is_told_before_its_value() -> None:
    thin = quoted("measurement", "brake disc", "21 millimeters", value=D(21), unit="mm")
    for before, value in (("Manual says minimum disc thickness ", "min 21 mm"),
                          ("minimum is 2 for the pads. Disc is ", "21 mm")):  # fmt: skip
        assert [value_text(spec) for spec in started([(thin, "n.txt", before)])] == [value]


def test_a_limit_is_no_role() -> None:
    text = sheet_text(VEHICLE, [], HEAD) + '\n[[spec]]\ncomponent = "tyre"\nkind = "measurement"\nvalue = "1.6 mm"\n' \
        'role = "minimum"\nsource = "handbook"\n'
    _, problems = read_toml(text, "sheet.toml")
    assert any("'minimum' is a limit" in str(problem) for problem in problems)
