"""What makes an interval start again, in whatever words it was said."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from saidspec.model import Specification
from saidspec.record.entries import Entry
from saidspec.report.due_values import LastDone
from saidspec.report.renewal import last_done
from tests.report_samples import entry

CAPACITY = Specification("fork oil", "volume", "service book, page 7", Decimal("485"), unit="mL", role="capacity")


def spec(component: str) -> Specification:
    return Specification(component, "torque", "manual, page 1", Decimal(20), unit="N*m")


def last(component: str, *said: Entry, specs: tuple[Specification, ...] = ()) -> LastDone | None:
    return last_done(component, said, [], specs)


def did(component: str | None, action: str = "replace", **more: Any) -> Entry:
    return entry(more.pop("number", 10), "operation", component=component, action=action, **more)


@pytest.mark.parametrize(("action", "renews"), [("clean", True), ("adjust", True), ("measure", False),
                                                ("inspect", False)])  # fmt: skip
def test_upkeep_of_what_is_measured_is_upkeep_of_the_part(action: str, renews: bool) -> None:
    assert (last("chain", did("chain slack", action)) is not None) is renews


def test_the_level_of_a_fluid_set_right_is_no_change_of_it() -> None:
    assert last("fork oil", did("fork oil level", "adjust")) is None


def test_a_lubricant_named_after_the_part_was_for_it() -> None:
    lube = entry(10, "material", component="rear axle nut", code="chain lube")
    told = last("chain", lube)
    assert told is not None
    assert told.action == "lubricate"
    assert last("rear axle nut", lube) is None


@pytest.mark.parametrize(("poured", "renewed"), [(["485"], True), (["400"], True), (["100"], False),
                                                 (["250", "235"], True), (["100", "100"], False)])  # fmt: skip
def test_as_much_as_it_holds_is_a_change_and_less_a_topping_up(poured: list[str], renewed: bool) -> None:
    fills = [entry(number, "volume", component="fork oil", value=amount, unit="mL", role="added")
             for number, amount in enumerate(poured, 10)]  # fmt: skip
    told = last("fork oil", *fills, specs=(CAPACITY,))
    assert (told is not None) is renewed


def test_without_a_capacity_a_fill_alone_tells_of_no_change() -> None:
    assert last("fork oil", entry(10, "volume", component="fork oil", value="485", unit="mL", role="added")) is None


def test_a_measured_drain_and_a_fill_are_a_change() -> None:
    out = entry(10, "volume", component="oil", value="44", unit="floz", role="drained")
    new = entry(11, "volume", component="oil", value="48", unit="floz", role="added")
    told = last("engine oil", out, new, specs=(spec("engine oil drain plug"),))
    assert told is not None
    assert told.marks == ('only said as "oil"',)
    assert last("engine oil", out) is None


def test_a_part_fitted_by_its_number_was_renewed() -> None:
    fitted = entry(10, "part_number", component="drive belt", code="VB-842-20", role="installed")
    told = last("drive belt", fitted)
    assert told is not None
    assert (told.action, told.marks) == ("replace", ())
    for role in ("removed", "bought"):
        assert last("drive belt", entry(10, "part_number", component="drive belt", code="VB-1", role=role)) is None


@pytest.mark.parametrize(("said", "sheet", "beside", "counts"), [
    ("plug", ("spark plug",), None, True),
    ("plug", ("spark plug", "engine oil drain plug"), None, False),  # the sheet has another plug
    ("plug", ("spark plug", "engine oil drain plug"), "spark plug", True),  # the note says which
    ("plug", ("spark plug",), "drain plug", False),  # the note speaks of another
    ("left plug", ("right spark plug",), None, True),
    ("glow plug", ("spark plug",), None, False),
])  # fmt: skip
def test_words_that_say_less_count_only_where_they_can_mean_nothing_else(
    said: str, sheet: tuple[str, ...], beside: str | None, counts: bool,
) -> None:  # fmt: skip
    also = [did(beside, "remove", number=11)] if beside else []
    told = last("spark plug", did(said), *also, specs=tuple(map(spec, sheet)))
    assert (told is not None) is counts
    if told is not None:
        assert told.marks == (f'only said as "{said}"',)


def test_the_whole_name_of_another_note_counts_before_words_that_say_less() -> None:
    full = did("spark plug", day="2026-01-01", note_id=2)
    told = last("spark plug", full, did("plug", day="2026-01-01", note_id=3, number=11))
    assert told is not None
    assert (told.day, told.marks) == (date(2026, 1, 1), ())
