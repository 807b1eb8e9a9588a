"""The record of a vehicle against its reference sheet: each note with what was known before and after it.

    found = reconcile_vehicle(conn, about)
    for note, flags, agreements in found.notes: …
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from saidspec.model import Agreement, Flag, Note, Reading, Sheet, Source, Specification
from saidspec.reconcile.case import History, PastJob, PastReading
from saidspec.reconcile.overdue import WORKED
from saidspec.reconcile.run import explanations, judged, open_case
from saidspec.record.entries import Entry, VehicleEntry
from saidspec.record.report_queries import entries, specifications
from saidspec.record.review_queries import note_text

Shelf = Callable[[Sequence[Entry]], tuple[tuple[str, Decimal], ...]]


@dataclass(frozen=True, slots=True)
class Recorded:
    """What comparing a vehicle's record with its sheet gave; facts are named by their ids of the record."""

    flags: tuple[Flag, ...] = ()
    agreements: tuple[Agreement, ...] = ()
    unmatched: tuple[int, ...] = ()
    unused: tuple[Specification, ...] = ()
    explained: tuple[str, ...] = ()
    notes: tuple[tuple[int, tuple[Flag, ...], tuple[Agreement, ...]], ...] = ()  # note by note


def no_shelf(_: Sequence[Entry]) -> tuple[tuple[str, Decimal], ...]:
    """Nothing known of what is on the shelf."""
    return ()


def readings_of(told: Iterable[Entry]) -> tuple[PastReading, ...]:
    """The odometer readings that were stated, with their days."""
    return tuple(PastReading(one.fact.value, one.fact.unit or one.odometer_unit, one.day, one.note) for one in told
                 if one.fact.kind == "odometer" and one.stands and one.fact.value is not None)


def jobs_of(told: Iterable[Entry]) -> tuple[PastJob, ...]:
    """When what was last seen to, with the odometer of that day."""
    return tuple(PastJob(one.fact.component, one.day, one.odometer, one.odometer_unit, one.note) for one in told
                 if one.fact.kind == "operation" and one.fact.action in WORKED and one.stands and one.fact.component)


def history_for(day: date | None, others: Sequence[Entry], shelf: Shelf) -> History:
    """What the record knows beside a note: readings of any day, work and stock of days before it."""
    before = [one for one in others if day is None or (one.day is not None and one.day < day)]
    return History(readings_of(others), jobs_of(before), shelf(before))


def reconcile_vehicle(
    conn: sqlite3.Connection, about: VehicleEntry, shelf: Shelf = no_shelf, *, explain: bool = False,
    notes: Collection[int] | None = None,
) -> Recorded:  # fmt: skip
    """Every note of a vehicle against its sheet (or some `notes` alone), in order of time.

    What was rejected on review is no fact.
    """
    sheet = Sheet(about.vehicle, tuple(specifications(conn, about)))
    told = [one for one in entries(conn, about.id) if not one.rejected]
    flags: list[Flag] = []
    agreements: list[Agreement] = []
    unmatched: list[int] = []
    explained: list[str] = []
    matched: set[str] = set()
    by_note = []
    for note in dict.fromkeys(one.note_id for one in told if notes is None or one.note_id in notes):
        reading, others = reading_of(conn, note, told), [one for one in told if one.note_id != note]
        case = open_case(reading, sheet, history_for(reading.note.date, others, shelf))
        found, agreed, loose = judged(case)
        by_note.append((note, found, agreed))
        flags += found
        agreements += agreed
        unmatched += loose
        matched |= {one.spec.place for match in case.matches.values() for one in match.candidates}
        if explain:
            explained += [f"{reading.note.source.name}: {line}" for line in explanations(case)]
    unused = tuple(spec for spec in sheet.specifications if spec.place not in matched and spec.kind != "interval")
    return Recorded(tuple(flags), tuple(agreements), tuple(unmatched), unused, tuple(explained),
                    tuple(by_note))


def reading_of(conn: sqlite3.Connection, note: int, told: Sequence[Entry]) -> Reading:
    """A note of the record as read, with the facts as they stand after review."""
    own = [one for one in told if one.note_id == note]
    stored = note_text(conn, note)
    text = stored.text if stored else ""
    day = stored.summary.day if stored and stored.summary.day else next((one.day for one in own if one.day), None)
    made = Note(Source(own[0].note, "", "record"), text, (), date=day)
    return Reading(made, tuple(replace(one.fact, replaced_by=None) for one in own))
