"""Days told by their distance from the day of the note: "yesterday", "on Monday", "a couple of days ago"."""

from __future__ import annotations

from datetime import date, timedelta

from saidspec.extract.days import WEEKDAYS, Day, tense, whole
from saidspec.extract.passage import Passage

LENGTHS = {"day": 1, "week": 7, "fortnight": 14, "month": 30, "year": 365}
SHORT = {"sat", "sun", "mon", "wed"}  # also words of another meaning
RELATIVE = {"today", "tonight", "tomorrow", "yesterday", "week", "weekend", "month", "year", "in", "a", "an",
    "couple", "the"}
LEADS = ("on", "next", "last", "by", "this", "past")


def relative_day(page: Passage, at: int, today: date) -> Day | None:
    """The relative day whose words begin at token `at`, counted from `today`; None beyond the calendar's ends."""
    try:
        return _told(page, at, today)
    except OverflowError:
        return None


def _told(page: Passage, at: int, today: date) -> Day | None:
    word = page.norm[at]
    if word in ("today", "tonight"):
        return Day(at, at + 1, today.isoformat(), "date.today", True)
    if word in ("tomorrow", "yesterday"):
        shift = 1 if word == "tomorrow" else -1
        if page.words(at - 3, at) == ["the", "day", "before"] or page.words(at - 3, at) == ["the", "day", "after"]:
            shift *= 2
        return Day(at, at + 1, (today + timedelta(days=shift)).isoformat(), "date.word", True)
    if word in WEEKDAYS:
        return _weekday(page, at, today)
    if word in ("week", "weekend", "month", "year") and page.word(at - 1) in ("next", "last"):
        return _next(at, word, page.word(at - 1), today)
    return _in_days(page, at, today) or _ago(page, at, today) or _from_today(page, at, today)


def _weekday(page: Passage, at: int, today: date) -> Day | None:
    """A weekday is the last one of that name where the statement is about the past, else the next one."""
    word, before = page.norm[at], page.word(at - 1)
    start = at
    while start and page.word(start - 1) in LEADS and at - start < 2:
        start -= 1
    if word in SHORT and (start == at or (page.said(at)[0].islower() and before not in ("on", "next", "last"))):
        return None
    lead = {*page.words(start, at)}
    time = "past" if lead & {"last", "past"} else "coming" if lead & {"next", "by", "this"} else tense(page, start,
        at + 1)
    if time == "past":
        day = today - timedelta(days=(today.weekday() - WEEKDAYS[word]) % 7 or 7)
    else:
        day = today + timedelta(days=(WEEKDAYS[word] - today.weekday()) % 7 or 7)
    return Day(start, at + 1, day.isoformat(), "date.weekday", True)


def _next(at: int, word: str, before: str, today: date) -> Day:
    sign = 1 if before == "next" else -1
    if word == "year":
        return Day(at - 1, at + 1, str(today.year + sign), "date.next", True)
    if word == "month":
        month = today.month - 1 + sign
        return Day(at - 1, at + 1, f"{today.year + month // 12:04d}-{month % 12 + 1:02d}", "date.next", True)
    if word == "week":
        return Day(at - 1, at + 1, (today + timedelta(days=7 * sign)).isoformat(), "date.next", True)
    saturday = today + timedelta(days=(5 - today.weekday()) % 7 + (7 if sign > 0 and today.weekday() >= 5 else 0))
    return Day(at - 1, at + 1, (saturday if sign > 0 else saturday - timedelta(days=7)).isoformat(), "date.next", True)


def _counted(page: Passage, at: int) -> tuple[int, int] | None:
    """How many of what follows, told without a figure: "a", "a couple of", "a few"; and the place after."""
    words = page.words(at, at + 3)
    if words == ["a", "couple", "of"] or words == ["the", "couple", "of"]:
        return 2, at + 3
    if words[:2] == ["a", "couple"]:
        return 2, at + 2
    if words[:1] == ["couple"]:
        return 2, at + (2 if words[1:2] == ["of"] else 1)
    return (1, at + 1) if words[:1] in (["a"], ["an"]) else None


def _in_days(page: Passage, at: int, today: date) -> Day | None:
    """"In three weeks", "in a couple of days"."""
    if page.norm[at] != "in":
        return None
    figure = whole(page, at + 1)
    found = (figure, at + 2) if figure is not None else _counted(page, at + 1)
    if page.words(at + 1, at + 3) == ["a", "few"]:
        found = 3, at + 3
    if not found:
        return None
    if page.word(found[1]) == "month" and 0 < found[0] <= 24 and page.word(found[1] + 1) not in ("ago", "or"):
        month = today.month - 1 + found[0]  # "in a month": the month is all that is said
        return Day(at, found[1] + 1, f"{today.year + month // 12:04d}-{month % 12 + 1:02d}", "date.in", True)
    days = LENGTHS.get(page.word(found[1]), 0)
    if not 0 < days < 30 or not 0 < found[0] <= 60 or page.word(found[1] + 1) in ("ago", "or"):
        return None
    return Day(at, found[1] + 1, (today + timedelta(days=days * found[0])).isoformat(), "date.in", True)


def _from_today(page: Passage, at: int, today: date) -> Day | None:
    """"A week from today", "two weeks from now", "a week today"."""
    figure = whole(page, at)
    found = (figure, at + 1) if figure is not None else _counted(page, at)
    if found is None or not 0 < found[0] <= 60 or not 0 < LENGTHS.get(page.word(found[1]), 0) < 30:
        return None
    end = found[1] + 1
    if page.words(end, end + 2) in (["from", "today"], ["from", "now"]):
        end += 2
    elif page.word(end) == "today":
        end += 1
    else:
        return None
    return Day(at, end, (today + timedelta(days=LENGTHS[page.word(found[1])] * found[0])).isoformat(), "date.in", True)


def _ago(page: Passage, at: int, today: date) -> Day | None:
    """"A couple of days ago", "a week back"; with a figure ("three weeks ago") it is an interval instead."""
    found = _counted(page, at)
    if found is None or page.word(found[1]) not in LENGTHS or page.word(found[1] + 1) not in ("ago", "back"):
        return None
    word, end = page.word(found[1]), found[1] + 2
    if word == "year":
        return Day(at, end, str(today.year - found[0]), "date.ago", True)
    if word == "month":
        month = today.month - 1 - found[0]
        return Day(at, end, f"{today.year + month // 12:04d}-{month % 12 + 1:02d}", "date.ago", True)
    return Day(at, end, (today - timedelta(days=LENGTHS[word] * found[0])).isoformat(), "date.ago", True)
