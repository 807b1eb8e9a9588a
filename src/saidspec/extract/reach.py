"""How far and how long, with a unit: odometer readings, intervals, durations, and the length of a drive."""

from __future__ import annotations

from saidspec.extract.days import tense
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity
from saidspec.extract.roles import Hint
from saidspec.extract.sorts import Sort
from saidspec.extract.unlisted import unlisted

DRIVEN = {"drove", "drive", "driven", "pulled", "rode", "ride", "towed", "test", "run", "ran", "trip", "lap", "spin",
          "loop", "circuit", "shakedown", "road", "commute", "motorway", "highway"}
UNTIL = {"in", "after", "within", "another", "for", "until", "till", "next", "before", "first", "by"}
EVERY = {"every", "each", "per"}
OUT_OF = {"lasted", "covered", "managed"}
TO_DO = frozenset({"replace", "change", "redo", "renew", "recheck", "do", "check", "rotate", "swap", "service",
                   "inspect", "repack", "fit", "has", "have", "wants", "goes", "good", "look", "retorque", "torque",
                   "re", "tighten", "grease", "drain"})
LONG_SINCE = {"last", "bought", "previous", "ago", "quit", "previously", "donor"}
WORKED_ON = {"fitted", "replaced", "changed", "installed", "renewed"}  # today, or at the reading that is told
BEFORE_NOW = LONG_SINCE | WORKED_ON
METERS = {"odo", "odometer", "clock", "dash", "meter", "metre", "hourmeter", "speedo", "mileage", "hobbs",
          "counter", "dial", "stand", "tacho", "tach"}
SHOWING = {"showing", "shows", "reads", "reading", "says", "is", "'s"}
GOT = (("got", "it"), ("got", "her"), ("got", "him"), ("bought", "it"), ("i", "got"), ("we", "got"), ("i", "bought"),
       ("we", "bought"), ("to", "me"), ("went", "in"), ("went", "on"), ("went", "into"))
VEHICLE = {"she", "he", "it", "car", "van", "truck", "bike", "tractor", "pickup", "boat"}  # before "'s at"
UNTOUCHED = "untouched-backward"  # the cue of a part to which nothing was done
SERVICES = {"service", "one", "change", "time"}
DUE_AT = {("that", "'s", "at"), ("it", "'s", "at"), ("that", "is", "at"), ("it", "is", "at"),
          ("that", "'s", "due", "at"), ("that", "'s", "for")}
UNDONE_REACH = 8  # tokens from "not done" to the reading
CUT = {"and", "so", "but", ",", ".", "now", "today", "\n", ""}
WAITED = {"left", "let", "soaked", "soak", "soaking", "charge", "charger", "charging", "dry", "drying", "cure",
          "curing", "sat", "took", "parked", "over", "stood", "rest", "overnight", "waited"}


def put_off(page: Passage, item: Quantity) -> bool:
    """"Fuel filter not done, that's at 120,000": when what was left undone will be due."""
    start = item.start - 1 if page.word(item.start - 1) in ("about", "around") else item.start
    if tuple(page.words(start - 3, start)) not in DUE_AT and tuple(page.words(start - 4, start)) not in DUE_AT:
        return False
    return any((cue := page.starting("cue", at)) is not None and cue.term.id == UNTOUCHED
               for at in range(max(0, start - UNDONE_REACH), start))


def next_service(page: Passage, item: Quantity) -> bool:
    """"Next service at 107,000": of the vehicle as a whole, and of no part."""
    return any(page.words(at, at + 2) == ["next", "service"] for at in range(item.start - 4, item.start - 1))


def to_come(page: Passage, item: Quantity) -> bool:
    """Whether the statement around a mileage is about what is still to be done: "again at 90 thousand"."""
    if page.words(item.start - 2, item.start) == ["'s", "at"] and item.start > 2 and (
            page.word(item.start - 3) in VEHICLE or unlisted(page, item.start - 3)):
        return False  # "heron's at 99,206"
    if tense(page, item.start, item.end, 10, TO_DO, after=0) == "coming":
        return True
    return page.word(item.end) not in CUT and tense(page, item.start, item.end, 10, TO_DO) == "coming"


