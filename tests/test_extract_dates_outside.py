"""Dates against an outside reader: dateparser 1.x, English, counted from the day of the note.

What both claim to read must be the same day.  What dateparser has no answer for ("the fourteenth of march", "last
spring", "twenty twenty three") is tested in test_extract_dates.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from dateparser.date import DateDataParser
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.normalise_samples import DAY
from tests.sentences import facts

READER = DateDataParser(languages=["en"], settings={
    "RELATIVE_BASE": datetime(DAY.year, DAY.month, DAY.day, 12), "PREFER_DATES_FROM": "past", "DATE_ORDER": "DMY",
})  # fmt: skip
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")
LENGTH = {"day": 10, "month": 7, "year": 4}  # characters of an ISO 8601 date of each precision


def ordinal(day: int) -> str:
    ending = "th" if 11 <= day <= 13 else {1: "st", 2: "nd", 3: "rd"}.get(day % 10, "th")
    return f"{day}{ending}"


FORMS = (
    lambda d: d.isoformat(),
    lambda d: f"{d.day} {MONTHS[d.month - 1]} {d.year}",
    lambda d: f"{ordinal(d.day)} {MONTHS[d.month - 1]} {d.year}",
    lambda d: f"{ordinal(d.day)} of {MONTHS[d.month - 1]} {d.year}",
    lambda d: f"{MONTHS[d.month - 1]} {d.day}, {d.year}",
    lambda d: f"{MONTHS[d.month - 1]} {ordinal(d.day)} {d.year}",
    lambda d: f"{d.day} {MONTHS[d.month - 1][:3]} {d.year}",
    lambda d: f"{d.day:02d}/{d.month:02d}/{d.year}",
    lambda d: f"{d.day}.{d.month}.{d.year}",
)


def theirs(words: str) -> str | None:
    """What dateparser reads, as an ISO 8601 date of the precision that it tells."""
    told = READER.get_date_data(words)
    return told.date_obj.date().isoformat()[: LENGTH[told.period]] if told.date_obj else None


def ours(words: str) -> list[str | None]:
    return [fact.code for fact in facts(f"fitted the battery on {words}", "date")]


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form(date(2024, 3, 14)))
@settings(deadline=None, max_examples=60)
@given(day=st.dates(date(1995, 1, 1), DAY - timedelta(days=1)))
def test_a_whole_date_in_each_of_its_forms(form, day: date) -> None:
    assert ours(form(day)) == [theirs(form(day))] == [day.isoformat()]


@settings(deadline=None, max_examples=60)
@given(st.integers(1995, DAY.year - 1), st.sampled_from(MONTHS))
def test_a_month_of_a_year(year: int, month: str) -> None:
    words = f"{month} {year}"
    assert ours(words) == [theirs(words)]


@pytest.mark.parametrize("words", ["yesterday", "today", "last month", "last year"])
def test_words_that_count_from_today(words: str) -> None:
    assert [fact.code for fact in facts(f"fitted the battery {words}", "date")] == (
        [] if words == "today" else [theirs(words)])


@pytest.mark.parametrize("name", ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"])
def test_a_weekday_of_the_past(name: str) -> None:
    assert ours(name) == [theirs(name)]
