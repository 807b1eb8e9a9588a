"""What is due: intervals of the sheet, intervals said in notes, and follow-ups; by date and by distance."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from saidspec.model import Specification
from saidspec.record.entries import Entry
from saidspec.reference.units import convert
from saidspec.report.distance import Driving, OdometerReading, driving, reading_on, readings
from saidspec.report.due_time import counts_up, later, of_interval, state
from saidspec.report.due_values import ORDER, Due, DueList, LastDone
from saidspec.report.lines import line
from saidspec.report.parts import is_about, may_be
from saidspec.report.wording import amount, quantity

# What makes an interval start again.  Looking at a thing, taking it off or topping it up does not.
RENEWS = frozenset({"replace", "install", "flush", "lubricate", "adjust", "repair", "bleed", "rotate", "clean", "reset",
                    "drain", "tighten"})  # fmt: skip
UPKEEP = frozenset({"clean", "tighten", "lubricate", "adjust"})  # counts only where nothing stronger is on record


def due_of_vehicle(
    vehicle: str, entries: Sequence[Entry], specifications: Iterable[Specification], unit: str | None, today: date,
) -> tuple[tuple[Due, ...], str]:  # fmt: skip
    """What is due on one vehicle, and how its distance was estimated.  `unit` is that of its odometer."""
    unit = unit or next((e.fact.unit for e in reversed(entries) if e.fact.kind == "odometer" and e.fact.unit), None)
    history = readings(entries, unit) if unit else []
    drive = driving(history, unit) if unit else None
    items = [_of_sheet(vehicle, spec, entries, history, unit) for spec in specifications if spec.kind == "interval"]
    items += [_of_interval(entry, entries, history, unit) for entry in entries if _recurs(entry)]
    items += _follow_ups(entries, history, unit)
    placed = [_placed(item, drive, today) for item in items]
    method = drive.method if drive else "no odometer reading: nothing can be due by distance"
    return tuple(sorted(placed, key=_order)), method


def due_list(title: str, day: date, parts: Iterable[tuple[str, tuple[Due, ...], str]]) -> DueList:
    """One list of the due things of several vehicles, overdue first."""
    parts = list(parts)
    items = sorted((item for _, some, _ in parts for item in some), key=_order)
    return DueList(title, day, tuple(items), tuple((vehicle, method) for vehicle, _, method in parts))


def last_done(component: str, entries: Sequence[Entry], history: Sequence[OdometerReading]) -> LastDone | None:
    """The last work on record that makes an interval of `component` start again."""
    work = [
        entry for entry in entries
        if entry.fact.kind == "operation" and entry.stands and entry.day and entry.fact.action in RENEWS
        and is_about(entry.fact.component, component)
    ]  # fmt: skip
    work += _refills(component, entries)
    if not work:
        return None
    strong = [entry for entry in work if entry.fact.action not in UPKEEP] or work
    best = max(strong, key=lambda entry: entry.day or date.min)
    at = reading_on(history, best.day) if best.day else None
    assert best.day is not None
    told = line(best)
    return LastDone(best.day, at[0] if at else None, bool(at and at[1]), told.words, told.text, best.fact.action or "")


def _refills(component: str, entries: Sequence[Entry]) -> list[Entry]:
    """Drains said with a shorter name ("the oil is out") where the same note tells that the fluid was poured in."""
    told = [entry for entry in entries if entry.stands and entry.day]
    poured = {
        entry.note_id for entry in told
        if (entry.fact.action == "fill" or (entry.fact.kind == "volume" and entry.fact.role == "added"))
        and is_about(entry.fact.component, component)
    }  # fmt: skip
    return [
        entry for entry in told
        if entry.note_id in poured and entry.fact.action == "drain" and entry.fact.component
        and may_be(entry.fact.component, component, "operation")
    ]  # fmt: skip


def _of_sheet(
    vehicle: str, spec: Specification, entries: Sequence[Entry], history: Sequence[OdometerReading], unit: str | None,
) -> Due:  # fmt: skip
    item = Due(vehicle, f"{spec.component}: every {quantity(spec)}", "interval of the sheet", spec.source, unit=unit)
    sides = [(spec.value, spec.unit), (spec.or_value, spec.or_unit)]
    return of_interval(item, last_done(spec.component, entries, history), sides)


def _recurs(entry: Entry) -> bool:
    fact = entry.fact
    told = fact.kind == "interval" and fact.role == "every" and not entry.rejected and fact.component is not None
    return told and fact.assertion in ("stated", "quoted", "planned")


def _of_interval(
    entry: Entry, entries: Sequence[Entry], history: Sequence[OdometerReading], unit: str | None
) -> Due:
    fact, told = entry.fact, line(entry)
    item = Due(
        entry.vehicle, f"{fact.component}: every {quantity(fact)}", "interval said in a note", entry.note, unit=unit,
        words=told.words, fact=fact.id, marks=told.marks + (("only quoted",) if fact.assertion == "quoted" else ()),
    )  # fmt: skip
    return of_interval(item, last_done(fact.component or "", entries, history), [(fact.value, fact.unit)])


def _follow_ups(entries: Sequence[Entry], history: Sequence[OdometerReading], unit: str | None) -> list[Due]:
    """Follow-ups and things said to be due at a reading; the two are one where one utterance says both."""
    told = []
    limits = [e for e in entries if e.fact.kind == "interval" and e.fact.role == "until" and _open(e)]
    for entry in entries:
        if entry.fact.kind == "follow_up" and _open(entry):
            own = [limit for limit in limits if _together(limit, entry)]
            limits = [limit for limit in limits if limit not in own]
            told.append(_follow_up(entry, own, entries, history, unit))
    return told + [_follow_up(limit, [limit], entries, history, unit) for limit in limits]


def _open(entry: Entry) -> bool:
    held = entry.fact.assertion in ("stated", "planned", "possible", "quoted")
    return held and not entry.rejected and not entry.done


def _together(limit: Entry, follow_up: Entry) -> bool:
    return (limit.note_id, limit.context_start) == (follow_up.note_id, follow_up.context_start) and (
        limit.fact.component == follow_up.fact.component or not limit.fact.component)  # fmt: skip


def _follow_up(
    entry: Entry, limits: Sequence[Entry], entries: Sequence[Entry], history: Sequence[OdometerReading],
    unit: str | None,
) -> Due:  # fmt: skip
    fact, told = entry.fact, line(entry)
    item = Due(entry.vehicle, told.text, "follow-up", entry.note, unit=unit, words=told.words, fact=fact.id,
               marks=told.marks)  # fmt: skip
    if fact.kind == "follow_up" and fact.code:
        item = replace(item, day=_day(fact.code))
    for limit in limits:
        item = _until(item, limit, history)
    done = _since(entry, entries)
    return replace(item, status="looks done", state=f"looks done: {done}; confirm it") if done else item


def _until(item: Due, limit: Entry, history: Sequence[OdometerReading]) -> Due:
    """The item due at a reading or after a time; "after 50 km" counts from then, "at 90,000 km" is a reading."""
    value, unit = limit.fact.value, limit.fact.unit
    if value is None or limit.day is None:
        return item
    if not counts_up(unit, item.unit):
        return replace(item, day=later(limit.day, value, unit))
    at, told = reading_on(history, limit.day), amount(value, None, unit)
    if at is None or not unit or not item.unit:
        return replace(item, marks=(*item.marks, f"until {told}: no odometer reading to count from"))
    value = convert(value, unit, item.unit)
    if value > at[0]:
        return replace(item, reading=value, what=f"{item.what}, at {told}")
    return replace(item, reading=at[0] + value, what=f"{item.what}, {told} after that job")


def _since(entry: Entry, entries: Sequence[Entry]) -> str:
    """Later work that looks like the follow-up being done: same part, and same action where one was said."""
    fact = entry.fact
    if not fact.component or not entry.day:
        return ""
    for other in entries:
        later_on = other.fact.kind == "operation" and other.stands and other.day and other.day > entry.day
        same = later_on and is_about(other.fact.component, fact.component)
        if same and (not fact.action or other.fact.action in (fact.action, "replace", "repair")):
            return f"{line(other).text} on {other.day.isoformat() if other.day else ''}"
    return ""


def _placed(item: Due, drive: Driving | None, today: date) -> Due:
    """The item with the days of its reading and its status as of today."""
    if item.reading is not None and drive is not None:
        item = replace(item, by_distance=drive.when(item.reading))
    if item.status == "looks done":
        return item
    status, words = state(item, drive, today)
    if not words and item.last is None and item.basis != "follow-up":
        words = "no record of it being done: when it is due is not known"
    return replace(item, status=status, state=words or "no date said")


def _day(code: str) -> date | None:
    """The last day that an ISO date may mean: of "2026-05" the 31st."""
    parts = [int(part) for part in code.split("-") if part.isdigit()]
    try:
        year, month, day = (*parts, 12, 31)[:3] if len(parts) == 1 else (*parts, 0)[:3]
        if day:
            return date(year, month, day)
        return date(year + month // 12, month % 12 + 1, 1) - timedelta(days=1)
    except ValueError:
        return None


def _order(item: Due) -> tuple[int, date, str]:
    return ORDER.index(item.status), item.first or date.max, item.what

