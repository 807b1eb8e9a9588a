"""What the readings of a note say of each other: an odometer only goes up.

Of two readings the smaller one is of earlier work, the one beyond the present reading is still to come, and a figure
that is the difference of two readings is how long a part has lasted.
"""

from __future__ import annotations

import itertools
from decimal import Decimal

from saidspec.discourse.corrections import between
from saidspec.extract.draft import Draft
from saidspec.extract.memory import Travel
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity
from saidspec.extract.reach import LONG_SINCE, METERS, SHOWING, told_before

DRIVE = {"hour": Decimal(2)}  # how far a reading before and one after a test drive may lie apart
LONG_DRIVE = Decimal(100)


def travel(page: Passage, numbers: dict[int, Quantity], units: dict[str, str], past: frozenset[int]) -> Travel:
    """How the note counts distance: the unit of its first long distance, else of any; hours with an hour meter."""
    far = [item for item in numbers.values() if item.dimension == "distance"]
    long = [item for item in far if item.value >= 1000]
    unit = next((settled_unit(page, item.end, units) or item.unit for item in long or far), None)
    if unit is None:
        unit = next((units[word] for at, word in enumerate(page.norm) if word in units and len(word) > 1), None)
    if unit is None and any(page.norm[i] == "hourmeter" or (page.norm[i] == "hour" and page.word(i + 1) in ("meter",
        "metre"))
                            or (page.norm[i] == "engine" and page.word(i + 1) == "hour") for i in range(len(page))):
        unit = "hour"
    return Travel(unit, units, past)


FILLERS = {"uh", "um", "er", "no", "sorry", "i", "mean", "wait", ",", "rather", "not", "well", "or"}


def settled_unit(page: Passage, end: int, words: dict[str, str]) -> str | None:
    """The unit to which a speaker corrects the one at token `end`: "kilometers, uh, miles"; None where he does not."""
    at = end
    while at < len(page) and at - end < 5 and page.norm[at] in FILLERS:
        at += 1
    word = page.word(at)
    return words[word] if at > end and word in words and len(word) > 1 and page.word(at - 1) != "not" else None


def settle_readings(page: Passage, drafts: list[Draft], travel: Travel) -> None:
    """Give each odometer reading its unit and its standing by the present one."""
    for draft in drafts:
        if draft.kind in ("odometer", "interval") and draft.unit in ("mi", "km"):
            draft.unit = settled_unit(page, draft.end, travel.words) or draft.unit
    _settled_value(page, drafts)
    readings = sorted((draft for draft in drafts if draft.kind == "odometer" and draft.value is not None
        and draft.assertion != "retracted"), key=lambda draft: draft.start)
    now = next((draft for draft in readings if draft.assertion == "stated" and draft.rule in NAMED), None) or next(
        (draft for draft in readings if draft.assertion == "stated"), None) or _of_this_work(page, readings)
    if now is None or now.value is None:
        return
    earlier: list[Draft] = []
    drive = DRIVE.get(now.unit or "", LONG_DRIVE)
    for draft in readings:
        if draft is now or draft.value is None or draft.unit != now.unit or _corrected(page, now, draft):
            continue
        if draft.value > now.value + drive:
            if draft.start > now.start and draft.assertion == "stated":
                draft.kind, draft.role, draft.rule = "interval", "until", "interval.beyond-reading"
        elif _lasted(draft, now, earlier):
            _as_lasted(draft)
        elif draft.value < now.value - drive:
            if draft.assertion == "stated":
                draft.assertion, draft.cue = "historical", "earlier-reading"
            earlier.append(draft)
    for draft in drafts:
        if draft.kind == "duration" and draft.unit == now.unit and _lasted(draft, now, earlier):
            _as_lasted(draft)


BEEN = {"was", "were", "been", "had", "got"}


def _of_this_work(page: Passage, readings: list[Draft]) -> Draft | None:
    """"Engine oil changed at 91,200, last change was 80,400": the work told without "was" is that of today."""
    done = [draft for draft in readings if draft.assertion == "historical" and draft.cue == draft.rule and not (
        told_before(page, draft.start, draft.end, LONG_SINCE)) and BEEN.isdisjoint(
            page.words(max(page.sentence_start(draft.start), draft.start - 6), draft.start))]
    last = max(done, key=lambda draft: draft.value or 0, default=None)
    if last is None or len(readings) < 2:
        return None
    last.assertion, last.cue = "stated", None
    return last


def off_the_meter(page: Passage, draft: Draft) -> bool:
    """"Odo says 164,902": what the vehicle's own meter says or shows is a reading of now and no quotation."""
    if draft.kind != "odometer" or draft.cue == draft.rule:
        return False
    before = {*page.words(max(page.sentence_start(draft.start), draft.start - 6), draft.start)}
    return bool(before & METERS) and (draft.assertion == "quoted" or (bool(before & SHOWING) and "last" not in before))


def _as_lasted(draft: Draft) -> None:
    draft.kind, draft.role, draft.rule, draft.assertion = "interval", "since last", "interval.difference", "historical"


def _settled_value(page: Passage, drafts: list[Draft]) -> None:
    """"Just shy of 140,000, call it 139,800": the reading that the speaker settles on replaces the one before."""
    readings = sorted((draft for draft in drafts if draft.kind == "odometer"), key=lambda draft: draft.start)
    for old, new in itertools.pairwise(readings):
        words = page.words(old.end, new.start)
        if len(words) <= 8 and ("call", "it") in itertools.pairwise(words):
            old.assertion, old.cue, old.replaced_by = "retracted", "correction.call-it", new


NAMED = {"odometer.now", "odometer.named", "odometer.bare", "odometer.hours"}


def _lasted(draft: Draft, now: Draft, earlier: list[Draft]) -> bool:
    """Within 3 % of what lies between the present reading and the earlier one that was said just before."""
    if draft.value is None or now.value is None:
        return False
    return any(0 < draft.start - old.end <= 20 and old.value is not None
               and abs(now.value - old.value - draft.value) <= draft.value * 3 / 100 for old in earlier)


def _corrected(page: Passage, one: Draft, other: Draft) -> bool:
    first, last = (one, other) if one.start < other.start else (other, one)
    return last.start - first.end <= 24 and between(page, first.end, last.start) is not None
