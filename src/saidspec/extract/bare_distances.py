"""Values without a unit that tell how far and how long: odometer readings, intervals, durations."""

from __future__ import annotations

import itertools

from saidspec.extract.place import Place
from saidspec.extract.quantity import number_at
from saidspec.extract.reach import OUT_OF, before_now, put_off, reading, to_come
from saidspec.extract.sorts import Sort

OPENING = 25  # tokens of a note in which its reading is told by the mere number
REVOLVED, FASTEST = 7, 12000  # tokens from a value to the revolutions at which it was measured; rpm
LISTED = (",", "and", "or", "then")
LEADS = frozenset({"at", "was", "about", "around", "by", "is", "until", "till", "before", "to"})
NOW_LEADS = frozenset({"at", "was", "is", "about", "around"})
CLOCKS = frozenset({"clock", "odometer", "odo"})
HOURS_ON = frozenset({("hour", "on", "the", "counter"), ("hour", "on", "the", "clock"), ("hour", "on", "the", "metre"),
                      ("hour", "at", "the", "counter"), ("hour", "of", "the", "counter")})
MARKS = frozenset({",", ".", ";", "\n", "!", "?"})
EXACTLY = frozenset({("on", "the", "dot"), ("on", "the", "nose"), ("on", "the", "button")})
LEAST_SHOWN = 500  # "120 on the clock" are thousands, or hours: nobody knows
HEADING, FARTHEST = 10_000, 1_000_000  # of a reading that stands at the head of a note
NOT_READ = frozenset({"$", "€", "£", "paid", "cost", "code", "number", "part", "serial", "frame", "phone", "call",
                      "ring", "text", "tel", "on", "for", "worth", "rpm",
                      "order", "invoice", "job", "ref", "reference", "ticket", "until", "after", "every",
                      "in", "another"})
BEHIND_HEADING = frozenset({"", ".", ",", "\n", "now", "on", "today", "and", "so", "when", "this", "exactly", "dead"})
DUE = frozenset({"next", "due", "every", "again", "by", "until"})
AHEAD = frozenset({"in", "after", "another", "within", "for"})
PARTS = ("part", "fastener", "modifier")
LARGE_FORMS = ("scaled", "figure", "grouped", "chain", "digits")  # how a number of thousands is said or written

# Words and marks that may stand between a reading and its unit.
UP_TO_ITS_UNIT = frozenset({
    ".", ",", "and", "it", "'s", "that", "in", "all", "of", "them", "is", "they", "'re", "so", "on", "the", "dash",
    "clock", "odometer", "odo", "those", "are", "by", "way", "mind", "obviously", "this", "morning", "now", "today",
    "-", "her", "him",
})  # fmt: skip


def listed_distance(place: Place) -> Sort | None:
    """"Check those again after 10, 25, and 50 miles": the unit of the list stands at its end."""
    page, item = place.page, place.item
    at, numbers = item.end, 0
    while at < len(page) and (page.norm[at] in LISTED or number_at(page, at)):
        numbers += number_at(page, at)
        at += 1
    unit = place.memory.travel.words.get(page.word(at)) if numbers and number_at(page, at - 1) else None
    if not unit:
        return None
    first = item.start
    while first and (page.norm[first - 1] in LISTED or number_at(page, first - 1)):
        first -= 1
    told = page.word(first - 1) in ("after", "at", "in", "every")
    return Sort("interval", "until", unit, "interval.listed") if told else None


def odometer(place: Place) -> Sort | None:
    """"61,877 on the clock", "last time at 12 thousand", "hour meter's showing 412.6"."""
    item, page = place.item, place.page
    if item.form in ("fraction", "plural", "year") or item.high is not None or page.inside("tyre", item.number):
        return None
    if page.note.text[slice(*page.origin(item.number, item.number + 1))].lower() in ("thousand", "hundred", "grand"):
        return None
    if item.value >= 1 and _hour_meter(place):
        return reading(page, item, "hour", "odometer.hours")
    unit = _said_later(place) or place.memory.travel.unit or place.memory.by_kind.get("odometer")
    if unit == "hour" and item.value >= 20 and place.lead == "at":
        if before_now(page, item):
            return Sort("odometer", None, unit, "odometer.at", assertion="historical")
        return Sort("interval", "until", unit, "interval.bare") if to_come(page, item) else None
    if item.value < 100 or not item.whole or (place.lead == "the" and item.value < 3000):
        return None  # "the Pipit, the 600": a name
    if _shown(place) or (item.value >= HEADING and tuple(place.after(3)) in EXACTLY):
        return reading(page, item, unit, "odometer.bare")
    return _far(place, unit) if item.value >= 3000 else None


def _shown(place: Place) -> bool:
    """Words of an odometer stand before the value, or right behind it without a mark between."""
    item, page, hint = place.item, place.page, place.hint("odometer", 5)
    if hint is not None and hint.start >= item.end and not MARKS.isdisjoint(page.words(item.end, hint.start)):
        hint = None  # "the radio code was 4471, clock set"
    named = hint is not None and (item.value >= 500 or (hint.distance <= 2 and hint.start < item.start))
    after = place.after(4)
    ends = next((at for at, word in enumerate(after) if word in MARKS), len(after))
    return named or (item.value >= LEAST_SHOWN and not CLOCKS.isdisjoint(after[:ends]))


