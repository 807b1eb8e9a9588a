"""The SQL of the reports: what the record holds, read as the values of `entries`.  Nothing here writes."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from saidspec.model import Fact, Kind, Specification, Unclaimed, UnusableInput
from saidspec.record.entries import Entry, FlagEntry, JobEntries, VehicleEntry
from saidspec.record.entry_rows import day_value, entry_value, flag_value, vehicle_value
from saidspec.record.report_jobs import Loose, jobs_of
from saidspec.record.rows import fact_value, specification_value
from saidspec.reference.applicability import applies

UNKNOWN = "vehicle not known"
# What is due, and what shows that it was done: work, new parts, fluids poured in, things looked at and torqued again.
DUE_KINDS: tuple[Kind, ...] = ("operation", "interval", "follow_up", "odometer", "volume", "part_number", "material",
                               "fluid", "observation", "measurement", "torque")  # fmt: skip
TREND_KINDS: tuple[Kind, ...] = ("measurement", "operation", "odometer")
# What tells of the shelf: fluids and materials name what the rest counts.
SHELF = """(f.kind IN ('fluid', 'material') OR f.kind IN ('volume', 'count', 'part_number')
    AND f.role IN ('bought', 'added', 'used', 'installed', 'left over'))"""
CHUNK = 500  # parameters of one statement

ENTRIES = """
SELECT f.*, coalesce(j.day, f.day, n.day) AS job_day, n.name AS note_name, coalesce(v.name, :unknown) AS vehicle_name,
    coalesce(j.system, 'other') AS system, j.odometer, coalesce(j.odometer_unit, v.odometer_unit) AS odometer_unit,
    u.text AS context, u.start AS context_start, u.speaker, d.verdict, d.decided_at, d.person,
    d.changes ->> '$.done_on' AS done_on
FROM facts_now AS f
JOIN notes AS n ON n.id = f.note
LEFT JOIN vehicles AS v ON v.id = f.vehicle
LEFT JOIN jobs AS j ON j.id = f.job
LEFT JOIN utterances AS u ON u.id = f.utterance
LEFT JOIN decisions AS d ON d.id = f.decision
"""
FLAGS = """
SELECT g.*, coalesce(v.name, :unknown) AS vehicle_name, n.name AS note_name,
    d.verdict, d.decided_at, d.person, d.reason, NULL AS done_on
FROM flags AS g
LEFT JOIN vehicles AS v ON v.id = g.vehicle
LEFT JOIN notes AS n ON n.id = g.note
LEFT JOIN decisions AS d ON d.flag_key = g.key AND d.current = 1
"""
# A number of a note on several vehicles goes with the utterance that holds it.
UNCLAIMED = """
SELECT u.*, n.name AS note_name, n.day AS job_day, coalesce(v.name, :unknown) AS vehicle_name
FROM (SELECT *, (SELECT s.vehicle FROM utterances AS s WHERE s.note = unclaimed.note AND s.start <= unclaimed.start
    ORDER BY s.position DESC LIMIT 1) AS about FROM unclaimed) AS u
