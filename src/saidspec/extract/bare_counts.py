"""Values said without a unit that count or tell how far and how long: pieces, odometer readings, durations."""

from __future__ import annotations

import itertools

from saidspec.extract.place import Place
from saidspec.extract.reach import OUT_OF, before_now, reading, to_come
from saidspec.extract.sorts import Sort


def counted(place: Place) -> Sort | None:
    """"Three ten mil bolts": the first of two numbers counts the pieces."""
    item, page = place.item, place.page
    far = _listed_distance(place)
    if far:
        return far
    other = page.lexemes[item.end].value if item.end < len(page) else None
    if other is not None and other > 36 and item.form == "words":
        return None
    if item.end < len(page) and page.lexemes[item.end].kind in ("number",
        "code") and item.value == item.value.to_integral_value() and (
            1 <= item.value <= 24 and item.high is None and item.angle is None):
        return Sort("count", "used", None, "count.pieces")
    return None


SOME_ARE = {"are", "were", "came", "have", "had", "look", "need", "took", "won't", "broke", "snapped", "go", "went",
    "get"}  # "two are 10 mm"
def _listed_distance(place: Place) -> Sort | None:
    """"Check those again after 10, 25, and 50 miles": the unit of the list stands at its end."""
    page, item, words = place.page, place.item, place.memory.travel.words
    at, numbers = item.end, 0
    while at < len(page) and (page.norm[at] in (",", "and", "or", "then") or page.lexemes[at].kind == "number"):
        numbers += page.lexemes[at].kind == "number"
        at += 1
    unit = words.get(page.word(at)) if numbers and page.lexemes[at - 1].kind == "number" else None
    first = item.start
    while first and (page.norm[first - 1] in (",", "and", "or", "then") or page.lexemes[first - 1].kind == "number"):
        first -= 1
    return Sort("interval", "until", unit, "interval.listed") if unit and page.word(first - 1) in ("after", "at",
        "in", "every") else None


STROKES = {"stroke", "squirt", "dab", "drop", "click", "press", "shot"}
CONTAINERS = {"jug", "bottle", "drum", "can", "tin", "tub", "box", "pack", "tube", "bag", "cartridge"}


def count(place: Place) -> Sort | None:
    """"Eight screws", "two of them", "twenty times", "four strokes": pieces, strokes, turns."""
    item, page = place.item, place.page
    if item.value != item.value.to_integral_value() or item.high is not None or item.form == "plural" or item.value < 1:
        return None
    after = place.after(3)
    word = after[0] if after else ""
    if word in SOME_ARE and item.form == "words" and item.value <= 12 and item.start == page.sentence_start(item.start):
        return Sort(None, None, None, "count.some", no_fact=True)
    if word in STROKES or (word == "pump" and (after[1:2] in (["of"], ["each"]) or {*place.before(4)} & {"gave",
        "got", "give", "another"})):
        return Sort("count", "used", None, "count.strokes")
    if word == "time":
        return Sort("count", "used", None, "count.times")
    if word in CONTAINERS:
        return Sort("count", _handled(place, "bought"), None, "count.containers")
    of_the = after[:2] == ["of", "the"] and any(
        page.starting(name, item.end + gap) for name in ("part", "fastener", "modifier") for gap in (2, 3))
    if of_the or after[:2] in (["of", "them"], ["of", "those"], ["of", "these"]) or (page.starting("material", item.end)
        and item.value <= 60 and (
            page.lexemes[page.starting("material", item.end).end - 1].text.endswith("s"))):  # type: ignore[union-attr]
        return Sort("count", _handled(place, "used"), None, "count.pieces")
    if place.manner == "modifier" and place.mention is not None and item.value <= 60 and item.form != "fraction":
        text = page.lexemes[place.mention.end - 1].text if place.mention.end - 1 < len(page) else ""
        if place.mention.plural or text.endswith("s"):
            return Sort("count", _handled(place, "used"), None, "count.parts")
    return None


def _handled(place: Place, otherwise: str) -> str:
    """Whether pieces were bought, are left over, or were used."""
    page, item = place.page, place.item
    first, last = max(page.sentence_start(item.start), item.start - 6), min(page.sentence_end(item.start), item.end + 7)
    before, after = page.words(first, item.start), page.words(item.end, last)
    if ("over" in after and "left" in after) or {"spare", "remaining",
        "leftover"} & {*after} or ("left" in after[1:5] and not {"the", "side"} & {
            *after[after.index("left") - 1 : after.index("left") + 2]}):
        return "left over"
    if {"bought", "ordered", "purchased"} & {*before} or ("picked",
        "up") in itertools.pairwise(before) or ("got" in before and (
            "from" in after or "new" in after[:2] or "i" in before)):
        return "bought"
    return otherwise


