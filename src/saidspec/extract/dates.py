"""Dates of a passage, resolved against the day of the note, with the precision in which they were said.

ISO 8601 codes: a day, a month (2023-05) or a year (2019).  Seasons are quarters of the northern year: common practice;
"spring of 2028" is given as the month in which it begins.
"""

from __future__ import annotations

from datetime import date

from saidspec.extract.days import MONTHS, WEEKDAYS, Day, tense, whole
from saidspec.extract.days_alone import ORDINALS, TENS, day_of_month, ordinal_day, tyre_date
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage
from saidspec.extract.relative_days import RELATIVE, relative_day

SEASONS = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}
YEAR_CUES = {"stamped", "dated", "label", "sticker", "sidewall", "printed", "marked", "manufactured", "moulded",
             "in", "since", "year", "was", "last", "done", "back", "from", "fitted", "of", "around", "about", "early",
             "late", "mid", "the", "summer", "winter", "spring", "autumn", "january", "again", "till", "until"}
NOT_YEARS = {"mile", "km", "rpm", "hour", "rev", "kilometre", "newton", "mm", "psi", "kpa", "k", "mi", "ohm", "mv", "-",
             "metre", "gram", "kg", "lb", "pound", "cc", "ml", "litre", "degree", "dollar", "euro", "quid"}
STAMPS = {"dated", "stamped", "date", "marked", "expires", "expiry", "manufactured"}
PRICED = {"for", "each", "apiece"}  # behind a price that sounds like a year
EVERYDAY = {"may", "march", "mar", "sep", "dec", "jun", "jan"}  # month names that are words of another meaning
STARTS = {*MONTHS, *WEEKDAYS, *SEASONS, *ORDINALS, *RELATIVE, *TENS, "the"}  # words that a date may begin with
MONTH_LEADS = {"in", "of", "since", "last", "by", "until", "till", "next", "before", "end", "for", "early", "late",
               "from"}


def dates(page: Passage, today: date | None) -> list[Day]:
    """The dates of a passage in order; those told by their distance from the day of the note are relative."""
    found: list[Day] = []
    end = 0
    for at, (lex, word) in enumerate(zip(page.lexemes, page.norm, strict=True)):
        if at < end or (word not in STARTS and lex.kind in ("word", "mark", "suffix") and not lex.text[:1].isdigit()):
            continue
        item = _iso(page, at) or _numeric(page, at) or _month_name(page, at) or _season(page, at) or _year(page,
            at) or tyre_date(page, at) or (
            (day_of_month(page, at, today) or relative_day(page, at, today)) if today else None)
        if item:
            found.append(item)
            end = item.end
    return found


def date_facts(days: list[Day], today: date | None) -> list[Draft]:
    """The facts of dates: what lies before the day of the note is history, what lies behind it a plan.

    A relative day that is still to come belongs to what is to be done then and is no fact of its own.
    """
    made = []
    for day in days:
        now = today.isoformat()[: len(day.code)] if today else ""
        past, coming = bool(now) and day.code < now, bool(now) and day.code > now
        if day.relative and not past:
            continue
        standing, cue = ("historical", "date.past") if past else ("planned", "date.coming") if coming else ("stated",
            None)
        made.append(Draft("date", day.start, day.end, day.start, None, code=day.code, assertion=standing, cue=cue,
                          rule=day.rule, confidence=0.9))
    return made


def past_ends(days: list[Day], today: date | None) -> frozenset[int]:
    """The tokens right behind the dates of the past."""
    return frozenset(day.end for day in days if today and day.code < today.isoformat()[: len(day.code)])


def _iso(page: Passage, at: int) -> Day | None:
    lex = page.lexemes[at]
    return Day(at, at + 1, lex.text, "date.iso") if lex.kind == "code" and lex.form == "date" else None


def _numeric(page: Passage, at: int) -> Day | None:
    """"05/2023", "12/03/2025", "12.3.2025"; where both could be the month, the day first unless money is in $."""
    mark = page.word(at + 1)
    if mark not in ("/", ".", "-"):
        return None
    first, second = whole(page, at), whole(page, at + 2)
    if first is None or second is None or _gap(page, at, at + 2):
        return None
    if mark == "/" and 1 <= first <= 12 and 1950 <= second <= 2099:
        return Day(at, at + 3, f"{second:04d}-{first:02d}", "date.numeric")
    if mark == "/" and 1 <= first <= 12 and second < 50 and not STAMPS.isdisjoint(page.words(at - 5, at)) and (
            page.word(at + 3) != "/"):
        return Day(at, at + 3, f"20{second:02d}-{first:02d}", "date.numeric")  # "dated 08/22"
    third = whole(page, at + 4)
    if third is None or page.word(at + 3) != mark or _gap(page, at + 2, at + 4) or not 1990 <= (
            third + 2000 if third < 100 else third) <= 2099:
        return None
    month_first = second > 12 or (first <= 12 and "$" in page.norm)
    month, day = (first, second) if month_first else (second, first)
    return _valid(at, at + 5, third + 2000 if third < 100 else third, month, day, "date.numeric")