JOIN notes AS n ON n.id = u.note
LEFT JOIN vehicles AS v ON v.id = coalesce(u.about, n.vehicle)
"""
OF_VEHICLE = """u.note IN (
        SELECT id FROM notes WHERE vehicle = :vehicle UNION SELECT note FROM facts WHERE vehicle = :vehicle)
    AND coalesce(u.about, n.vehicle, :vehicle) = :vehicle"""


def vehicles(conn: sqlite3.Connection) -> list[VehicleEntry]:
    """All vehicles of the record, by name."""
    return [vehicle_value(row) for row in conn.execute("SELECT * FROM vehicles ORDER BY name")]


def vehicle_named(conn: sqlite3.Connection, name: str) -> VehicleEntry:
    """The vehicle of that name or other name; part of a name does where it is the only one.

    Raises UnusableInput that lists the vehicles where none or several fit.
    """
    own = conn.execute(
        "SELECT * FROM vehicles WHERE name = :name OR id = (SELECT vehicle FROM vehicle_names WHERE name = :name)",
        {"name": name},
    ).fetchall()
    known = [vehicle_value(own[0])] if own else [v for v in vehicles(conn) if name.casefold() in v.name.casefold()]
    if len(known) == 1:
        return known[0]
    names = ", ".join(v.name for v in known or vehicles(conn)) or "none yet"
    told = "fits several vehicles" if known else "is no vehicle of the record"
    raise UnusableInput(f"{name!r} {told}: name one of {names}")


def jobs(
    conn: sqlite3.Connection, vehicle: int | None = None, since: date | None = None, until: date | None = None,
) -> list[JobEntries]:  # fmt: skip
    """The jobs of a vehicle, or of all where `vehicle` is None, in order of time, with all that was said of each."""
    named = {
        "vehicle": vehicle, "unknown": UNKNOWN,
        "since": since.isoformat() if since else None, "until": until.isoformat() if until else None,
    }  # fmt: skip
    span = "(:since IS NULL OR job_day >= :since) AND (:until IS NULL OR job_day <= :until)"
    one = "f.vehicle = :vehicle" if vehicle is not None else "true"
    order = "job_day IS NULL, job_day, f.vehicle, f.job, f.note, f.number, f.id"
    sql = f"{ENTRIES} WHERE {span} AND {one} ORDER BY {order}"
    one = OF_VEHICLE if vehicle is not None else "true"
    loose = [
        Loose(row["note"], row["note_name"], day_value(row["job_day"]), row["vehicle_name"],
              Unclaimed(row["quote"], row["start"], row["end"], row["time"]))
        for row in conn.execute(f"{UNCLAIMED} WHERE {span} AND {one} ORDER BY u.note, u.start", named)
    ]  # fmt: skip
    return jobs_of(_entries(conn, sql, named), flags(conn, vehicle), loose)


def entries(conn: sqlite3.Connection, vehicle: int | None, kinds: Sequence[Kind] = ()) -> list[Entry]:
    """The facts of a vehicle (of all where None), of some kinds or of all, in order of time and of what was said."""
    marks = ", ".join(f":kind{number}" for number in range(len(kinds)))
    tests = [f"f.kind IN ({marks})"] if kinds else []
    tests += ["f.vehicle = :vehicle"] if vehicle is not None else []
    where = f"WHERE {' AND '.join(tests)}" if tests else ""
    order = "ORDER BY job_day IS NULL, job_day, f.note, f.number, f.id"
    named = {f"kind{number}": kind for number, kind in enumerate(kinds)}
    return _entries(conn, f"{ENTRIES} {where} {order}", {"vehicle": vehicle, **named})


def shelf_entries(conn: sqlite3.Connection, names: Sequence[str] | None = None) -> list[Entry]:
    """What was said of all vehicles' fluids, parts and materials bought, used and left over.

    With `names` only of those fluids, parts and materials, by name, grade or number; of fluids all that their notes say
    of any, since a note may call one in short ("oil").
    """
    order = "ORDER BY job_day IS NULL, job_day, f.note, f.number, f.id"
    if names is None:
        return _entries(conn, f"{ENTRIES} WHERE {SHELF} {order}", {})
    asked = [" AND ".join(f'"{word}"' for word in re.findall(r"\w+", name)) for name in names]
    if not any(asked):
        return []
    words = " OR ".join(f"({one})" for one in asked if one)
    found = "SELECT rowid FROM facts_fts WHERE facts_fts MATCH :words"
    notes = f"SELECT note FROM facts WHERE id IN ({found}) AND kind IN ('volume', 'fluid')"
    beside = f"SELECT id FROM facts WHERE note IN ({notes}) AND kind IN ('volume', 'fluid', 'count')"
    named = {"words": f"{{component code}} : ({words})"}
    return _entries(conn, f"{ENTRIES} WHERE f.id IN ({found} UNION {beside}) AND {SHELF} {order}", named)


def entries_of_note(conn: sqlite3.Connection, note: int) -> list[Entry]:
    """The facts of a note in order of its words."""
    return _entries(conn, f'{ENTRIES} WHERE f.note = :note ORDER BY f.start, f."end", f.id', {"note": note})


def flags(conn: sqlite3.Connection, vehicle: int | None = None, note: int | None = None) -> list[FlagEntry]:
    """The flags of a vehicle or of a note (of all where both are None)."""
    tests = [f"g.{name} = :{name}" for name, value in (("vehicle", vehicle), ("note", note)) if value is not None]
    where = f"WHERE {' AND '.join(tests)}" if tests else ""
    told = conn.execute(f"{FLAGS} {where} ORDER BY g.id", {"unknown": UNKNOWN, "vehicle": vehicle, "note": note})
    return [flag_value(row) for row in told]


def agreements(conn: sqlite3.Connection, vehicle: int) -> dict[int, str]:
    """The specification (component, value and source in one text) that each fact of a vehicle agrees with."""
    return dict(conn.execute("SELECT a.fact, a.spec FROM agreements AS a JOIN facts AS f ON f.id = a.fact"
                             " WHERE f.vehicle = ?", (vehicle,)).fetchall())  # fmt: skip


def due_lists(
    conn: sqlite3.Connection, one: VehicleEntry | None,
) -> Iterator[tuple[VehicleEntry, list[Entry], list[Specification]]]:  # fmt: skip
    """What the due list of a vehicle (of each where None) is made of: its entries and its specifications."""
    for about in [one] if one else vehicles(conn):
        yield about, entries(conn, about.id, DUE_KINDS), specifications(conn, about)


def specifications(conn: sqlite3.Connection, about: VehicleEntry) -> list[Specification]:
    """The specifications of a vehicle's sheet in its order, without those that do not hold for the vehicle."""
    sql = "SELECT * FROM specifications WHERE vehicle = ? ORDER BY position"
    told = (specification_value(row) for row in conn.execute(sql, (about.id,)))
    return [spec for spec in told if applies(spec, about.vehicle) is not False]


def _entries(conn: sqlite3.Connection, sql: str, named: dict[str, Any]) -> list[Entry]:
    told = [entry_value(row) for row in conn.execute(sql, {"unknown": UNKNOWN, **named})]
    corrected = [entry.fact.id for entry in told if entry.decision and entry.decision.verdict == "corrected"]
    heard: dict[int, Fact] = {}
    for start in range(0, len(corrected), CHUNK):
        part = corrected[start : start + CHUNK]
        marks = ", ".join("?" * len(part))
        sql = f"SELECT * FROM facts WHERE id IN ({marks})"
        heard |= {row["id"]: fact_value(row) for row in conn.execute(sql, part)}
    return [replace(entry, heard=heard.get(entry.fact.id)) for entry in told] if heard else told
