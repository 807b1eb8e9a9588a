"""How far and how long: odometer readings, intervals, durations, and the length of a drive."""

from __future__ import annotations

from saidspec.extract.passage import Passage
from saidspec.extract.quantities import Quantity
from saidspec.extract.roles import Hint
from saidspec.extract.sorts import Sort

DRIVEN = {"drove", "drive", "driven", "pulled", "rode", "ride", "towed", "test", "run", "ran", "trip", "lap"}


def distance(page: Passage, item: Quantity, hints: list[Hint]) -> Sort:
    """Odometer, interval, or the length of a drive."""
    unit = item.unit
    before = page.words(item.start - 4, item.start)
    after = page.words(item.end, item.end + 4)
    clock = [hint for hint in hints if hint.kind == "odometer" and hint.distance <= 6]
    interval = [hint for hint in hints if hint.kind == "interval" and hint.distance <= 3]
    value = item.value
    if {*after} & {"clock", "odometer", "odo"} or clock and clock[0].distance <= 3 or after[:2] == ["on", "it"] or after[:2] == ["on", "her"]:
        return Sort("odometer", None, unit, "odometer.named")
    if before[-1:] in (["every"], ["each"], ["per"]) or before[-2:] == ["every", "about"]:
        return Sort("interval", "every", unit, "interval.every")
    if {*before} & {"after", "in", "next", "within", "another", "until", "till", "for", "before", "due", "every"} and not clock:
        if value < 1000 or not {*before} & {"in"}:
            role = "every" if "every" in before else "until"
            return Sort("interval", role, unit, "interval.until")
    if after[:1] in (["ago"], ["since"]) or {"since"} & {*before}:
        return Sort("interval", "since last", unit, "interval.since")
    if {*before, *page.words(item.start - 7, item.start)} & DRIVEN and value < 1000:
        return Sort(None, None, None, "drive.length", no_fact=True)
    if clock or value >= 1000:
        return Sort("odometer", None, unit, "odometer.value")
    if interval:
        return Sort("interval", interval[0].role, unit, "interval." + interval[0].role.replace(" ", "-"))
    return Sort("interval", "until", unit, "interval.distance") if value >= 100 else Sort(None, None, None, "drive.length", no_fact=True)


def span_of_time(page: Passage, item: Quantity, hints: list[Hint]) -> Sort:
    before, after = page.words(item.start - 4, item.start), page.words(item.end, item.end + 3)
    long = item.unit in ("day", "week", "month", "year")
    if item.unit == "hour" and (item.value >= 100 or any(hint.kind == "odometer" and hint.distance < 3 for hint in hints)):
        if {"ago"} & {*after} or "since" in before:
            return Sort("interval", "since last", "hour", "interval.since")
        if before[-1:] in (["every"], ["in"], ["after"], ["another"], ["until"]) or "next" in before:
            return Sort("interval", "every" if "every" in before else "until", "hour", "interval.hours")
        return Sort("odometer", None, "hour", "odometer.hours")
    if "every" in before or before[-1:] == ["each"]:
        return Sort("interval", "every", item.unit, "interval.every")
    if {"ago"} & {*after} or "since" in before:
        return Sort("interval", "since last", item.unit, "interval.since")
    if long and ({*before} & {"in", "after", "within", "for", "another", "next", "until", "or"} or after[:1] in (["or"], ["from"])):
        return Sort("interval", "until", item.unit, "interval.until")
    if long and after[:1] == ["old"]:
        return Sort("interval", "since last", item.unit, "interval.age")
    if long:
        return Sort("interval", "since last" if item.unit in ("year", "month") else "until", item.unit, "interval.time")
    if before[-1:] in (["in"], ["after"]) and item.unit == "hour" and item.value >= 20:
        return Sort("interval", "until", item.unit, "interval.until")
    return Sort("duration", None, item.unit, "duration.unit")
