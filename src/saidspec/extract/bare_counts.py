"""Values said without a unit that count or tell how far and how long: pieces, odometer readings, durations."""

from __future__ import annotations

from saidspec.extract.place import Place
from saidspec.extract.sorts import Sort


def counted(place: Place) -> Sort | None:
    """"Three ten mil bolts": the first of two numbers counts the pieces."""
    item, page = place.item, place.page
    if item.end < len(page) and page.lexemes[item.end].kind in ("number", "code") and item.value == item.value.to_integral_value() and (
            1 <= item.value <= 40 and item.high is None and item.angle is None):
        return Sort("count", "used", None, "count.pieces")
    return None


def count(place: Place) -> Sort | None:
    """"Eight screws", "two of them", "twenty times", "four strokes": pieces, strokes, turns."""
    item, page = place.item, place.page
    if item.value != item.value.to_integral_value() or item.high is not None or item.form == "plural":
        return None
    after = place.after(3)
    if after[:1] and after[0] in ("stroke", "pump", "time", "squirt", "dab", "drop", "click", "press") and after[0] != "time" or after[:2] == ["of", "them"]:
        return Sort("count", "used", None, "count.pieces")
    if after[:1] == ["time"]:
        return Sort("count", "used", None, "count.times")
    if after[:1] in (["jug"], ["bottle"], ["drum"], ["can"], ["tin"], ["tub"], ["box"], ["pack"], ["tube"], ["bag"]):
        return Sort("count", "bought", None, "count.containers")
    if place.manner == "modifier" and place.mention is not None and item.value <= 60:
        text = page.lexemes[place.mention.end - 1].text if place.mention.end - 1 < len(page) else ""
        if page.lexemes[item.end].start >= 0 and (place.mention.plural or text.endswith("s")) and item.form != "fraction":
            return Sort("count", "used", None, "count.parts")
    return None


def odometer(place: Place) -> Sort | None:
    """"61,877 on the clock", "last time at 12 thousand"."""
    item = place.item
    if item.form in ("fraction", "decimal", "plural", "year") or item.value < 100 or item.high is not None:
        return None
    unit = place.memory.by_kind.get("odometer")
    hint = place.hint("odometer", 5)
    tail = {*place.after(4)}
    if hint and (item.value >= 500 or hint.distance <= 2) or {"clock", "odometer", "odo"} & tail:
        return Sort("odometer", None, unit, "odometer.bare")
    if item.value >= 3000 and item.form in ("scaled", "figure", "grouped", "chain") and (
            {*place.before(4)} & {"at", "was", "about", "around"}) and not place.hint("torque", 2):
        if {*place.before(6)} & {"next", "due", "until", "till", "before", "every"}:
            return Sort("interval", "until", unit or "mi", "interval.bare")
        return Sort("odometer", None, unit, "odometer.at")
    if item.value >= 3000 and {*place.before(8)} & {"next", "due", "until", "till", "before", "again"}:
        return Sort("interval", "until", unit, "interval.bare")
    if item.value >= 10000:
        return Sort("odometer", None, unit, "odometer.large") if unit or {*place.before(6)} & {"at", "mile", "km"} else None
    return None


def duration(place: Place) -> Sort | None:
    """"Ran it two minutes, waited ten"."""
    unit = place.memory.by_kind.get("duration")
    if unit and {*place.before(2)} & {"waited", "wait", "for", "another", "soaked", "soak", "left"}:
        return Sort("duration", None, unit, "duration.bare")
    return None
