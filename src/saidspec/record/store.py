"""Putting one reading of a note into the record: all of it or nothing, and nothing where nothing changed."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date
from typing import Literal

from saidspec.model import Note, Reading
from saidspec.record import jobs, rows
from saidspec.record.attribution import Attribution, attribute
from saidspec.record.decisions import follow
from saidspec.record.moved import kept
from saidspec.record.place import at_once, open_record, open_to_read, record_path
from saidspec.record.stored_facts import Stored, put_facts
from saidspec.record.vehicles import known_names

__all__ = ["Ingested", "day_known", "ingest", "open_record", "open_to_read", "record_path"]

Outcome = Literal["new", "changed", "unchanged", "superseded"]
EDIT = 0.4  # share of the former text that must be left for a changed file to be an edit of its note, and not a new one


@dataclass(frozen=True, slots=True)
class Ingested:
    """What became of a reading: its note's id, and how many facts it holds.

    "superseded": it is an older text of a note that has a newer one in the record, which stays.  `vehicle_unknown`
    counts the utterances of which it is not known which vehicle they are about; `named` are vehicles (ids) that the
    note names.
    """

    note: int
    outcome: Outcome
    facts: int
    vehicle_unknown: int = 0
    named: tuple[int, ...] = ()


def ingest(
    conn: sqlite3.Connection, reading: Reading, *, place: str | None = None, vehicle: int | None = None,
    candidates: jobs.SystemsOf = jobs.not_known,
) -> Ingested:  # fmt: skip
    """Store what was read from one note, in one transaction.

    `place` is the absolute path of its file, if it has one: a changed file at a known place is an edit of its note.
    `vehicle` (an id) is the one that the user gave.  `candidates` gives the systems that a fact's component may be of.
    """
    note = reading.note
    with at_once(conn):
        before = conn.total_changes
        ident, superseded = _note_of(conn, note, place)
        if superseded:
            held = conn.execute("SELECT count(*) FROM facts WHERE note = ?", (ident,)).fetchone()[0]
            return Ingested(ident, "superseded", held)
        stored = _stored(conn, ident)
        about = _attribution(conn, note, stored.note, vehicle)
        ident = _put_note(conn, note, stored, about)
        if place:
            _put_place(conn, place, ident)
        _put_reading(conn, ident, note)
        rows.synced(conn, "utterances", ("note", ident), ("position",), [
            rows.utterance_row(note, at, said, about.utterances[at]) for at, said in enumerate(note.utterances)])
        put_facts(conn, ident, reading, about, stored, kept(stored.text, note.text), candidates)
        _put_rest(conn, ident, reading)
        follow(conn, ident)
        touched = conn.total_changes > before
    outcome: Outcome = "new" if stored.note is None else "changed" if touched else "unchanged"
    unknown = sum(one is None for one in about.utterances)
    return Ingested(ident, outcome, len(reading.facts), unknown, about.named)


def day_known(conn: sqlite3.Connection, note: Note, place: str | None = None) -> date | None:
    """The day that the record has for a note, as given when it was ingested before; None for a new one."""
    ident, _ = _note_of(conn, note, place)
    row = conn.execute("SELECT day FROM notes WHERE id = ?", (ident,)).fetchone()
    return date.fromisoformat(row[0]) if row and row[0] else None


def _note_of(conn: sqlite3.Connection, note: Note, place: str | None) -> tuple[int, bool]:
    """The id of the note that this is (0 for a new one), and whether it is an older text of it."""
    sha256 = note.source.sha256
    if same := conn.execute("SELECT id FROM notes WHERE sha256 = ?", (sha256,)).fetchone():
        return same[0], False
    at_place = conn.execute("SELECT note FROM places WHERE place = ?", (place,)).fetchone()
    older = conn.execute("SELECT note FROM readings WHERE sha256 = ? ORDER BY id DESC", (sha256,)).fetchone()
    if older:
        return older[0], at_place is None or at_place[0] != older[0]
    if at_place is None or conn.execute("SELECT count(*) FROM places WHERE note = ?", (at_place[0],)).fetchone()[0] > 1:
        return 0, False
    former = conn.execute("SELECT text FROM readings WHERE note = ? AND current = 1", (at_place[0],)).fetchone()[0]
    edited = kept(former, note.text).characters >= EDIT * len(former)
    return (at_place[0] if edited else 0), False


def _stored(conn: sqlite3.Connection, ident: int) -> Stored:
    row = conn.execute("SELECT * FROM notes WHERE id = ?", (ident,)).fetchone()
    text = conn.execute("SELECT text FROM readings WHERE note = ? AND current = 1", (ident,)).fetchone()
    facts = conn.execute("SELECT * FROM facts WHERE note = ? ORDER BY id", (ident,)).fetchall()
    return Stored(row, text[0] if text else "", facts)


def _attribution(conn: sqlite3.Connection, note: Note, row: sqlite3.Row | None, given: int | None) -> Attribution:
    known = known_names(conn)
    if given is None and row is not None and row["vehicle_from"] in ("option", "person"):
        return attribute(note, known, row["vehicle"], row["vehicle_from"])  # what a person said stays
    return attribute(note, known, given)


def _put_note(conn: sqlite3.Connection, note: Note, stored: Stored, about: Attribution) -> int:
    day = note.date.isoformat() if note.date else None
    row: rows.Row = {"name": note.source.name, "sha256": note.source.sha256, "format": note.source.format, "day": day,
                     "vehicle": about.vehicle, "vehicle_from": about.how}  # fmt: skip
    if stored.note is None:
        return rows.insert(conn, "notes", row)
    if stored.note["sha256"] == note.source.sha256:
        del row["name"]  # the same bytes under another name: the first name stays
    if day is None:
        del row["day"]  # a day once given stays
    if changed := {name: value for name, value in row.items() if stored.note[name] != value}:
        rows.update(conn, "notes", changed, "id = ?", (stored.note["id"],))
    return int(stored.note["id"])


def _put_place(conn: sqlite3.Connection, place: str, ident: int) -> None:
    conn.execute("INSERT INTO places (place, note) VALUES (?, ?) ON CONFLICT (place) DO UPDATE SET note = excluded.note"
                 " WHERE note <> excluded.note", (place, ident))  # fmt: skip


def _put_reading(conn: sqlite3.Connection, ident: int, note: Note) -> None:
    """Make the text of the note the current one; former texts stay."""
    made = note.transcript
    row: rows.Row = {"sha256": note.source.sha256, "text": note.text, "model": made and made.model,
                     "model_sha256": made and made.model_sha256, "settings": made and made.settings,
                     "transcript": made and made.raw}  # fmt: skip
    same = " AND ".join(f"{name} IS ?" for name in ("note", *row))
    found = conn.execute(f"SELECT id, current FROM readings WHERE {same}", (ident, *row.values())).fetchone()
    if found is None or not found["current"]:
        conn.execute("UPDATE readings SET current = 0 WHERE note = ? AND current = 1", (ident,))
    if found is None:
        reading = rows.insert(conn, "readings", {"note": ident, "current": 1, **row})
    else:
        reading = found["id"]
        if not found["current"]:
            conn.execute("UPDATE readings SET current = 1 WHERE id = ?", (reading,))
    words = [word for said in note.utterances for word in said.words]
    rows.synced(conn, "words", ("reading", reading), ("position",), [
        {"position": at, "start": word.start, "end": word.end, "time": word.time, "time_end": word.time_end,
         "probability": word.probability} for at, word in enumerate(words)])  # fmt: skip


def _put_rest(conn: sqlite3.Connection, ident: int, reading: Reading) -> None:
    rows.synced(conn, "unclaimed", ("note", ident), ("start", "end"), [
        {"start": one.start, "end": one.end, "quote": one.quote, "time": one.time} for one in reading.unclaimed])
    problems = dict.fromkeys((*reading.note.problems, *reading.problems))  # the pipeline may hand on the note's own
    rows.synced(conn, "problems", ("note", ident), ("position",), [
        {"position": at, "message": one.message, "start": one.start, "end": one.end}
        for at, one in enumerate(problems)])
