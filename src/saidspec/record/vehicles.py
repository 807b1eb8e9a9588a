"""The vehicles of the record: adding, naming, and saying which vehicle a note is about."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from difflib import get_close_matches
from typing import Any

from saidspec.model import Note, Source, UnusableInput, Utterance, Vehicle
from saidspec.record import jobs, rows
from saidspec.record.asking import cues
from saidspec.record.attribution import Head, Names, attribute
from saidspec.record.components import components
from saidspec.record.place import at_once


def names(conn: sqlite3.Connection) -> dict[str, int]:
    """Every name by which a vehicle is known -> its id."""
    return {row[0]: row[1] for row in conn.execute(
        "SELECT name, vehicle FROM vehicle_names UNION ALL SELECT name, id FROM vehicles")}  # fmt: skip


def known_names(conn: sqlite3.Connection) -> Names:
    """The names as they are matched in notes; words of parts and of everyday speech stand for no vehicle."""
    told = cues()
    return Names(names(conn), components().words() | told.no_names, Head(told.before_names, told.behind_names))


def vehicle_id(conn: sqlite3.Connection, name: str) -> int:
    """The id of the vehicle called so, letter case and space aside; words of a name do where only one has them.

    Raises UnusableInput, naming those known.
    """
    wanted = " ".join(name.split())
    row = conn.execute("SELECT id FROM vehicles WHERE name = :it UNION ALL"
                       " SELECT vehicle FROM vehicle_names WHERE name = :it", {"it": wanted}).fetchone()  # fmt: skip
    if row:
        return int(row[0])
    told = names(conn)
    of_name = {told[name] for name in told if set(wanted.casefold().split()) <= set(name.casefold().split())}
    if wanted and len(of_name) == 1:
        return of_name.pop()
    known = sorted(told)
    near = get_close_matches(wanted, known, 3) or known[:5]
    there = f"; known: {', '.join(near)}" if near else "; there are none yet"
    raise UnusableInput(f'no vehicle is called "{wanted}"{there}.  Add it with: saidspec vehicle add "{wanted}"')


def add_vehicle(conn: sqlite3.Connection, vehicle: Vehicle, also: Iterable[str] = ()) -> int:
    """Add a vehicle with other names for it; its id.  Raises UnusableInput where a name is taken."""
    with at_once(conn):
        name = _free_name(conn, vehicle.name)
        ident = rows.insert(conn, "vehicles", {
            "name": name, "year": vehicle.year, "odometer_unit": vehicle.odometer_unit,
            "volume_system": vehicle.volume_system, "options": json.dumps(list(vehicle.options))})  # fmt: skip
        for other in also:
            add_name(conn, ident, other)
    return ident


def add_name(conn: sqlite3.Connection, vehicle: int, name: str) -> None:
    """Let notes call the vehicle by another name."""
    with at_once(conn):
        conn.execute("INSERT INTO vehicle_names (name, vehicle) VALUES (?, ?)", (_free_name(conn, name), vehicle))


def rename(conn: sqlite3.Connection, vehicle: int, name: str) -> None:
    """Give the vehicle a new name; the old one stays a name by which notes may call it."""
    with at_once(conn):
        old = conn.execute("SELECT name FROM vehicles WHERE id = ?", (vehicle,)).fetchone()[0]
        conn.execute("DELETE FROM vehicle_names WHERE name = ? AND vehicle = ?", (name, vehicle))
        new = " ".join(name.split()) if old.casefold() == " ".join(name.split()).casefold() else _free_name(conn, name)
        conn.execute("UPDATE vehicles SET name = ? WHERE id = ?", (new, vehicle))
        if old.casefold() != new.casefold():
            conn.execute("INSERT INTO vehicle_names (name, vehicle) VALUES (?, ?)", (old, vehicle))


def describe(conn: sqlite3.Connection, vehicle: int, **changes: Any) -> None:
    """Change what is known of the vehicle: year, odometer_unit, volume_system, options (a list), sheet_path."""
    if "options" in changes:
        changes["options"] = json.dumps(list(changes["options"]))
    with at_once(conn):
        rows.update(conn, "vehicles", changes, "id = ?", (vehicle,))


def assign(conn: sqlite3.Connection, note: int, vehicle: int) -> int:
    """Say which vehicle a note is about, as far as that is not known from its headings; how many facts that placed.

    Raises UnusableInput where there is no such note.
    """
    with at_once(conn):
        if conn.execute("SELECT 1 FROM notes WHERE id = ?", (note,)).fetchone() is None:
            raise UnusableInput(f"there is no note {note}: `saidspec vehicle unknown` lists those without a vehicle")
        unknown = conn.execute("SELECT position FROM utterances WHERE note = ? AND vehicle IS NULL", (note,))
        return _place(conn, note, {row[0]: vehicle for row in unknown}, vehicle, "person")


def place_unknown(conn: sqlite3.Connection) -> list[int]:
    """Place those notes of unknown vehicle that name one that is known by now; their ids."""
    told = []
    with at_once(conn):
        known = known_names(conn)
        for row in conn.execute("SELECT id FROM notes WHERE vehicle IS NULL").fetchall():
            said = conn.execute("SELECT * FROM utterances WHERE note = ? ORDER BY position", (row[0],)).fetchall()
            about = attribute(_as_note(said), known)
            places = {one["position"]: vehicle for one, vehicle in zip(said, about.utterances, strict=True)
                      if vehicle and one["vehicle"] is None}  # fmt: skip
            if places:
                _place(conn, row[0], places, about.vehicle, about.how)
                told.append(int(row[0]))
    return told


def _place(
    conn: sqlite3.Connection, note: int, places: dict[int, int], whole: int | None, how: str | None,
) -> int:  # fmt: skip
    """Put the utterances at these positions, and what facts they hold, with their vehicles; how many facts."""
    conn.executemany("UPDATE utterances SET vehicle = ? WHERE note = ? AND position = ?",
                     [(vehicle, note, position) for position, vehicle in places.items()])  # fmt: skip
    told = conn.execute("SELECT f.*, coalesce(u.vehicle, :whole) AS about FROM facts AS f"
                        " LEFT JOIN utterances AS u ON u.id = f.utterance"
                        " WHERE f.note = :note AND f.vehicle IS NULL ORDER BY f.start, f.id",
                        {"note": note, "whole": whole}).fetchall()  # fmt: skip
    touched = {fact["job"] for fact in told if fact["job"]}
    facts = [fact for fact in told if fact["about"] is not None]
    # the jobs of a note on several vehicles are known only now: a wheel nut of one is none of the other's mowing deck
    scopes = [(fact["about"], fact["day"]) for fact in facts]
    systems = jobs.systems_of([rows.fact_value(fact) for fact in facts], scopes, components().systems_of)
    for fact, system in zip(facts, systems, strict=True):
        job = jobs.job_for(conn, fact["about"], fact["day"], system, note)
        touched.add(job)
        conn.execute("UPDATE facts SET vehicle = ?, job = ? WHERE id = ?", (fact["about"], job, fact["id"]))
    about = {one[0] for one in conn.execute("SELECT DISTINCT vehicle FROM utterances WHERE note = ?", (note,))}
    conn.execute("UPDATE notes SET vehicle = ?, vehicle_from = ? WHERE id = ?",
                 (whole if about <= {whole} else None, how, note))  # fmt: skip
    jobs.settle(conn, jobs.jobs_beside(conn, touched))
    return len(facts)


def _as_note(said: list[sqlite3.Row]) -> Note:
    """A note with what attribution looks at: the words of its utterances, and which are headings."""
    text = "\n".join(row["text"] for row in said)
    at, utterances = 0, []
    for row in said:
        utterances.append(Utterance(at, at + len(row["text"]), heading=row["heading"]))
        at += len(row["text"]) + 1
    return Note(Source("", "", ""), text, tuple(utterances))


def _free_name(conn: sqlite3.Connection, name: str) -> str:
    wanted = " ".join(name.split())
    if not wanted:
        raise UnusableInput("a vehicle needs a name of at least one letter")
    for known in names(conn):
        if known.casefold() == wanted.casefold():
            raise UnusableInput(f'a vehicle is called "{known}" already: choose another name')
    return wanted