def duration(place: Place) -> Sort | None:
    """"Ran it two minutes, waited ten"; where nothing was said, who waits five waits minutes."""
    item = place.item
    unit = place.memory.by_kind.get("duration") or (
        "min" if item.whole and 2 <= item.value <= 60 and _told_to_wait(place) else None)
    if unit and not place.scene.words.waiting.isdisjoint(place.before(2)):
        return Sort("duration", None, unit, "duration.bare")
    return None


def _told_to_wait(place: Place) -> bool:
    """"Bleed it, wait five, do it again"; not "no wait 12"."""
    before = place.before(2)
    waits = place.lead in ("wait", "waited") and before[0] in (",", "and", "then", "must", "to", "i", ".", "\n")
    return waits and place.after(1) in ([], ["."], [","], ["\n"], ["and"], ["then"])


def _far(place: Place, unit: str | None) -> Sort | None:
    """A large number without a unit beside words of place and time: "at 41,000", "so 60 thousand out of them"."""
    item, page = place.item, place.page
    before = {*place.before(4)}
    last = place.memory.last
    if last is not None and last.kind == "measurement" and item.start - last.end <= REVOLVED and (
            item.start - last.end <= 2 or (item.value < FASTEST and page.same_sentence(last.anchor, item.start))):
        return None  # "thirty-two degrees at three thousand", "50 volts per phase at 3000" are revolutions
    if item.form not in LARGE_FORMS or ("at" not in before and place.hint("torque", 2)):
        return None
    if put_off(page, item):
        return Sort("interval", "until", unit, "interval.bare")
    if place.after(1) == ["ago"]:
        return Sort("interval", "since last", unit, "interval.since", assertion="historical")
    told = {*page.words(max(page.sentence_start(item.start), item.start - 6), item.start)}
    if place.lead == "or" and not told.isdisjoint(DUE):  # "next service March 2027 or 84,000"
        return Sort("interval", "every" if "every" in told else "until", unit, "interval.bare")
    if place.lead in AHEAD and to_come(page, item):
        return Sort("interval", "until", unit, "interval.bare")
    if place.lead in ("a", "an"):
        return None  # "the bearing is a 6204"
    if place.lead != "at" and any(page.starting(name, item.end) for name in PARTS):
        return None  # "a 7731 oil filter"
    if place.after(2) == ["out", "of"] or not OUT_OF.isdisjoint(place.before(3)):
        return Sort("interval", "since last", unit, "interval.lasted", assertion="historical")
    if _behind_past_date(place):
        return Sort("odometer", None, unit, "odometer.dated", assertion="historical")
    if before_now(page, item):
        return Sort("odometer", None, unit, "odometer.before", assertion="historical")
    leads = {"at"} if place.lead == "on" and item.value >= 10000 else before & LEADS
    if leads and to_come(page, item):
        return Sort("interval", "until", unit, "interval.bare")
    if leads & NOW_LEADS or _said_later(place) or (item.value >= 10000 and unit):
        return reading(page, item, unit, "odometer.at" if leads else "odometer.large")
    return reading(page, item, unit, "odometer.heading") if _at_the_head(place) else None


def _at_the_head(place: Place) -> bool:
    """"Lodestar, 84,100": a large number in the first sentence of a note, and nothing around tells otherwise."""
    item, page = place.item, place.page
    if not HEADING <= item.value < FARTHEST or page.sentence_start(item.start) != 0 or item.start > OPENING:
        return False
    return NOT_READ.isdisjoint(place.before(3)) and page.word(item.end) in BEHIND_HEADING


def _behind_past_date(place: Place) -> bool:
    """"March 2022, 104,800"."""
    start, past = place.item.start, place.memory.travel.past
    return start in past or (place.lead in (",", "and", "at") and start - 1 in past)


def _hour_meter(place: Place) -> bool:
    """"Hour meter's showing 3214", "2978 showing on the hour meter", "engine hours 2978"."""
    page, item = place.page, place.item
    if page.lower(item.start - 1) == "hours" and page.word(item.start - 2) in ("", ".", ",", "\n", ":", "engine"):
        return True  # "Hours 318.4."
    words = [*page.words(max(page.sentence_start(item.start), item.start - 7), item.start), "|",
             *page.words(item.end, min(item.end + 7, page.sentence_end(item.start)))]
    meters = place.scene.words.hour_meters
    if not meters.isdisjoint(words) or any(f"{one} {two}" in meters for one, two in itertools.pairwise(words)):
        return True
    return any(tuple(words[at : at + 4]) in HOURS_ON for at in range(len(words) - 3))


def _said_later(place: Place) -> str | None:
    """The unit of a reading that is told behind it: "148 312 and it's kilometers", "139,800. Miles"."""
    page, words = place.page, place.memory.travel.words
    for at in range(place.item.end, min(place.item.end + 8, len(page))):
        word = page.norm[at]
        if word in words and len(word) > 1 and not number_at(page, at - 1):
            return words[word]
        if word not in UP_TO_ITS_UNIT or number_at(page, at):
            return None
    return None
