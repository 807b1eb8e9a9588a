"""What is to be done again, next or on a day, where no verb says so.

"Oil again at 462 h", "next filter at a hundred thousand", "new boot before the inspection", "alignment's on Thursday",
"getting one Monday".
"""

from __future__ import annotations

from collections.abc import Iterator

from saidspec.extract.days import Day
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.plan import Plan, actions, clause
from saidspec.extract.plans import AT, DONE, OPENERS

ROUNDS = frozenset({"one", "service", "change", "fill", "lot", "round"})  # "next service at 130 thousand"
BOOKED = {"retest": "test", "test": "test", "mot": "inspect", "inspection": "inspect", "alignment": "adjust",
          "tracking": "adjust", "service": None}  # what is done on a day that was booked for it
LEADS = frozenset({"is", "'s", "on", "due", "booked", "for", "in", "set", "runs", "out", "at", "expires", "by"})
GET = frozenset({"getting", "get"})
WHAT_TO_GET = frozenset({"one", "another", "a", "new", "some", "more", "it", "that", "them", "two"})
BOOKED_REACH, GET_REACH = 4, 9  # tokens from the words to their day


def recurring(page: Passage, days: list[Day], parts: dict[int, Mention]) -> Iterator[Plan]:
    """A plan for each; `parts` are the completed phrases by their first token."""
    starts = {day.start for day in days}
    today = page.note.date.isoformat() if page.note.date else ""
    coming = {day.start for day in days if today and day.code > today[: len(day.code)]}
    for at, word in enumerate(page.norm):
        plan = None
        if word == "again":
            plan = _once_more(page, at, starts, parts)
        elif word == "next":
            plan = _next(page, at, parts, starts)
        elif word == "new":
            plan = _new(page, at, parts, starts, coming)
        elif word in GET:
            plan = _getting(page, at, coming)
        elif word in BOOKED:
            plan = _booked(page, at, coming)
        if plan is not None:
            yield plan


def _once_more(page: Passage, at: int, starts: set[int], parts: dict[int, Mention]) -> Plan | None:
    """"Oil again at 462 h", "wheel nuts again after the first thirty miles"."""
    place = at + 2
    while page.word(place) in ("the", "first", "about", "another") and place - at < 5:
        place += 1
    if page.word(at + 1) not in AT or not _time(page, place, starts):
        return None
    first, last = clause(page, at, at + 1)
    done = any(found.term.detail == "past" for found in actions(page, first, at))
    if done or not DONE.isdisjoint(page.words(first, at)):
        return None
    part = next((parts[place] for place in range(at - 1, first - 1, -1) if place in parts), None)
    measured = part is None and page.word(at - 1) in page.classes.measured
    return Plan(at, at + 2, first, last, "plan-again", "inspect" if measured else _usual(page, part))


def _usual(page: Passage, part: Mention | None) -> str:
    """What is done again: fasteners are tightened, what is measured is looked at, the rest is replaced."""
    if part is None:
        return "replace"
    if part.fastener:
        return "tighten"
    return "replace" if page.classes.measured.isdisjoint(part.words) else "inspect"


def _next(page: Passage, at: int, parts: dict[int, Mention], starts: set[int]) -> Plan | None:
    """"Next filter at a hundred thousand", "next one at 71,900", "next at 205,000"."""
    what = parts.get(at + 1) or page.starting("action", at + 1)
    rounds = what is None and page.word(at + 1) in ROUNDS
    end = what.end if what is not None else at + 2 if rounds else at + 1
    if what is None and not rounds and page.word(at - 1) not in OPENERS:
        return None
    place = end + (page.word(end) in ("is", "'s", "due")) + (page.word(end + 1) == "due")
    if (page.word(place) not in AT and page.word(place) != "due") or not _time(page, place + 1, starts):
        return None
    alone = rounds and page.word(at + 1) == "service"
    return Plan(at, place + 1, at, clause(page, at, place)[1], "plan-next", None if alone else "replace", alone=alone)


def _new(page: Passage, at: int, parts: dict[int, Mention], starts: set[int], coming: set[int]) -> Plan | None:
    """"New boot before the inspection", "new one Thursday"."""
    part = parts.get(at) or parts.get(at + 1)
    end = part.end if part is not None else at + 2 if page.word(at + 1) in ("one", "ones") else None
    if end is None or page.word(at - 1) not in OPENERS:
        return None
    last = clause(page, at, end)[1]
    if end in coming or (page.word(end) in ("on", "by", "for") and end + 1 in coming):
        return Plan(at, end, at, last, "plan-before", "replace")
    soon = range(end + 1, end + 4)
    if page.word(end) not in ("before", "by", "for") or (
            page.classes.events.isdisjoint(page.words(soon.start, soon.stop)) and starts.isdisjoint(soon)):
        return None
    return Plan(at, end + 1, at, last, "plan-before", "replace")


def _getting(page: Passage, at: int, coming: set[int]) -> Plan | None:
    """"Getting one Monday", "get that made up on Monday": with a day to come."""
    if page.word(at + 1) not in WHAT_TO_GET and not page.word(at + 1).isdigit():
        return None
    first, last = clause(page, at, at + 1)
    soon = range(at + 1, min(last, at + GET_REACH))
    if coming.isdisjoint(soon) or not DONE.isdisjoint(page.words(max(first, at - 4), at)):
        return None
    bought = page.word(at) == "getting" and page.word(at + 1) not in ("it", "that", "them")
    return Plan(at, at + 1, first, last, "plan-getting", "replace" if bought else None)


def _booked(page: Passage, at: int, coming: set[int]) -> Plan | None:
    """"Retest is Friday", "alignment's on Thursday", "tracking's booked for Friday", "inspection runs out in June"."""
    end = at + 1
    while page.word(end) in LEADS and end not in coming and end - at <= BOOKED_REACH:
        end += 1
    if end == at + 1 or end not in coming or page.word(at - 1) in ("before", "after", "for", "until", "by"):
        return None
    return Plan(at, end, at, clause(page, at, end)[1], "plan-booked", BOOKED[page.word(at)], alone=True)


def _time(page: Passage, at: int, starts: set[int]) -> bool:
    """A day, a number or an event of the year stands at a token; `starts` are the tokens at which days begin."""
    return at in starts or at - 1 in starts or (at < len(page) and page.lexemes[at].kind == "number") or (
        not page.classes.events.isdisjoint(page.words(at, at + 2)))
