"""Keeping the flags of the record as its facts are: after notes were read, assigned or corrected.

Only the notes that were touched are compared anew, and those on which what they say has a bearing; `saidspec reconcile`
compares all.  It stands here, above the reconciler and the stock, because the record may import neither.
"""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from datetime import date
from decimal import Decimal

from saidspec.reconcile.recorded import Recorded, reconcile_vehicle
from saidspec.record.entries import Entry, FlagEntry, VehicleEntry
from saidspec.record.entry_rows import vehicle_value
from saidspec.record.place import at_once
from saidspec.record.report_queries import flags
from saidspec.record.sheets import drop_flags, put_flags
from saidspec.reference.units import convert, convertible
from saidspec.report.log import SEVERITIES
from saidspec.report.stock import stock

CHUNK = 500  # parameters of one statement
DAYS = """
SELECT f.note, max(coalesce(j.day, f.day, n.day)) AS day, max(f.kind = 'odometer' AND f.assertion = 'stated') AS reading
FROM facts AS f JOIN notes AS n ON n.id = f.note LEFT JOIN jobs AS j ON j.id = f.job
WHERE f.vehicle = ? GROUP BY f.note
"""


def keep_flags(
    conn: sqlite3.Connection, about: VehicleEntry, notes: Collection[int] | None = None, *, explain: bool = False,
) -> Recorded:  # fmt: skip
    """Compare a vehicle's notes (or only some) with its sheet and make what that gives the flags of those notes."""
    found = reconcile_vehicle(conn, about, on_the_shelf, explain=explain, notes=notes)
    with at_once(conn):
        for note, raised, agreements in found.notes:
            put_flags(conn, about.id, raised, agreements, note=note)
        if notes is None:
            drop_flags(conn, about.id, [note for note, _, _ in found.notes])
        else:
            for note in set(notes) - {note for note, _, _ in found.notes}:  # every fact of it rejected or gone
                put_flags(conn, about.id, (), note=note)
    return found


def renew_flags(conn: sqlite3.Connection, notes: Iterable[int]) -> None:
    """Compare these notes anew, each with the sheets of all vehicles that it has facts of."""
    of_vehicle: dict[int, set[int]] = {}
    wanted = sorted(set(notes))
    for start in range(0, len(wanted), CHUNK):
        part = wanted[start : start + CHUNK]
        marks = ", ".join("?" * len(part))
        told = conn.execute(
            f"SELECT DISTINCT vehicle, note FROM facts WHERE note IN ({marks}) AND vehicle IS NOT NULL"
            f" UNION SELECT vehicle, note FROM flags WHERE note IN ({marks}) AND vehicle IS NOT NULL", part * 2)
        for vehicle, note in told:
            of_vehicle.setdefault(vehicle, set()).add(note)
    for vehicle, those in of_vehicle.items():
        row = conn.execute("SELECT * FROM vehicles WHERE id = ?", (vehicle,)).fetchone()
        keep_flags(conn, vehicle_value(row), those | concerned(conn, vehicle, those))


def concerned(conn: sqlite3.Connection, vehicle: int, notes: Collection[int]) -> set[int]:
    """Notes on which what these notes say has a bearing: later ones, which count intervals and stock from them, and
    those with the last odometer reading before them.
    """
    days = {row[0]: (row[1], row[2]) for row in conn.execute(DAYS, (vehicle,)) if row[1]}
    first = min((days[note][0] for note in notes if note in days), default=None)
    if first is None:
        return set()
    last = max((day for day, reading in days.values() if reading and day < first), default=None)
    return {note for note, (day, reading) in days.items() if day > first or (reading and day == last)}


def open_flags(conn: sqlite3.Connection, notes: Iterable[int]) -> list[FlagEntry]:
    """The flags of some notes that nobody accepted."""
    return [one for note in notes for one in flags(conn, note=note) if not one.accepted]


def counted_flags(some: Iterable[FlagEntry]) -> str:
    """Flags counted in words, the gravest first: "1 danger, 2 wrong"; "" for none."""
    told: Counter[str] = Counter(one.flag.severity for one in some)
    return ", ".join(f"{told[name]} {name}" for name in SEVERITIES if told[name])


def on_the_shelf(before: Sequence[Entry]) -> tuple[tuple[str, Decimal], ...]:
    """The litres of each fluid that should be on the shelf after some entries."""
    told = stock(before, "", date.min).items
    return tuple((one.name, convert(one.on_hand, one.unit, "L")) for one in told
                 if one.on_hand is not None and convertible(one.unit, "L"))  # fmt: skip
