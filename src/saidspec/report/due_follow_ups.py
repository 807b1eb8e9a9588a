"""The follow-ups of a due list: what was left to do, by when, and whether it looks done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from saidspec.record.entries import Entry
from saidspec.reference.units import convert
from saidspec.report.distance import reading_on
from saidspec.report.due_time import counts_up, later
from saidspec.report.due_values import Due, Known
from saidspec.report.lines import line
from saidspec.report.parts import words
from saidspec.report.settled import by_component, settled, told
from saidspec.report.wording import amount, day_shown

IN_ONE_BREATH = 4  # words between a follow-up and its limit


def follow_ups(known: Known) -> list[Due]:
    """Follow-ups and things said to be due at a reading; the two are one where one passage says both."""
    limits = [one for one in known.entries if one.fact.kind == "interval" and one.fact.role == "until" and _open(one)]
    open_ones = [one for one in known.entries if one.fact.kind == "follow_up" and _open(one)]
    own: dict[int, list[Entry]] = {}
    loose = []
    for limit in limits:
        near = _nearest(limit, open_ones)
        own.setdefault(near.fact.id, []).append(limit) if near else loose.append(limit)
    said = by_component(known.entries)
    made = [(entry, _follow_up(entry, own.get(entry.fact.id, ()), known, said)) for entry in open_ones]
    return said_once(made) + [_follow_up(limit, [limit], known, said) for limit in loose]


def said_once(made: Iterable[tuple[Entry, Due]]) -> list[Due]:
    """Follow-ups said again and again as one: the last saying, with the day or reading of an earlier one if it has
    none itself.
    """
    latest: dict[object, tuple[Entry, Due]] = {}
    for entry, item in made:
        fact = entry.fact
        key = (words(fact.component), fact.action, item.status) if fact.component and fact.action else fact.id
        before = latest.pop(key, None)
        if before is not None:
            if item.day is None and item.reading is None:
                item = replace(item, day=before[1].day, reading=before[1].reading, what=before[1].what)
            if before[0].day != entry.day:
                item = replace(item, marks=(*item.marks, f"also said on {day_shown(before[0].day)}"))
        latest[key] = entry, item
    return [item for _, item in latest.values()]


def _open(entry: Entry) -> bool:
    held = entry.fact.assertion in ("stated", "planned", "possible", "quoted")
    return held and not entry.rejected and not entry.done


def _nearest(limit: Entry, open_ones: Iterable[Entry]) -> Entry | None:
    """The follow-up that a limit belongs to: of those said in its passage on its part, or right beside it, the
    nearest one.
    """
    there = [
        one for one in open_ones
        if (limit.note_id, limit.context_start) == (one.note_id, one.context_start)
        and (limit.fact.component in (one.fact.component, None) or _beside(limit, one))
    ]  # fmt: skip
    at = limit.fact.provenance

    def away(one: Entry) -> tuple[bool, int]:
        where = one.fact.provenance
        gap = max(where.start - at.end, at.start - where.end, 0)
        return gap > 0 and not _beside(limit, one), gap

    return min(there, key=away, default=None)


def _beside(limit: Entry, follow_up: Entry) -> bool:
    """Whether a limit follows in the same breath: "recheck the level | after | 100 miles"."""
    start, end = (place - limit.context_start for place in (follow_up.fact.provenance.end, limit.fact.provenance.start))
    gap = limit.context[start:end] if 0 <= start <= end else "."
    return len(gap.split()) <= IN_ONE_BREATH and not set(gap) & set(".;!?")


def _follow_up(
    entry: Entry, limits: Sequence[Entry], known: Known, said: Mapping[str, Sequence[Entry]],
) -> Due:  # fmt: skip
    fact, shown = entry.fact, line(entry)
    what = shown.text if fact.kind == "follow_up" else fact.component or f"“{shown.words.shown()}”"
    item = Due(entry.vehicle, what, "follow-up", entry.note, unit=known.unit, words=shown.words, fact=fact.id,
               component=fact.component, marks=shown.marks)  # fmt: skip
    if fact.kind == "follow_up" and fact.code:
        item = replace(item, day=last_day(fact.code))
    for limit in sorted(limits, key=lambda one: one.fact.value or 0):
        item = _until(item, limit, known)
    done = settled(entry, said)
    return replace(item, status="looks done", state=f"looks done: {told(done)}") if done else item


def _until(item: Due, limit: Entry, known: Known) -> Due:
    """The item due at a reading or after a time; "after 50 km" counts from then, "at 90,000 km" is a reading.

    Of several ("after 10, 25 and 50 miles") the first that is given counts, and all are told.
    """
    value, unit = limit.fact.value, limit.fact.unit
    if value is None or limit.day is None:
        return item
    said = amount(value, None, unit)
    if not counts_up(unit, item.unit) and (day := later(limit.day, value, unit)):
        return replace(item, day=item.day or day, what=f"{item.what}, {said} after that job")
    at = reading_on(known.history, limit.day)
    if at is None or not unit or not item.unit or not counts_up(unit, item.unit):
        marks = tuple(dict.fromkeys((*item.marks, "no odometer reading to count from")))
        return replace(item, what=f"{item.what}, after {said}", marks=marks)
    value = convert(value, unit, item.unit)
    if value > at[0]:
        return replace(item, reading=item.reading or value, what=f"{item.what}, at {said}")
    return replace(item, reading=item.reading or at[0] + value, what=f"{item.what}, {said} after that job")


def last_day(code: str) -> date | None:
    """The last day that an ISO date may mean: of "2026-05" the 31st."""
    parts = [int(part) for part in code.split("-") if part.isdigit()]
    try:
        year, month, day = (*parts, 12, 31)[:3] if len(parts) == 1 else (*parts, 0)[:3]
        if day:
            return date(year, month, day)
        return date(year + month // 12, month % 12 + 1, 1) - timedelta(days=1)
    except ValueError:
        return None