def before_now(page: Passage, item: Quantity) -> bool:
    """Whether a reading is told of earlier work or of the day the vehicle was bought: "last done at 41,000"."""
    return told_before(page, item.start, item.end, BEFORE_NOW)


def told_before(page: Passage, start: int, end: int, telling: set[str]) -> bool:
    """Whether the words around the reading at tokens start..end put it before today; `telling` are those that do so."""
    first = max(page.sentence_start(start), start - 10)
    for at in range(start - 1, first - 1, -1):
        if page.lexemes[at].kind == "number" and page.lexemes[at].form != "year" and at < start - 1 and not (
                1950 <= (page.lexemes[at].value or 0) <= 2099):
            break
        if page.norm[at] == "next" and page.word(at + 1) in SERVICES:
            return False  # "changed the oil next service at 107,000"
        if page.norm[at] in METERS and page.word(at + 1) in SHOWING:
            return False  # "oil changed clock says 144,900"
        if (page.norm[at] in telling and not {"be", "getting", "needs", "wants"} & {*page.words(at - 2,
            at)}) or (page.norm[at], page.word(at + 1)) in GOT:
            return True
        if page.words(at, at + 3) in (["did", "it", "before"], ["done", "before", "at"], ["before", "this", "one"]):
            return True
    after = page.words(end, min(end + 8, page.sentence_end(start)))
    return any((after[i], after[i + 1]) in GOT for i in range(1, len(after) - 1) if after[i - 1] in ("when", "since"))


def _leads(before: list[str], words: set[str]) -> bool:
    """One of the words stands right before the value, or with one small word between."""
    return before[-1:] != [] and (before[-1] in words or (before[-1] in (
        "about", "around", "another", "the", "first", "next", "a", "roughly", "like", "every", "one")
        and before[-2:-1] != [] and before[-2] in words))


def distance(page: Passage, item: Quantity, hints: list[Hint]) -> Sort:
    """Odometer, interval, or the length of a drive."""
    unit, value = item.unit, item.value
    before = page.words(max(page.sentence_start(item.start), item.start - 7), item.start)
    after = page.words(item.end, min(item.end + 6, page.sentence_end(item.start)))
    clock = [hint for hint in hints if hint.kind == "odometer" and hint.distance <= 6]
    if _leads(before, EVERY) or "interval" in before[-3:]:
        return Sort("interval", "every", unit, "interval.every")
    if before[-1:] == ["or"] and ("every" in page.words(item.start - 9, item.start) or ({*before} & UNTIL
        and to_come(page, item))):
        role = "every" if "every" in page.words(item.start - 9, item.start) else "until"
        return Sort("interval", role, unit, f"interval.{role}")
    if after[:1] == ["ago"] or "since" in {*before, *after[:5]} or {*before} & OUT_OF or after[:2] == ["out", "of"]:
        return Sort("interval", "since last", unit, "interval.since", assertion="historical")
    if value < 1000 and ({*after[:2]} & DRIVEN or ({*before} & DRIVEN and not {*after[:3]} & {"clock", "odometer",
        "odo"})):
        return Sort(None, None, None, "drive.length", no_fact=True)
    named = {*after[:4]} & {"clock", "odometer", "odo"} or after[:2] in (["on", "it"], ["on", "her"],
        ["on", "him"]) or (
        clock and clock[0].distance <= 3)
    if named:
        return reading(page, item, item.unit, "odometer.named")
    if put_off(page, item) or (_leads(before, UNTIL) and not clock) or (before[-1:] == ["at"] and to_come(page, item)
        and not before_now(page, item)):
        return Sort("interval", "until", unit, "interval.until")
    if clock or value >= 1000:
        return reading(page, item, item.unit, "odometer.value")
    if before[-1:] in (["and"], ["or"], ["then"]) and to_come(page, item) and {*before[:-1]} & UNTIL:
        return Sort("interval", "until", unit, "interval.listed")
    near = next((hint for hint in hints if hint.kind == "interval" and hint.distance <= 3), None)
    if near and near.role == "until" and to_come(page, item):
        return Sort("interval", "until", unit, "interval.until")
    return Sort(None, None, None, "drive.length", no_fact=True)


