"""Trends: the line, the limit of the sheet, replacements, and when nothing is projected."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any
from xml.etree import ElementTree

import pytest

from saidspec.model import Specification
from saidspec.patterns import rule_set
from saidspec.record.entries import Decision, Entry
from saidspec.reference.units import BY_NAME
from saidspec.report.trend import trends
from saidspec.report.trend_values import Trend
from tests.report_samples import VAN, entry

TODAY = date(2026, 5, 4)
LIMIT = Specification("brake disc", "measurement", "manual, sheet 2", Decimal(24), unit="mm", bound="min")
DAYS = ("2022-05-04", "2023-05-04", "2024-05-04", "2025-05-04", "2026-05-04")


def looks(*values: str, component: str = "front brake rotor", unit: str = "mm", role: str = "thickness",
          odometer: bool = True) -> list[Entry]:  # fmt: skip
    """One measurement a year, each 10,000 km after the one before."""
    told = []
    for number, (day, value) in enumerate(zip(DAYS, values, strict=False)):
        if odometer:
            told.append(entry(100 + number, "odometer", value=str(10_000 * (number + 1)), unit="km", day=day))
        told.append(entry(number, "measurement", value=value, unit=unit, component=component, role=role, day=day))
    return told


def one(entries: list[Entry], *specs: Specification, part: str = "") -> Trend:
    (made,) = trends(VAN.name, entries, specs, "km", TODAY, part).trends
    return made


def test_a_straight_wear_reaches_the_limit_where_it_must() -> None:
    made = one(looks("26.0", "25.8", "25.6", "25.4", "25.2"), LIMIT)
    assert (made.axis, made.limit and made.limit.value) == ("km", 24)
    assert made.line is not None
    assert made.line.slope == pytest.approx(-0.2 / 10_000)
    assert made.meets is not None
    assert made.meets.likely == pytest.approx(110_000)
    assert "reaches the limit of minimum 24 mm (manual, sheet 2) at about 110,000 km" in made.says[0]
    assert "an estimate, measure before relying on it" in made.says[0]
    assert "2032-05" in made.says[0]


def test_scatter_widens_the_span() -> None:
    made = one(looks("26.0", "25.9", "25.5", "25.45", "25.2"), LIMIT)
    assert made.meets is not None
    assert made.meets.likely is not None
    assert made.meets.least is not None
    assert made.meets.most is not None
    assert made.meets.least < made.meets.likely < made.meets.most


@pytest.mark.parametrize("values", [("26.0",), ("26.0", "25.5")])
def test_too_few_points_project_nothing(values: tuple[str, ...]) -> None:
    made = one(looks(*values), LIMIT, part="disc")
    assert made.line is None
    assert made.meets is None
    assert any("too few points" in sentence for sentence in made.says)


def test_three_points_are_called_rough() -> None:
    assert any("rough" in sentence for sentence in one(looks("26.0", "25.8", "25.6"), LIMIT).says)


def test_what_does_not_wear_never_gets_there() -> None:
    made = one(looks("25.0", "25.1", "25.2", "25.3"), LIMIT)
    assert made.meets is not None
    assert made.meets.likely is None
    assert any("not heading for" in sentence for sentence in made.says)


def test_a_direction_that_is_not_certain_has_no_latest_day() -> None:
    made = one(looks("25.6", "25.1", "25.3", "25.0"), LIMIT)
    assert made.meets is not None
    assert made.meets.likely is not None
    assert made.meets.most is None
    assert any("not certain" in sentence for sentence in made.says)


def test_beyond_the_limit_comes_first() -> None:
    assert one(looks("25.0", "24.4", "23.8"), LIMIT).says[0].startswith("BEYOND ITS LIMIT: 23.8 mm")


def test_an_upper_limit_is_reached_from_below() -> None:
    limit = Specification("chain slack", "measurement", "handbook", Decimal(40), unit="mm", bound="max", role="slack")
    made = one(looks("25", "28", "31", "34", component="chain", role="slack"), limit)
    assert made.meets is not None
    assert made.meets.likely == pytest.approx(60_000)


def test_after_a_replacement_only_the_new_part_counts() -> None:
    entries = looks("26.0", "25.0", "24.2", "28.0", "27.8")
    entries.insert(6, entry(50, "operation", component="front brake disc", action="replace", day="2025-01-01"))
    made = one(entries, LIMIT)
    assert [point.life for point in made.points] == [0, 0, 0, 1, 1]
    assert made.line is None
    assert any("only what was measured after it counts" in sentence for sentence in made.says)


def test_another_part_s_replacement_changes_nothing() -> None:
    entries = looks("26.0", "25.8", "25.6")
    entries.insert(4, entry(50, "operation", component="rear brake disc", action="replace", day="2024-01-01"))
    assert one(entries, LIMIT).renewals == ()


def test_without_readings_it_goes_over_time() -> None:
    made = one(looks("26.0", "25.8", "25.6", "25.4", odometer=False), LIMIT)
    assert made.axis == "day"
    assert "around 2032-05" in made.says[0]


def test_units_are_put_together() -> None:
    entries = [*looks("26.0", "25.9"), entry(9, "measurement", value="1.012", unit="in", component="front brake rotor",
                                             role="thickness", day="2024-05-04")]  # fmt: skip
    made = one(entries, LIMIT)
    assert made.unit == "in"
    assert [round(point.value, 4) for point in made.points] == [Decimal("1.0236"), Decimal("1.0197"), Decimal("1.012")]
    assert made.limit is not None
    assert round(made.limit.value, 4) == Decimal("0.9449")


@pytest.mark.parametrize("fields", [
    {"assertion": "quoted"}, {"assertion": "retracted"}, {"assertion": "historical"},
    {"decision": Decision("rejected")}, {"component": None}, {"unit": None},
])  # fmt: skip
def test_only_what_was_measured_is_a_point(fields: dict[str, Any]) -> None:
    odd = entry(9, "measurement", **{"value": "3", "unit": "mm", "component": "front brake rotor", "role": "thickness",
                                     "day": "2026-05-04", **fields})  # fmt: skip
    assert len(one([*looks("26.0", "25.8"), odd], LIMIT).points) == 2


def test_sides_and_quantities_are_trends_of_their_own() -> None:
    entries = [*looks("26", "25", component="left brake disc"), *looks("26", "25", component="right brake disc"),
               *looks("0.02", "0.03", component="left brake disc", role="runout")]  # fmt: skip
    told = trends(VAN.name, entries, [LIMIT], "km", TODAY).trends
    assert [made.title for made in told] == [
        "left brake disc runout", "left brake disc thickness", "right brake disc thickness"]  # fmt: skip
    assert [made.limit is not None for made in told] == [False, True, True]


def test_a_part_is_asked_for_by_any_of_its_names() -> None:
    entries = [*looks("26", "25"), *looks("8", "7", component="front brake pad")]
    assert one(entries, LIMIT, part="disc").component == "front brake rotor"
    assert trends(VAN.name, entries, [LIMIT], "km", TODAY, "chain").trends == ()


def test_plots_draw_every_point_and_take_odd_words() -> None:
    pytest.importorskip("matplotlib")
    from saidspec.report.plot import inline_pictures, picture

    made = one(looks("26.0", "25.8", "25.6", "25.4", component="disc $x_{1}$ <&>"), LIMIT, part="disc")
    svg = picture(made, "svg")
    root = ElementTree.fromstring(svg)
    assert root.tag.endswith("svg")
    assert picture(made, "svg") == svg
    assert picture(made, "png").startswith(b"\x89PNG")
    first, second = inline_pictures([made, made]).values()
    assert 'id="plot0-' in first
    assert 'id="plot1-' in second
    assert "<script" not in first


def test_words_that_say_less_are_of_the_only_part_they_may_be() -> None:
    front = looks("7", "6", component="front left inner pad")
    short = entry(50, "measurement", component="left inner pad", value="5", unit="mm", role="thickness",
                  day="2026-05-04")  # fmt: skip
    made = one([*front, short])
    assert (made.component, len(made.points)) == ("front left inner pad", 3)
    rear = entry(60, "measurement", component="rear left inner pad", value="4", unit="mm", role="thickness")
    told = trends(VAN.name, [*front, short, rear], (), "km", date(2026, 5, 4), "pad").trends
    assert sorted(one.component for one in told) == ["front left inner pad", "left inner pad", "rear left inner pad"]


def test_a_part_said_in_short_takes_the_only_limit_it_may_have() -> None:
    def limit(component: str, value: str) -> Specification:
        return Specification(component, "measurement", "manual", Decimal(value), unit="mm", bound="min",
                             role="thickness")  # fmt: skip

    entries = looks("7", "6", "5", component="left pad")
    assert one(entries, limit("front brake pad", "2")).limit is not None
    assert one(entries, limit("front brake pad", "2"), limit("rear brake pad", "3")).limit is None


def test_what_was_asked_for_and_never_measured_names_what_was() -> None:
    told = trends(VAN.name, looks("7", component="chain slack", role="slack"), (), "km", date(2026, 5, 4), "tread")
    assert (told.trends, told.part, told.measured) == ((), "tread", ("chain slack",))


@pytest.mark.parametrize("unit", sorted({*BY_NAME, *(entry["unit"] for entry in rule_set().entries("units", "unit"))}))
def test_a_figure_in_any_unit_has_a_trend(unit: str) -> None:
    for values in (("55",), ("55", "54"), ("55", "54", "53", "52")):
        made = one(looks(*values, component="headlight bulb", role="power", unit=unit), part="headlight")
        assert [point.value for point in made.points] == [Decimal(value) for value in values]
        assert made.unit == unit


@pytest.mark.parametrize(("odometer", "what"), [(True, "1 odometer reading only"), (False, "1 day only")])
def test_points_of_one_day_are_told_as_such(odometer: bool, what: str) -> None:
    told = looks("26.0", "25.9", "25.8", odometer=odometer)
    same = [entry(one.fact.id, one.fact.kind, value=str(one.fact.value), unit=one.fact.unit, role=one.fact.role,
                  component=one.fact.component, day=DAYS[0]) for one in told
            if one.fact.kind == "measurement" or one.fact.id == 100]  # fmt: skip
    made = one(same, LIMIT)
    assert made.line is None
    assert any(f"3 points of the present part, but of {what}; points of at least 3 different" in say
               for say in made.says)  # fmt: skip
