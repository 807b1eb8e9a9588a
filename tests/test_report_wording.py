"""Values in the words of the reports."""

from __future__ import annotations

from decimal import Decimal

import pytest

from saidspec.report.wording import in_fractions, quantity
from tests.report_samples import said


@pytest.mark.parametrize(("value", "told"), [
    ("0.8125", "13/16"), ("0.5", "1/2"), ("3.375", "3 3/8"), ("0.484375", "31/64"), ("1", "1"), ("0.51", "0.51"),
    ("2.30", "2.30"),
])  # fmt: skip
def test_inches_as_tools_are_marked(value: str, told: str) -> None:
    assert in_fractions(Decimal(value)) == told


@pytest.mark.parametrize(("kind", "told"), [("size", "13/16 in"), ("measurement", "0.8125 in (20.6 mm)")])
def test_what_is_measured_keeps_its_decimals(kind: str, told: str) -> None:
    assert quantity(said(1, kind, "so", value="0.8125", unit="in")) == told


@pytest.mark.parametrize(("angle", "told"), [("270.00", "hand tight + 270°"), ("22.5", "hand tight + 22.5°")])
def test_a_turn_has_no_idle_digits(angle: str, told: str) -> None:
    assert quantity(said(1, "torque", "so", angle=angle)) == told
