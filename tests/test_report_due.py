"""What is due, by date and by distance, and what is not known."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from saidspec.model import Specification
from saidspec.record.entries import Decision, Entry
from saidspec.report.due import due_list, due_of_vehicle
from saidspec.report.due_time import later
from saidspec.report.due_values import Due
from tests.report_samples import VAN, entry

TODAY = date(2026, 5, 4)
READINGS = [
    entry(1, "odometer", value="41000", unit="km", day="2023-05-04"),
    entry(2, "odometer", value="56000", unit="km", day="2024-05-04"),
    entry(3, "odometer", value="71000", unit="km", day="2025-05-04"),
    entry(4, "odometer", value="86000", unit="km", day="2026-05-03"),
]


def every(component: str, value: str, unit: str, *other: str) -> Specification:
    or_value, or_unit = (Decimal(other[0]), other[1]) if other else (None, None)
    return Specification(component, "interval", "handbook, page 9", Decimal(value), unit=unit, or_value=or_value,
                         or_unit=or_unit)  # fmt: skip


def due(*entries: Entry, specs: tuple[Specification, ...] = (), today: date = TODAY) -> list[Due]:
    held = sorted((*READINGS, *entries), key=lambda one: one.day or date.min)
    return list(due_of_vehicle(VAN.name, held, specs, "km", today)[0])


def change(number: int, component: str, day: str, action: str = "replace", **more: Any) -> Entry:
    return entry(number, "operation", component=component, action=action, day=day, **more)


@pytest.mark.parametrize(("start", "value", "unit", "end"), [
    ("2026-01-31", "1", "month", "2026-02-28"), ("2024-02-29", "1", "year", "2025-02-28"),
    ("2026-05-04", "24", "month", "2028-05-04"), ("2026-05-04", "6", "week", "2026-06-15"),
    ("2026-05-04", "10", "day", "2026-05-14"), ("2026-11-30", "3", "month", "2027-02-28"),
])  # fmt: skip
def test_time_is_added_by_the_calendar(start: str, value: str, unit: str, end: str) -> None:
    assert later(date.fromisoformat(start), Decimal(value), unit) == date.fromisoformat(end)


def test_a_distance_is_no_time() -> None:
    assert later(TODAY, Decimal(5), "km") is None


def test_distance_and_time_whichever_comes_first() -> None:
    (item,) = due(change(10, "brake fluid", "2025-05-04"), specs=(every("brake fluid", "60000", "km", "24", "month"),))
    assert (item.status, item.day) == ("later", date(2027, 5, 4))
    assert item.reading == 131_000
    assert item.first == date(2027, 5, 4)
    assert item.last is not None
    assert (item.last.reading, item.last.estimated) == (71_000, False)


def test_overdue_by_distance_is_an_estimate_with_its_spread() -> None:
    spec = every("engine oil", "15000", "km")
    (item,) = due(change(10, "engine oil", "2025-07-01"), specs=(spec,), today=date(2026, 8, 1))
    assert item.status == "overdue"
    assert item.last is not None
    assert item.last.estimated
    assert "estimated" in item.state


@pytest.mark.parametrize(("status", "told"), [("soon", "from 9 June 2026 on"), ("later", "24 July 2026")])
def test_what_may_be_due_soon_says_from_when_on(status: Any, told: str) -> None:
    days = date(2026, 7, 24), date(2026, 6, 9), date(2026, 10, 21)
    assert Due("van", "chain", "interval of the sheet", "book", status, by_distance=days).headline == told
    assert Due("van", "chain", "follow-up", "note").headline == ""


def test_passed_on_the_odometer_needs_no_estimate() -> None:
    (item,) = due(change(10, "engine oil", "2025-05-04"), specs=(every("engine oil", "12000", "km"),))
    assert item.status == "overdue"
    assert "the last reading is 86,000 km" in item.state


@pytest.mark.parametrize("poured", [
    {"kind": "operation", "action": "fill"}, {"kind": "volume", "role": "added", "value": "6", "unit": "L"},
])  # fmt: skip
def test_a_fluid_that_was_drained_and_poured_in_was_renewed(poured: dict[str, Any]) -> None:
    kind = poured.pop("kind")
    drained = change(10, "oil", "2025-05-04", "drain")
    new = entry(11, kind, component="engine oil", day="2025-05-04", **poured)
    (item,) = due(drained, new, specs=(every("engine oil", "12", "month"),))
    assert item.day == date(2026, 5, 4)


@pytest.mark.parametrize(("action", "component"), [("drain", "fork oil"), ("inspect", "oil")])
def test_a_fluid_that_was_only_topped_up_was_not_renewed(action: str, component: str) -> None:
    work = change(10, component, "2025-05-04", action), change(11, "engine oil", "2025-05-04", "fill")
    (item,) = due(*work, specs=(every("engine oil", "12", "month"),))
    assert item.last is None


def test_without_a_record_nothing_is_said_to_be_due() -> None:
    (item,) = due(specs=(every("timing belt", "90000", "km", "6", "year"),))
    assert (item.status, item.day, item.reading) == ("never", None, None)
    assert "no record" in item.state


@pytest.mark.parametrize(("component", "action", "assertion"), [
    ("oil filter", "replace", "stated"),  # another part
    ("engine oil", "remove", "stated"), ("engine oil", "inspect", "stated"), ("engine oil", "fill", "stated"),
    ("engine oil", "replace", "negated"), ("engine oil", "replace", "planned"), ("engine oil", "replace", "historical"),
])  # fmt: skip
def test_other_work_starts_no_interval(component: str, action: str, assertion: str) -> None:
    work = change(10, component, "2026-05-01", action, assertion=assertion)
    (item,) = due(work, specs=(every("engine oil", "15000", "km"),))
    assert item.last is None


def test_a_part_put_back_may_be_the_old_one() -> None:
    (item,) = due(change(10, "timing belt", "2026-05-01", "install"), specs=(every("timing belt", "90000", "km"),))
    assert item.marks == ("whether a new one was installed is not said",)


def test_upkeep_does_not_hide_a_replacement() -> None:
    work = (change(10, "chain", "2026-01-01"), change(11, "chain", "2026-03-01", "lubricate"))
    (item,) = due(*work, specs=(every("chain", "20000", "km"),))
    assert item.last is not None
    assert item.last.what == "replaced chain"


def test_a_rejected_operation_starts_no_interval() -> None:
    work = change(10, "engine oil", "2026-05-01", decision=Decision("rejected"))
    (item,) = due(work, specs=(every("engine oil", "15000", "km"),))
    assert item.last is None


def test_an_interval_said_in_a_note_counts_with_its_words() -> None:
    said = entry(10, "interval", "every 5000 k", component="chain", value="5000", unit="km", role="every")
    (item,) = due(said, change(11, "chain", "2026-05-03", "lubricate"))
    assert (item.basis, item.reading) == ("interval said in a note", 91_000)
    assert item.words is not None
    assert item.words.quote == "every 5000 k"


def follow_up(number: int, **more: Any) -> Entry:
    return entry(number, "follow_up", more.pop("quote", "do it"), assertion="planned", **more)


def test_follow_ups_with_a_day_overdue_and_to_come() -> None:
    late = follow_up(10, component="front brake hose", action="replace", code="2026-04-01", day="2026-01-01")
    soon = follow_up(11, component="coolant hose", action="replace", code="2026-05-20")
    far = follow_up(12, component="wiper blade", action="replace", code="2026-12")
    told = due(far, soon, late)
    assert [item.status for item in told] == ["overdue", "soon", "later"]
    assert told[2].day == date(2026, 12, 31)


def test_a_follow_up_without_a_day_is_kept() -> None:
    (item,) = due(follow_up(10, component="hose clip", action="inspect"))
    assert (item.status, item.state) == ("unknown", "no date said")


@pytest.mark.parametrize(("value", "reading"), [("50", 86_050), ("90000", 90_000)])
def test_after_a_distance_and_at_a_reading(value: str, reading: int) -> None:
    work = follow_up(10, component="wheel nut", action="tighten", context="x" * 40)
    until = entry(11, "interval", component="wheel nut", value=value, unit="km", role="until", assertion="planned",
                  context="x" * 40)  # fmt: skip
    (item,) = due(work, until)
    assert item.reading == reading
    assert "tighten" in item.what


def test_until_a_distance_without_a_reading_says_so() -> None:
    until = entry(10, "interval", component="wheel nut", value="50", unit="km", role="until", assertion="planned",
                  day="2020-01-01")  # fmt: skip
    (item,) = due(until)
    assert item.reading is None
    assert any("no odometer reading" in mark for mark in item.marks)


def test_later_work_makes_it_look_done_but_asks() -> None:
    asked = follow_up(10, component="front brake hose", action="replace", code="2026-09-01", day="2026-01-01")
    (item,) = due(asked, change(11, "front brake hose", "2026-03-01"))
    assert (item.status, item.state) == ("looks done", "looks done: replaced front brake hose on 2026-03-01")
    (other,) = due(asked, change(11, "rear brake hose", "2026-03-01"))
    assert other.status == "later"


@pytest.mark.parametrize("verdict", ["done", "rejected"])
def test_what_a_person_settled_is_not_due(verdict: Any) -> None:
    assert due(follow_up(10, component="hose", action="replace", decision=Decision(verdict))) == []


@pytest.mark.parametrize("assertion", ["negated", "retracted", "historical"])
def test_what_is_not_to_be_done_is_not_due(assertion: str) -> None:
    assert due(entry(10, "follow_up", component="hose", action="replace", assertion=assertion)) == []


def test_one_list_of_several_vehicles_has_the_overdue_first() -> None:
    first = due_of_vehicle("A", [follow_up(1, component="hose", code="2027-01-01")], (), None, TODAY)
    second = due_of_vehicle("B", [follow_up(2, component="belt", code="2026-01-01")], (), None, TODAY)
    told = due_list("Due", TODAY, [("A", *first), ("B", *second)])
    assert [item.status for item in told.items] == ["overdue", "later"]
    assert [status for status, _ in told.groups()] == ["overdue", "later"]
    assert all("no odometer reading" in method for _, method in told.methods)


@pytest.mark.parametrize(("kind", "fields"), [
    ("observation", {"finding": "all good", "role": "ok"}),
    ("observation", {"finding": "loose", "assertion": "negated"}),
    ("torque", {"value": "140", "unit": "N*m"}), ("operation", {"action": "tighten"}),
    ("operation", {"action": "inspect"}), ("measurement", {"value": "3", "unit": "mm"}),
])  # fmt: skip
def test_a_check_is_done_in_whatever_words_it_was_told(kind: str, fields: dict[str, Any]) -> None:
    asked = follow_up(10, component="front wheel nut", action="inspect", code="2026-04-25", day="2026-04-20")
    later_on = entry(11, kind, component="wheel nut", **fields)
    (item,) = due(asked, later_on)
    assert item.status == "looks done"
    assert item.state.endswith("2026-05-03")


@pytest.mark.parametrize(("kind", "fields"), [
    ("operation", {"component": "rear wheel nut", "action": "inspect"}),  # another place
    ("operation", {"component": "wheel nut", "action": "loosen"}), ("size", {"component": "wheel nut", "value": "19"}),
    ("torque", {"component": "wheel nut", "value": "140", "unit": "N*m", "assertion": "quoted"}),
    ("observation", {"component": "wheel nut", "finding": "rusty", "assertion": "historical"}),
    ("operation", {"component": "wheel nut", "action": "inspect", "day": "2026-04-20"}),  # in the note itself
])  # fmt: skip
def test_other_things_said_later_do_not_do_it(kind: str, fields: dict[str, Any]) -> None:
    asked = follow_up(10, component="front wheel nut", action="inspect", code="2026-04-25", day="2026-04-20")
    (item,) = due(asked, entry(11, kind, **fields))
    assert item.status == "overdue"


def test_a_fluid_to_be_replaced_is_done_by_a_bleed_but_not_by_a_look() -> None:
    asked = follow_up(10, component="brake fluid", action="replace", day="2026-01-01")
    assert due(asked, change(11, "brake fluid", "2026-02-01", "bleed"))[0].status == "looks done"
    assert due(asked, change(11, "brake fluid", "2026-02-01", "inspect"))[0].status == "unknown"


def test_one_thing_said_in_two_notes_is_one_line_with_its_day() -> None:
    first = follow_up(10, component="drop link", action="replace", code="2026-06", day="2026-02-01", note_id=2)
    again = follow_up(11, component="drop link", action="replace", day="2026-05-03")
    (item,) = due(first, again)
    assert (item.fact, item.day) == (11, date(2026, 6, 30))
    assert item.marks == ("also said on 1 February 2026",)


def test_of_intervals_said_again_the_last_one_counts() -> None:
    told = [entry(number, "interval", component="chain", value=value, unit="km", role="every", day=day)
            for number, value, day in ((10, "500", "2025-01-01"), (11, "800", "2026-01-01"))]  # fmt: skip
    (item,) = due(*told, change(12, "chain", "2026-05-03", "lubricate"))
    assert item.reading == 86_800


def test_a_limit_goes_with_the_follow_up_in_the_same_breath() -> None:
    text = "belt gets another look after 500 km. next belt at 200000 km, check the level after 100 km"
    limits = [entry(number, "interval", quote, component=part, value=value, unit="km", role="until",
                    assertion="planned", context=text, start=text.index(quote))
              for number, quote, part, value in ((20, "500 km", "belt", "500"), (21, "200000 km", "belt", "200000"),
                                                 (22, "100 km", "cable boot", "100"))]  # fmt: skip
    asked = [follow_up(number, quote=quote, component=part, action=action, context=text, start=text.index(quote))
             for number, quote, part, action in ((10, "belt gets another look", "belt", "inspect"),
                                                 (11, "next belt", "belt", "replace"),
                                                 (12, "check the level", "oil level", "inspect"))]  # fmt: skip
    told = {item.what: item.reading for item in due(*asked, *limits)}
    assert told == {"inspect belt, 500 km after that job": 86_500, "replace belt, at 200,000 km": 200_000,
                    "inspect oil level, 100 km after that job": 86_100}  # fmt: skip


def test_of_several_limits_the_first_counts_and_all_are_told() -> None:
    text = "check the nuts after 10, 25 and 50 km"
    limits = [entry(number, "interval", value, component="nut", value=value, unit="km", role="until",
                    assertion="planned", context=text, start=text.index(value))
              for number, value in ((20, "50"), (21, "10"), (22, "25"))]  # fmt: skip
    (item,) = due(follow_up(10, component="nut", action="inspect", context=text), *limits)
    assert item.reading == 86_010
    assert [item.what.index(part) for part in ("10 km", "25 km", "50 km")] == sorted(
        item.what.index(part) for part in ("10 km", "25 km", "50 km"))  # fmt: skip


def test_short_words_are_shown_with_what_stands_around_them() -> None:
    text = "the offside boot is split, keep an eye on that one, and that is all there is to say about the matter today"
    (item,) = due(follow_up(10, quote="keep an eye on", component="boot", action="inspect", context=text,
                            start=text.index("keep")))  # fmt: skip
    assert item.words is not None
    assert "boot is split, keep an eye on that one" in item.words.shown()


def test_the_times_of_captions_are_no_words() -> None:
    text = "recheck the lugs at eighty\n\n37\n00:02:36,100 --> 00:02:39,400\nfoot pounds in a week"
    (item,) = due(follow_up(10, quote=text, component="lug nut", action="inspect", context=text))
    assert item.words is not None
    assert item.words.shown() == "recheck the lugs at eighty foot pounds in a week"


def test_vehicles_with_one_reading_are_told_together() -> None:
    asked = [follow_up(1, component="hose"), entry(2, "interval", component="hose", value="900", unit="km",
                                                   role="until", assertion="planned", day="2026-05-03"),
             entry(3, "odometer", value="500", unit="km", day="2026-05-03")]  # fmt: skip
    parts = [(name, *due_of_vehicle(name, [replace(one, vehicle=name) for one in asked], (), "km", TODAY))
             for name in "AB"]  # fmt: skip
    told = due_list("Due", TODAY, [*parts, ("C", (), "no odometer reading: nothing can be due by distance")])
    assert told.estimates() == [("A, B", "only one reading each: no rate can be estimated")]


def test_a_limit_of_no_known_part_is_told_in_its_words() -> None:
    text = "next one at ninety thousand then"
    until = entry(10, "interval", "ninety thousand", value="90000", unit="km", role="until", assertion="planned",
                  context=text, start=text.index("ninety"))  # fmt: skip
    (item,) = due(until)
    assert item.what == "“next one at ninety thousand then”, at 90,000 km"
