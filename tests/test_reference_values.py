"""Values as a reference sheet writes them, and what is refused with what to write instead."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saidspec.model import Kind
from saidspec.reference.values import SpecValue, UnreadableError, read_tolerance, read_value

D = Decimal

READ: list[tuple[Kind, str, SpecValue]] = [
    ("torque", "107 N*m", SpecValue(D(107), None, "N*m")),
    ("torque", "100 to 115 N*m", SpecValue(D(100), D(115), "N*m")),
    ("torque", "100-115 Nm", SpecValue(D(100), D(115), "N*m")),
    ("torque", "100 – 115 N·m", SpecValue(D(100), D(115), "N*m")),
    ("torque", "35 N*m + 90 deg", SpecValue(D(35), None, "N*m", angle=D(90))),
    ("torque", "35 N*m + 90°", SpecValue(D(35), None, "N*m", angle=D(90))),
    ("torque", "18.5 lbf*ft", SpecValue(D("18.5"), None, "lbf*ft")),
    ("volume", "4.3 L", SpecValue(D("4.3"), None, "L")),
    ("volume", "3 1/2 qt", SpecValue(D("3.5"), None, "qt")),
    ("size", "19 mm", SpecValue(D(19), None, "mm")),
    ("size", "9/16 in", SpecValue(D("0.5625"), None, "in")),
    ("size", "1 1/16 in", SpecValue(D("1.0625"), None, "in")),
    ("size", "M8x1.25", SpecValue(code="M8x1.25")),
    ("size", "M6", SpecValue(code="M6")),
    ("size", "T45", SpecValue(code="T45")),
    ("size", "225/60R17", SpecValue(code="225/60R17")),
    ("size", "3/8-16 UNC", SpecValue(code="3/8-16 UNC")),
    ("part_number", "kd-3318-f", SpecValue(code="KD-3318-F")),
    ("part_number", "12345", SpecValue(code="12345")),
    ("fluid", "5W-30", SpecValue(code="5W-30")),
    ("fluid", "DOT 4", SpecValue(code="DOT 4")),
    ("measurement", "min 22 mm", SpecValue(D(22), None, "mm", bound="min")),
    ("measurement", "max. 0.05 mm", SpecValue(D("0.05"), None, "mm", bound="max")),
    ("measurement", "minimum 22 mm", SpecValue(D(22), None, "mm", bound="min")),
    ("measurement", "0.7 to 0.8 mm", SpecValue(D("0.7"), D("0.8"), "mm")),
    ("measurement", "14.2 to 14.7 V", SpecValue(D("14.2"), D("14.7"), "V")),
    ("measurement", "180 degF", SpecValue(D(180), None, "degF")),
    ("interval", "60000 km", SpecValue(D(60000), None, "km")),
    ("interval", "60000 km or 48 month", SpecValue(D(60000), None, "km", or_value=D(48), or_unit="month")),
    ("interval", "50 hour or 12 month", SpecValue(D(50), None, "hour", or_value=D(12), or_unit="month")),
]


@pytest.mark.parametrize(("kind", "written", "value"), READ, ids=[f"{kind}: {text}" for kind, text, _ in READ])
def test_reads(kind: Kind, written: str, value: SpecValue) -> None:
    assert read_value(kind, written) == value


REFUSED: list[tuple[Kind, str, str]] = [
    ("torque", "", "value is empty; write for example 107 N\\*m"),
    ("torque", "107", "has no unit; write for example"),
    ("torque", "107 N*n", "unknown unit 'N\\*n'; did you mean N\\*m\\?"),
    ("torque", "22 mm", "a torque cannot be in mm"),
    ("torque", "115 to 100 N*m", "upper end of a range must be above"),
    ("torque", "tight", "cannot read 'tight' as a torque"),
    ("torque", "107 ± 5 N*m", "give the middle value, and the rest as tolerance"),
    ("torque", "35 N*m + some", "cannot read 'some' as an angle"),
    ("torque", "min 30 to 40 N*m", "a limit has one number"),
    ("measurement", "0,25 mm", "has a comma in a number"),
    ("interval", "60,000 km", "has a comma in a number"),
    ("interval", "60000 km or 30000 mi", "one distance or running time, one time, or both"),
    ("interval", "60000 km or 48 month or 1 year", "one distance or running time, one time, or both"),
    ("volume", "4.3 N*m", "a volume cannot be in N\\*m"),
    ("size", "9/0 in", "divides by zero"),
]


@pytest.mark.parametrize(("kind", "written", "why"), REFUSED, ids=[f"{kind}: {text}" for kind, text, _ in REFUSED])
def test_refuses_and_says_what_to_write(kind: Kind, written: str, why: str) -> None:
    with pytest.raises(UnreadableError, match=why):
        read_value(kind, written)


@pytest.mark.parametrize(("written", "unit", "told"), [
    ("10 %", "N*m", (D(10), "%")), ("±5 N*m", "N*m", (D(5), "N*m")), ("4 lbf*ft", "N*m", (D(4), "lbf*ft")),
    ("2.5%", "L", (D("2.5"), "%")),
])  # fmt: skip
def test_reads_tolerances(written: str, unit: str, told: tuple[Decimal, str]) -> None:
    assert read_tolerance(written, unit) == told


@pytest.mark.parametrize(("written", "why"), [
    ("some", "cannot read tolerance"), ("5 mm", "not in a unit of the value; did you mean N\\*m"),
    ("5 N*n", "did you mean N\\*m"),
])  # fmt: skip
def test_refuses_tolerances(written: str, why: str) -> None:
    with pytest.raises(UnreadableError, match=why):
        read_tolerance(written, "N*m")


@given(st.decimals("0.01", "9999", places=2), st.sampled_from(["N*m", "lbf*ft", "lbf*in", "kgf*m"]))
def test_what_is_written_is_read_back(value: Decimal, unit: str) -> None:
    assert read_value("torque", f"{value} {unit}") == SpecValue(value, None, unit)
