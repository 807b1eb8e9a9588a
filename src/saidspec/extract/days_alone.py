"""Days told without their month: "the twenty first", "the twelfth of last month"; and the dates on tyres."""

from __future__ import annotations

import calendar
from datetime import date

from saidspec.extract.days import Day, tense, whole
from saidspec.extract.passage import Passage

ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
            "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12, "thirteenth": 13, "fourteenth": 14, "fifteenth": 15,
            "sixteenth": 16, "seventeenth": 17, "eighteenth": 18, "nineteenth": 19, "twentieth": 20, "thirtieth": 30}
TENS = {"twenty": 20, "thirty": 30}  # that an ordinal goes on from
DAY_LEADS = {"for", "by", "on", "until", "till", "before", "since"}
ENDS = {"", ".", ",", ";", "\n", "!", "?", "and", "so", "then", "at", "with", "when", "because", "but"}
ENDINGS = {"st", "nd", "rd", "th", "-"}  # of an ordinal whose figure stands apart
MONTH_SHIFTS = {"last": -1, "this": 0, "next": 1}
FEW = 8  # "the gap on the 2nd, 0.3": things that are numbered
FIRST_ALONE = 13  # smaller ones in words count things: "on the third"
MARKED = {"dot", "dated", "stamp", "stamped"}  # words by which four figures are week and year of a tyre


def ordinal_day(page: Passage, at: int) -> tuple[int, int] | None:
    """"14", "14th", "the fourteenth", "twenty first": the day, and the place after."""
    value = whole(page, at)
    if value and 1 <= value <= 31:
        if value in (20, 30) and ORDINALS.get(page.word(at + 1), 10) < 10:
            return value + ORDINALS[page.word(at + 1)], at + 2
        return value, at + 2 if page.word(at + 1) in ("st", "nd", "rd", "th") else at + 1
    word = page.word(at)
    if word in TENS:
        behind = at + 2 if page.word(at + 1) == "-" else at + 1
        ones = ORDINALS.get(page.word(behind), 10)
        return (TENS[word] + ones, behind + 1) if ones < 10 and TENS[word] + ones <= 31 else None
    if word[:1].isdigit() and word[-2:] in ("st", "nd", "rd", "th") and word[:-2].isdigit():
        return (int(word[:-2]), at + 1) if 1 <= int(word[:-2]) <= 31 else None
    return (ORDINALS[word], at + 1) if word in ORDINALS else None


def day_of_month(page: Passage, at: int, today: date) -> Day | None:
    """"Booked in for the 21st", "on the twelfth of last month"; the nearest day of that number by the tense."""
    if page.norm[at] != "the":
        return None
    found = ordinal_day(page, at + 1)
    if found is None or (page.lexemes[at + 1].kind == "number" and page.word(at + 2) not in ENDINGS):
        return None
    day, end = found
    shift = MONTH_SHIFTS.get(page.word(end + 1))
    if page.word(end) == "of" and shift is not None and page.word(end + 2) == "month":
        return _in_month(at, end + 3, today, day, shift)
    told = page.lower(at + 1)[:1].isdigit() or day >= FIRST_ALONE
    if not told or page.word(at - 1) not in DAY_LEADS or page.word(end) not in ENDS or (
            day <= FEW and page.word(end) == ","):
        return None
    time = tense(page, at, end) or ("coming" if page.word(at - 1) in ("by", "for", "until", "till", "before") else "")
    if time == "coming":
        return _in_month(at, end, today, day, int(day <= today.day))
    return _in_month(at, end, today, day, -int(day > today.day)) if time == "past" else None


def _in_month(start: int, end: int, today: date, day: int, shift: int) -> Day | None:
    month = today.month - 1 + shift
    year, month = today.year + month // 12, month % 12 + 1
    if day > calendar.monthrange(year, month)[1]:
        return None
    return Day(start, end, date(year, month, day).isoformat(), "date.day-alone")


def tyre_date(page: Passage, at: int) -> Day | None:
    """"Date code on the tyre is 3419": week and year of make (as on tyres since 2000); the year alone is given."""
    value = whole(page, at)
    if value is None or not 100 <= value <= 5399 or page.lexemes[at].text != page.said(at):
        return None
    week, year = value // 100, value % 100
    before = page.words(max(0, at - 6), at)
    dated = not MARKED.isdisjoint(before) or ("date" in before and "code" in before)
    if not 1 <= week <= 53 or not dated or "tyre" not in page.words(max(0, at - 10), at + 6):
        return None
    return Day(at, at + 1, str(2000 + year), "date.tyre")