def odometer(place: Place) -> Sort | None:
    """"61,877 on the clock", "last time at 12 thousand", "hour meter's showing 412.6"."""
    item, page = place.item, place.page
    if item.form in ("fraction", "plural", "year") or item.high is not None or page.inside("tyre", item.number):
        return None
    if page.note.text[slice(*page.origin(item.number, item.number + 1))].lower() in ("thousand", "hundred", "grand"):
        return None
    hours = _hour_meter(place)
    if hours and item.value >= 1:
        return reading(page, item, "hour", "odometer.hours")
    unit = _said_later(place) or place.memory.travel.unit or place.memory.by_kind.get("odometer")
    if unit == "hour" and item.value >= 20 and page.word(item.start - 1) == "at":
        if before_now(page, item):
            return Sort("odometer", None, unit, "odometer.at", assertion="historical")
        return Sort("interval", "until", unit, "interval.bare") if to_come(page, item) else None
    if item.value < 100 or item.value != item.value.to_integral_value():
        return None
    hint = place.hint("odometer", 5)
    if (hint and (item.value >= 500 or (hint.distance <= 2 and hint.start < item.start))) or {"clock", "odometer",
        "odo"} & {*place.after(4)}:
        return reading(page, item, unit, "odometer.bare")
    return _far(place, unit) if item.value >= 3000 else None


def _far(place: Place, unit: str | None) -> Sort | None:
    """A large number without a unit beside words of place and time: "at 41,000", "so 60 thousand out of them"."""
    item, page = place.item, place.page
    before, after = {*place.before(4)}, place.after(4)
    if (place.hint("torque", 2) and not before & {"at"}) or item.form not in ("scaled", "figure", "grouped", "chain",
        "digits"):
        return None
    if after[:2] == ["out", "of"] or {*place.before(3)} & OUT_OF:
        return Sort("interval", "since last", unit, "interval.lasted", assertion="historical")
    on = page.word(item.start - 1) == "on" and item.value >= 10000
    leads = {"at"} if on else before & {"at", "was", "about", "around", "by", "is", "until", "till", "before", "to"}
    if item.start in place.memory.travel.past or (page.word(item.start - 1) in (",", "and", "at")
        and item.start - 1 in place.memory.travel.past):
        return Sort("odometer", None, unit, "odometer.dated", assertion="historical")
    if before_now(page, item):
        return Sort("odometer", None, unit, "odometer.before", assertion="historical")
    if leads and to_come(page, item):
        return Sort("interval", "until", unit, "interval.bare")
    if leads & {"at", "was", "is", "about", "around"} or _said_later(place) or (item.value >= 10000 and unit):
        return reading(page, item, unit, "odometer.at" if leads else "odometer.large")
    return None


def _hour_meter(place: Place) -> bool:
    """"Hour meter's showing 3214", "2978 showing on the hour meter", "engine hours 2978"."""
    page, item = place.page, place.item
    words = [*page.words(max(page.sentence_start(item.start), item.start - 7), item.start), "|",
             *page.words(item.end, min(item.end + 7, page.sentence_end(item.start)))]
    return "hourmeter" in words or any(pair in (("hour", "meter"), ("hour", "metre"), ("engine", "hour"),
        ("hobbs", "meter"))
                                       for pair in itertools.pairwise(words))


def _said_later(place: Place) -> str | None:
    """The unit of a reading that is told behind it: "148 312 and it's kilometers", "139,800. Miles"."""
    page, words = place.page, place.memory.travel.words
    for at in range(place.item.end, min(place.item.end + 8, len(page))):
        word = page.norm[at]
        if word in words and len(word) > 1 and page.lexemes[at - 1].kind != "number":
            return words[word]
        if word not in SMALL or page.lexemes[at].kind == "number":
            return None
    return None


SMALL = {".", ",", "and", "it", "'s", "that", "in", "all", "of", "them", "is", "they", "'re", "so", "on", "the", "dash",
         "clock", "odometer", "odo", "those", "are", "by", "way", "mind", "obviously", "this", "morning", "now",
         "today", "-"}


def duration(place: Place) -> Sort | None:
    """"Ran it two minutes, waited ten"."""
    unit = place.memory.by_kind.get("duration")
    if unit and {*place.before(2)} & {"waited", "wait", "for", "another", "soaked", "soak", "left"}:
        return Sort("duration", None, unit, "duration.bare")
    return None
