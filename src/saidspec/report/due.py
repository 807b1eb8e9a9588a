"""What is due: intervals of the sheet, intervals said in notes, and follow-ups; by date and by distance."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from saidspec.model import Fact, Specification
from saidspec.record.entries import Entry
from saidspec.reference.units import dimension
from saidspec.report.distance import Driving, driving, readings
from saidspec.report.due_follow_ups import follow_ups
from saidspec.report.due_time import of_interval, state
from saidspec.report.due_values import ORDER, Due, DueList, Known
from saidspec.report.lines import line
from saidspec.report.parts import words
from saidspec.report.renewal import last_done
from saidspec.report.wording import quantity


def due_of_vehicle(
    vehicle: str, entries: Sequence[Entry], specifications: Iterable[Specification], unit: str | None, today: date,
) -> tuple[tuple[Due, ...], str]:  # fmt: skip
    """What is due on one vehicle, and how its distance was estimated.  `unit` is that of its odometer."""
    unit = unit or next((e.fact.unit for e in reversed(entries) if e.fact.kind == "odometer" and e.fact.unit), None)
    known = Known(entries, tuple(specifications), readings(entries, unit) if unit else [], unit)
    drive = driving(known.history, unit) if unit else None
    items = [_of_sheet(vehicle, spec, known) for spec in known.specifications if spec.kind == "interval"]
    items += [_of_interval(entry, known) for entry in _recurring(entries)]
    items += follow_ups(known)
    placed = [_placed(item, drive, today) for item in items]
    method = drive.method if drive else "no odometer reading: nothing can be due by distance"
    return tuple(sorted(placed, key=_order)), method


def due_list(title: str, day: date, parts: Iterable[tuple[str, tuple[Due, ...], str]]) -> DueList:
    """One list of the due things of several vehicles, overdue first."""
    parts = list(parts)
    items = sorted((item for _, some, _ in parts for item in some), key=_order)
    return DueList(title, day, tuple(items), tuple((vehicle, method) for vehicle, _, method in parts))


def _of_sheet(vehicle: str, spec: Specification, known: Known) -> Due:
    item = Due(vehicle, f"{spec.component}: every {quantity(spec)}", "interval of the sheet", spec.source,
               unit=known.unit, component=spec.component)  # fmt: skip
    last = last_done(spec.component, known.entries, known.history, known.specifications)
    return of_interval(item, last, [(spec.value, spec.unit), (spec.or_value, spec.or_unit)])


def _recurring(entries: Iterable[Entry]) -> list[Entry]:
    """Intervals that were said, of each part and dimension the one said last."""
    latest = {}
    for entry in entries:
        fact = entry.fact
        held = fact.assertion in ("stated", "quoted", "planned") and not entry.rejected
        if fact.kind == "interval" and fact.role == "every" and fact.component and held:
            latest[words(fact.component), dimension(fact.unit)] = entry
    return list(latest.values())


def _of_interval(entry: Entry, known: Known) -> Due:
    fact, told = entry.fact, line(entry)
    item = Due(
        entry.vehicle, f"{fact.component}: {_every(fact)}", "interval said in a note", entry.note, unit=known.unit,
        words=told.words, fact=fact.id, component=fact.component,
        marks=told.marks + (("only quoted",) if fact.assertion == "quoted" else ()),
    )  # fmt: skip
    last = last_done(fact.component or "", known.entries, known.history, known.specifications)
    return of_interval(item, last, [(fact.value, fact.unit)])


def _every(fact: Fact) -> str:
    """An interval in words: "every 5000 km", "about every 2 weeks"."""
    told = f"every {quantity(fact.but(approximate=False))}"
    return f"about {told}" if fact.approximate else told


def _placed(item: Due, drive: Driving | None, today: date) -> Due:
    """The item with the days of its reading and its status as of today."""
    if item.reading is not None and drive is not None:
        item = replace(item, by_distance=drive.when(item.reading))
    if item.status == "looks done":
        return item
    status, said = state(item, drive, today)
    if item.basis != "follow-up" and item.last is None:
        status, said = "never", "no record of it being done"
    return replace(item, status=status, state=said or "no date said")


def _order(item: Due) -> tuple[int, date, str]:
    return ORDER.index(item.status), item.first or date.max, item.what
