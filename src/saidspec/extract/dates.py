"""Dates: found by our own rules, resolved by dateparser against the day of the note, with their precision kept.

ISO 8601 codes: a day, a month (2023-05) or a year (2019).  Seasons are quarters of the northern year: common practice;
"spring of 2028" is given as the month in which it begins.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from saidspec.extract.passage import Passage

MONTHS = {name: number for number, names in enumerate((
    "january jan", "february feb", "march", "april apr", "may", "june jun", "july jul", "august aug",
    "september sep sept", "october oct", "november nov", "december dec"), 1) for name in names.split()}  # fmt: skip
DAYS = {name: number for number, names in enumerate((
    "monday mon", "tuesday tue tues", "wednesday wed weds", "thursday thu thurs", "friday fri", "saturday sat",
    "sunday sun")) for name in names.split()}  # fmt: skip
SEASONS = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}
ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
            "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12, "thirteenth": 13, "fourteenth": 14, "fifteenth": 15,
            "sixteenth": 16, "seventeenth": 17, "eighteenth": 18, "nineteenth": 19, "twentieth": 20, "thirtieth": 30}
YEAR_CUES = {"in", "since", "year", "was", "last", "done", "back", "from", "fitted", "of", "around", "about", "early", "late", "mid", "the", "summer", "winter", "spring", "autumn", "january", "again"}


@dataclass(frozen=True, slots=True)
class Day:
    """A date at tokens start..end: its ISO 8601 code, what it was told by, and whether it is told by a name alone."""

    start: int
    end: int
    code: str
    rule: str
    relative: bool = False


def dates(page: Passage, today: date | None) -> list[Day]:
    """The dates of a passage in order; those told by a mere weekday or "tomorrow" are relative."""
    found: list[Day] = []
    at = 0
    while at < len(page):
        item = _iso(page, at) or _month_name(page, at) or _season(page, at) or _year(page, at) or (
            _relative(page, at, today) if today else None)
        if item:
            found.append(item)
            at = item.end
        else:
            at += 1
    return found


def _value(page: Passage, at: int) -> int | None:
    if 0 <= at < len(page) and page.lexemes[at].kind == "number":
        value = page.lexemes[at].value
        if value is not None and value == int(value):
            return int(value)
    return None


def _iso(page: Passage, at: int) -> Day | None:
    lex = page.lexemes[at]
    return Day(at, at + 1, lex.text, "date.iso") if lex.kind == "code" and lex.form == "date" else None


def _after_ordinal(page: Passage, at: int) -> int:
    return at + 1 if page.word(at) in ("st", "nd", "rd", "th") else at


def _day_of_month(page: Passage, at: int) -> tuple[int, int] | None:
    """"14", "14th", "the fourteenth", "twenty first": the day, and the place after."""
    value = _value(page, at)
    if value and 1 <= value <= 31:
        if value in (20, 30) and page.word(at + 1) in ORDINALS and ORDINALS[page.word(at + 1)] < 10:
            return value + ORDINALS[page.word(at + 1)], at + 2
        return value, _after_ordinal(page, at + 1)
    if page.word(at) in ORDINALS:
        return ORDINALS[page.word(at)], at + 1
    return None


def _year_at(page: Passage, at: int) -> tuple[int, int] | None:
    place = at + 1 if page.word(at) in ("of", ",", "in") else at
    value = _value(page, place)
    if value and 1950 <= value <= 2099 and page.word(place + 1) not in ("mile", "km", "rpm", "hour", "rev"):
        return value, place + 1
    return None


def _month_name(page: Passage, at: int) -> Day | None:
    """"Saturday 14 March", "12 March 2025", "May 2023", "the fourteenth of march", "March 14th"."""
    start, place = at, at
    weekday = page.word(place) in DAYS
    if weekday:
        place += 1
        if page.word(place) == ",":
            place += 1
    if page.word(place) == "the":
        place += 1
    day = _day_of_month(page, place)
    month_at = day[1] if day else place
    if day and page.word(month_at) == "of":
        month_at += 1
    month = MONTHS.get(page.word(month_at))
    if month is None or page.word(at) == "the" and not day:
        return None
    year = _year_at(page, month_at + 1)
    end = year[1] if year else month_at + 1
    if day is None and not year:
        later = _day_of_month(page, month_at + 1)
        if later is None:
            if page.word(month_at) in ("may", "march", "mar", "sep", "dec", "jun", "jan") and page.word(at - 1) not in (
                    "in", "of", "since", "last", "by", "until", "next", "before", "end", "for"):
                return None
            return _dated(page, start, month_at + 1, month, None, None)
        year = _year_at(page, later[1])
        return _dated(page, start, year[1] if year else later[1], month, later[0], year[0] if year else None)
    return _dated(page, start, end, month, day[0] if day else None, year[0] if year else None)


def _dated(page: Passage, start: int, end: int, month: int, day: int | None, year: int | None) -> Day | None:
    note_day = page.note.date
    if year is None:
        if note_day is None:
            return None
        year = note_day.year
        past = bool({*page.words(start - 6, start)} & {"last", "since", "was", "done", "ago", "did", "back"})
        if (month, day or 1) > (note_day.month, note_day.day) and past:
            year -= 1
        elif not past and page.words(start - 3, start) and {*page.words(start - 3, start)} & {"by", "until", "next", "before", "in", "due"} and month < note_day.month:
            year += 1
    if day is None:
        return Day(start, end, f"{year:04d}-{month:02d}", "date.month")
    try:
        return Day(start, end, date(year, month, day).isoformat(), "date.day")
    except ValueError:
        return None


def _season(page: Passage, at: int) -> Day | None:
    if page.word(at) not in SEASONS:
        return None
    year = _year_at(page, at + 1)
    return Day(at, year[1], f"{year[0]:04d}-{SEASONS[page.word(at)]:02d}", "date.season") if year else None


def _year(page: Passage, at: int) -> Day | None:
    value = _value(page, at)
    if not value or not 1970 <= value <= 2050 or "," in page.note.text[slice(*page.origin(at, at + 1))]:
        return None
    after = page.word(at + 1)
    if after in ("mile", "km", "rpm", "hour", "rev", "kilometre", "newton", "mm", "psi", "kpa", "k", "mi", "ohm", "mv", "and", "-") and after != "and":
        return None
    words = {*page.words(at - 3, at)}
    if page.lexemes[at].form == "year" or words & YEAR_CUES and not words & {"odometer", "mileage", "at", "clock", "reads"}:
        return Day(at, at + 1, str(value), "date.year")
    return None


def _relative(page: Passage, at: int, today: date) -> Day | None:
    """"Tomorrow", "on Monday", "next Saturday", "last Tuesday", "in a couple of days", "next week"."""
    word, before = page.word(at), page.word(at - 1)
    if word in ("today", "tonight"):
        return Day(at, at + 1, today.isoformat(), "date.today", True)
    if word in ("tomorrow", "yesterday"):
        shift = 1 if word == "tomorrow" else -1
        return Day(at, at + 1, (today + timedelta(days=shift)).isoformat(), "date.word", True)
    if word in DAYS and (len(word) > 3 or before in ("on", "next", "last", "by")):
        if word in ("sat", "sun", "mon", "wed") and before not in ("on", "next", "by", "last"):
            return None
        ahead = (DAYS[word] - today.weekday()) % 7
        past = before == "last" or bool({*page.words(at - 4, at)} & {"was", "did", "since", "came", "set", "got", "ordered", "bought"}) and before != "next"
        if past:
            day = today - timedelta(days=(today.weekday() - DAYS[word]) % 7 or 7)
        else:
            day = today + timedelta(days=ahead or 7)
        start = at - 1 if before in ("on", "next", "last", "by") else at
        return Day(start, at + 1, day.isoformat(), "date.weekday", True)
    if word in ("week", "weekend", "month", "year") and before in ("next", "last"):
        return _next(at, word, before, today)
    return _in_days(page, at, today)


def _next(at: int, word: str, before: str, today: date) -> Day | None:
    sign = 1 if before == "next" else -1
    if word == "year":
        return Day(at - 1, at + 1, str(today.year + sign), "date.next", True)
    if word == "month":
        month = today.month - 1 + sign
        return Day(at - 1, at + 1, f"{today.year + month // 12:04d}-{month % 12 + 1:02d}", "date.next", True)
    if word == "weekend":
        return Day(at - 1, at + 1, (today + timedelta(days=(5 - today.weekday()) % 7 + (7 if sign > 0 and today.weekday() >= 5 else 0))).isoformat(), "date.next", True)
    return Day(at - 1, at + 1, (today + timedelta(days=7 * sign)).isoformat(), "date.next", True)


def _in_days(page: Passage, at: int, today: date) -> Day | None:
    if page.word(at) != "in":
        return None
    place, count = at + 1, _value(page, at + 1)
    if page.words(place, place + 3) == ["a", "couple", "of"]:
        count, place = 2, at + 3
    elif page.words(place, place + 2) == ["a", "few"]:
        count, place = 3, at + 2
    elif page.word(place) in ("a", "an") and page.word(place + 1) in ("day", "week", "month", "fortnight"):
        count, place = 1, at + 1
    if not count:
        return None
    days = {"day": 1, "week": 7, "fortnight": 14}.get(page.word(place + 1))
    if days is None or count > 60:
        return None
    return Day(at, place + 2, (today + timedelta(days=days * count)).isoformat(), "date.in", True)
