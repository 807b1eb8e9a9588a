"""Which job each fact belongs to: the work done on one system of one vehicle on one day.

A fact belongs to the system of its component; one without (a follow-up, "that took an hour") to the system that was
being talked about, else to the first one that is.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from typing import Any

from saidspec.model import Fact
from saidspec.record.rows import insert, update

OTHER = "other"
SystemOf = Callable[[Fact], str | None]
Scope = tuple[int | None, str | None]  # vehicle and day


def not_known(fact: Fact) -> str | None:  # noqa: ARG001
    """The system of a component for those who know no systems."""
    return None


def systems_of(facts: Sequence[Fact], scopes: Sequence[Scope], system_of: SystemOf) -> list[str]:
    """The system of each fact, in the order of the facts; scopes tell the vehicle and day of each."""
    told: list[str | None] = []
    current: dict[Scope, str] = {}
    for fact, scope in zip(facts, scopes, strict=True):
        if system := system_of(fact):
            current[scope] = system
        told.append(system or current.get(scope))
    first: dict[Scope, str] = {}
    for scope, system in zip(scopes, told, strict=True):
        if system:
            first.setdefault(scope, system)
    return [system or first.get(scope, OTHER) for scope, system in zip(scopes, told, strict=True)]


def job_for(conn: sqlite3.Connection, vehicle: int | None, day: str | None, system: str, note: int) -> int:
    """The id of the job, made where there is none; where vehicle or day is not known, a job of this note alone."""
    alone = note if vehicle is None or day is None else None
    found = conn.execute(
        "SELECT id FROM jobs WHERE coalesce(vehicle, 0) = ? AND coalesce(day, '') = ? AND system = ?"
        " AND coalesce(note, 0) = ?", (vehicle or 0, day or "", system, alone or 0)).fetchone()  # fmt: skip
    if found:
        return int(found[0])
    return insert(conn, "jobs", {"vehicle": vehicle, "day": day, "system": system, "note": alone})


def settle(conn: sqlite3.Connection, jobs: set[int]) -> None:
    """Remove those jobs that hold no fact any more, and give the rest the odometer reading said on their day.

    Of several readings on one day the last one said counts.  Nothing is written where nothing changes.
    """
    for job in sorted(jobs):
        row = conn.execute("SELECT * FROM jobs WHERE id = ?", (job,)).fetchone()
        if row is None:
            continue
        if not conn.execute("SELECT 1 FROM facts WHERE job = ? LIMIT 1", (job,)).fetchone():
            conn.execute("DELETE FROM jobs WHERE id = ?", (job,))
            continue
        reading = _odometer(conn, row)
        if any(row[name] != value for name, value in reading.items()):
            update(conn, "jobs", reading, "id = ?", (job,))


def jobs_beside(conn: sqlite3.Connection, jobs: set[int]) -> set[int]:
    """These jobs and all others of their vehicles on their days: an odometer reading said in one holds for all."""
    told = set(jobs)
    for job in jobs:
        told |= {row[0] for row in conn.execute(
            "SELECT b.id FROM jobs AS a JOIN jobs AS b ON b.vehicle = a.vehicle AND b.day = a.day WHERE a.id = ?",
            (job,))}  # fmt: skip
    return told


def _odometer(conn: sqlite3.Connection, job: sqlite3.Row) -> dict[str, Any]:
    if job["note"] is None:
        where, what = "vehicle = ? AND day = ?", [job["vehicle"], job["day"]]
    else:
        where, what = "note = ? AND vehicle IS ? AND day IS ?", [job["note"], job["vehicle"], job["day"]]
    row = conn.execute(
        f"SELECT value, value_real, unit FROM facts WHERE {where} AND kind = 'odometer' AND assertion = 'stated'"
        " AND value IS NOT NULL ORDER BY note DESC, start DESC LIMIT 1", what).fetchone()  # fmt: skip
    return dict(zip(("odometer", "odometer_real", "odometer_unit"), row or (None, None, None), strict=True))