def _gap(page: Passage, first: int, last: int) -> bool:
    """Whether anything stands between tokens first and last that is written apart."""
    return any(page.lexemes[i].end != page.lexemes[i + 1].start for i in range(first, last))


def _valid(start: int, end: int, year: int, month: int, day: int, rule: str) -> Day | None:
    try:
        return Day(start, end, date(year, month, day).isoformat(), rule)
    except ValueError:
        return None


def _year_at(page: Passage, at: int) -> tuple[int, int] | None:
    place = at + 1 if page.word(at) in ("of", ",", "in", "th", "st", "nd", "rd") else at
    value = whole(page, place)
    if value and 1950 <= value <= 2099 and page.word(place + 1) not in NOT_YEARS:
        return value, place + 1
    return _pair(page, place)


def _pair(page: Passage, at: int) -> tuple[int, int] | None:
    """"Twenty nineteen" where the two numbers were left apart."""
    century, rest = whole(page, at), whole(page, at + 1)
    if century in (19, 20) and rest and 10 <= rest <= (99 if century == 19 else 49) and (
            page.lexemes[at].form == "words" == page.lexemes[at + 1].form
            and page.word(at + 2) not in NOT_YEARS | {"mil"}):
        return century * 100 + rest, at + 2
    return None


def _month_name(page: Passage, at: int) -> Day | None:
    """"Saturday 14 March", "12 March 2025", "May 2023", "the fourteenth of march", "March 14th"."""
    place = at
    if page.norm[place] in WEEKDAYS:
        place += 2 if page.word(place + 1) == "," else 1
    if page.word(place) == "the":
        place += 1
    day = ordinal_day(page, place)
    month_at = day[1] if day else place
    if day and page.word(month_at) == "of":
        month_at += 1
    month = MONTHS.get(page.word(month_at))
    if month is None or (page.norm[at] == "the" and not day):
        return None
    year = _year_at(page, month_at + 1)
    if day or year:
        return _dated(page, at, year[1] if year else month_at + 1, month, day[0] if day else None, year[0] if year
            else None)
    later = ordinal_day(page, month_at + 1)
    if later and page.word(later[1]) not in NOT_YEARS:
        year = _year_at(page, later[1])
        return _dated(page, at, year[1] if year else later[1], month, later[0], year[0] if year else None)
    if page.word(month_at) in EVERYDAY and page.word(at - 1) not in MONTH_LEADS:
        return None
    return _dated(page, at, month_at + 1, month, None, None)


def _dated(page: Passage, start: int, end: int, month: int, day: int | None, year: int | None) -> Day | None:
    """With the year that a date without one means: that of the note, or the one before or after it by the tense."""
    now = page.note.date
    if year is None:
        if now is None:
            return None
        time = tense(page, start, end)
        asked, today = (month, day or 1), (now.month, now.day if day else 1)
        year = now.year + (asked < today and time == "coming") - (asked > today and time == "past")
    if day is None:
        return Day(start, end, f"{year:04d}-{month:02d}", "date.month")
    return _valid(start, end, year, month, day, "date.day")


def _season(page: Passage, at: int) -> Day | None:
    if page.norm[at] not in SEASONS:
        return None
    year = _year_at(page, at + 1)
    return Day(at, year[1], f"{year[0]:04d}-{SEASONS[page.norm[at]]:02d}", "date.season") if year else None


def _year(page: Passage, at: int) -> Day | None:
    value, end = whole(page, at), at + 1
    pair = _pair(page, at) if value in (19, 20) and page.word(at - 1) in YEAR_CUES else None
    if pair:
        value, end = pair
    if not value or not 1970 <= value <= 2050 or page.word(end) in NOT_YEARS or "," in page.said(at) or (
            page.word(at - 1) in ("a", "an", "my") and page.lexemes[at].form != "year"):
        return None
    if "," in page.note.text[slice(*page.origin(at, at + 1))]:
        return None
    if page.lexemes[at].form == "year" and page.word(end) in PRICED and page.word(at - 1) not in YEAR_CUES:
        return None  # "nineteen ninety nine for the wipers"
    words = {*page.words(at - 3, at)}
    if page.lexemes[at].form == "year" or pair or (words & YEAR_CUES and not words & {"odometer", "mileage", "at",
        "clock", "reads"}):
        return Day(at, end, str(value), "date.year")
    return None
