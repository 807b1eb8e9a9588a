"""The iCalendar file, read back by the library."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

from icalendar import Calendar

from saidspec.report.calendar_file import calendar_file
from saidspec.report.due_values import Due, DueList

MADE = datetime(2026, 5, 4, 12, tzinfo=UTC)


def events(*items: Due) -> list[Any]:
    made = calendar_file(DueList("Due on the van", date(2026, 5, 4), items, ()), MADE)
    assert made.startswith(b"BEGIN:VCALENDAR\r\n")
    assert max(len(line) for line in made.split(b"\r\n")) <= 75  # RFC 5545, 3.1: content lines are folded
    return list(Calendar.from_ical(made).walk("VEVENT"))


def test_an_entry_is_a_whole_day_with_its_words_escaped() -> None:
    item = Due("Van", "replace hose; \\ 100 %, by\nhand", "follow-up", "note.txt", "later", "due", date(2026, 9, 1))
    (event,) = events(item)
    assert event["summary"] == "Van: replace hose; \\ 100 %, by\nhand"
    assert event.decoded("dtstart") == date(2026, 9, 1)
    assert event.decoded("dtend") == date(2026, 9, 2)
    assert event.walk("VALARM")[0].decoded("trigger") == timedelta(days=-7)


def test_overdue_stands_on_the_day_of_the_list() -> None:
    (event,) = events(Due("Van", "oil", "interval", "sheet", "overdue", "was due", date(2026, 1, 1)))
    assert event.decoded("dtstart") == date(2026, 5, 4)
    assert "(overdue)" in event["summary"]


def test_the_earlier_of_day_and_distance_counts() -> None:
    item = Due("Van", "oil", "interval", "sheet", "later", "due", date(2026, 9, 1),
               by_distance=(date(2026, 7, 1), date(2026, 6, 1), None))  # fmt: skip
    assert events(item)[0].decoded("dtstart") == date(2026, 7, 1)


def test_what_has_no_day_or_looks_done_is_left_out() -> None:
    assert events(Due("Van", "a", "b", "c"), Due("Van", "a", "b", "c", "looks done", "", date(2026, 9, 1))) == []


def test_a_newer_list_moves_entries_instead_of_adding() -> None:
    first, moved, other = (
        events(Due("Van", what, "interval", "sheet", "later", "due", day))[0]["uid"]
        for what, day in (("oil", date(2026, 9, 1)), ("oil", date(2026, 10, 1)), ("belt", date(2026, 9, 1)))
    )
    assert first == moved != other