def reading(page: Passage, item: Quantity, unit: str | None, rule: str) -> Sort:
    """An odometer reading: one of earlier work, the present one ("on 96,204 now"), or what the cues around it tell."""
    if {"now", "today", "currently"} & {*page.words(item.end, min(item.end + 3, page.sentence_end(item.start)))}:
        return Sort("odometer", None, unit, "odometer.now")
    return Sort("odometer", None, unit, rule, assertion="historical" if before_now(page, item) else "stated")


def span_of_time(page: Passage, item: Quantity, hints: list[Hint]) -> Sort:
    """Odometer of an hour meter, interval, or duration."""
    before = page.words(max(page.sentence_start(item.start), item.start - 7), item.start)
    after = page.words(item.end, min(item.end + 6, page.sentence_end(item.start)))
    unit = item.unit
    if unit == "year" and item.value >= 200:  # "quit at 88,600 years ago": the reading and the time
        return Sort("odometer", None, None, "odometer.years-ago", assertion="historical" if "ago" in after[:2]
            else "stated")
    if _leads(before, EVERY) or (before[-1:] == ["or"] and "every" in page.words(item.start - 8, item.start)):
        return Sort("interval", "every", unit, "interval.every")
    if after[:1] in (["ago"], ["back"], ["old"]) or "since" in {*before, *after[:5]}:
        return Sort("interval", "since last", unit, "interval.since", assertion="historical" if after[:1] != ["old"]
            else "stated")
    if unit == "hour" and (item.value >= 100 or any(hint.kind == "odometer" and hint.distance < 3 for hint in hints)):
        return _hours(page, item, before)
    if unit in ("day", "week", "month", "year"):
        return _long(page, item, before, after)
    if _leads(before, {"in", "after"}) and unit == "hour" and item.value >= 20:
        return Sort("interval", "until", unit, "interval.until")
    return Sort("duration", None, unit, "duration.unit")


def _hours(page: Passage, item: Quantity, before: list[str]) -> Sort:
    if _leads(before, {"in", "after", "another", "until", "next"}) or (before[-1:] == ["at"] and to_come(page, item)
        and not (
            before_now(page, item))):
        return Sort("interval", "until", "hour", "interval.hours")
    return reading(page, item, item.unit, "odometer.hours")


def _long(page: Passage, item: Quantity, before: list[str], after: list[str]) -> Sort:
    unit = item.unit
    if unit in ("day", "week") and {*before} & WAITED and not to_come(page, item):
        return Sort("duration", None, unit, "duration.waited")
    if {*before[-4:]} & {"in", "after", "within", "for", "another", "next", "until", "or"} or after[:1] in (["or"],
        ["from"]):
        return Sort("interval", "until", unit, "interval.until")
    if unit == "day" and not to_come(page, item):
        return Sort("duration", None, unit, "duration.days")
    return Sort("interval", "since last" if unit in ("year", "month") else "until", unit, "interval.time")


SEATED = {"tight", "contact", "snug", "touch", "touches", "seated", "nipped", "finger", "home", "bottomed", "seats",
          "spin", "gasket", "touched", "spun", "kissed", "met", "contacts"}


def turns(page: Passage, item: Quantity) -> Sort:
    """Turns of a screw or a crank; behind "hand tight" they are how far a fastener is turned on: a torque's angle."""
    first, last = max(page.sentence_start(item.start), item.start - 9), min(page.sentence_end(item.start), item.end + 6)
    words = {*page.words(first, item.start), *page.words(item.end, last)}
    if item.value < 2 and words & SEATED and not words & {"out", "back", "backed", "lightly"}:
        return Sort("torque", None, "deg", "torque.angle")
    return Sort("count", "used", None, "count.turns")
