"""Which job each fact belongs to: the work done on one system of one vehicle on one day.

A note on brakes names a wheel nut or a boot as well: what is only touched on is part of the job that is being done.  So
the systems that a good share of the facts of a day name are its jobs, and the rest goes with what was being talked of.
"""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Callable, Collection, Sequence
from typing import Any

from saidspec.model import Fact
from saidspec.record.rows import insert, update

OTHER = "other"
SHARE = 0.15  # of the facts of a note and day that name a system, from which it is a job of its own (a choice of ours)
FEW = 3  # facts from which it may be one, unless the note has no more
SystemsOf = Callable[[Fact], Collection[str]]  # the systems that a fact's component may be of
Scope = tuple[int | None, str | None]  # vehicle and day


def not_known(fact: Fact) -> Collection[str]:  # noqa: ARG001
    """The systems of a component for those who know none."""
    return ()


def systems_of(facts: Sequence[Fact], scopes: Sequence[Scope], candidates: SystemsOf) -> list[str]:
    """The system of each fact, in the order of the facts; scopes tell the vehicle and day of each."""
    named = [frozenset(candidates(fact)) for fact in facts]
    votes: dict[Scope, Counter[str]] = {}
    for scope, systems in zip(scopes, named, strict=True):
        for system in systems:
            votes.setdefault(scope, Counter())[system] += 1 / len(systems)  # type: ignore[assignment]
    ranked = {scope: _jobs_among(count) for scope, count in votes.items()}
    told: list[str | None] = []
    current: dict[Scope, str] = {}
    for scope, systems in zip(scopes, named, strict=True):
        fitting = [system for system in ranked.get(scope, ()) if system in systems]
        if fitting and current.get(scope) not in fitting:
            current[scope] = fitting[0]
        told.append(current.get(scope))
    first: dict[Scope, str] = {}
    for scope, told_of in zip(scopes, told, strict=True):
        if told_of:
            first.setdefault(scope, told_of)
    return [told_of or first.get(scope, OTHER) for scope, told_of in zip(scopes, told, strict=True)]


def _jobs_among(votes: Counter[str]) -> list[str]:
    """The systems that are jobs of their own, most named first; at least the most named one."""
    ranked = sorted(votes, key=lambda system: (-votes[system], system))
    least = min(max(FEW, SHARE * sum(votes.values())), votes[ranked[0]])
    return [system for system in ranked if votes[system] >= least]


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
