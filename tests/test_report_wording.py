"""Values in the words of the reports."""

from __future__ import annotations

from decimal import Decimal

import pytest

from saidspec.report.lines import line
from saidspec.report.wording import in_fractions, quantity
from tests.report_samples import entry, said


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


@pytest.mark.parametrize(("context", "quote", "value", "says"), [
    ("two cans of engine oil", "two", "2", "engine oil: 2 cans bought"),
    ("one box of split pins", "one", "1", "engine oil: 1 box bought"),
    ("2.5 turns on the adjuster", "2.5", "2.5", "engine oil: 2.5 turns bought"),
    ("two and a half turns", "two and a half turns", "2.5", "engine oil: 2.5 turns bought"),
    ("four strokes of the gun", "four", "4", "engine oil: 4 strokes bought"),
    ("two filters", "two", "2", "engine oil: 2 bought"),
])  # fmt: skip
def test_a_count_says_what_is_counted(context: str, quote: str, value: str, says: str) -> None:
    told = entry(1, "count", quote, value=value, role="bought", component="engine oil", context=context)
    assert line(told).text == says
