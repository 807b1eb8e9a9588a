"""Putting one reading of a note into the record: all of it or nothing, and nothing where nothing changed."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from saidspec.model import Fact, Note, Reading
from saidspec.record import jobs, rows
from saidspec.record.attribution import Attribution, attribute
from saidspec.record.decisions import follow
from saidspec.record.matching import matched, slots
from saidspec.record.moved import Kept, kept
from saidspec.record.place import at_once, open_record, open_to_read, record_path
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


@dataclass(frozen=True, slots=True)
class Stored:
    """A note of the record as it was before: its row, the text its facts pointed into, and its facts."""

    note: sqlite3.Row | None
    text: str
    facts: list[sqlite3.Row]


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
        change = kept(stored.text, note.text)
        _put_reading(conn, ident, note)
        rows.synced(conn, "utterances", ("note", ident), ("position",), [
            rows.utterance_row(note, at, said, about.utterances[at]) for at, said in enumerate(note.utterances)])
        _put_facts(conn, ident, reading, about, stored, change, candidates)
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


def _put_facts(
    conn: sqlite3.Connection, ident: int, reading: Reading, about: Attribution, stored: Stored, change: Kept,
    candidates: jobs.SystemsOf,
) -> None:  # fmt: skip
    facts = reading.facts
    same = matched(stored.facts, facts, change)
    gone = {row["id"]: row for row in stored.facts}
    former = {at: gone.pop(row_id) for at, row_id in same.items()}
    conn.executemany("DELETE FROM facts WHERE id = ?", [(row_id,) for row_id in sorted(gone)])
    wanted = _fact_rows(conn, ident, reading, about, candidates, conn.execute(
        "SELECT day FROM notes WHERE id = ?", (ident,)).fetchone()[0])  # fmt: skip
    changed = {at: {name: value for name, value in wanted[at].items() if row[name] != value}
               for at, row in former.items()}  # fmt: skip
    for at, row in former.items():
        if changed[at].keys() & {"start", "end", "kind", "slot"}:  # out of the way of another row that moves to here
            rows.update(conn, "facts", {"start": -1 - row["id"]}, "id = ?", (row["id"],))
            changed[at]["start"] = wanted[at]["start"]
    ids: dict[int, int] = {}
    for at, new in enumerate(wanted):
        if at not in former:
            ids[facts[at].id] = rows.insert(conn, "facts", new)
            continue
        ids[facts[at].id] = former[at]["id"]
        if changed[at]:
            rows.update(conn, "facts", changed[at], "id = ?", (former[at]["id"],))
    _put_replacements(conn, facts, ids)
    touched = {row["job"] for row in stored.facts if row["job"]} | {row["job"] for row in wanted}
    jobs.settle(conn, jobs.jobs_beside(conn, touched))


def _fact_rows(
    conn: sqlite3.Connection, ident: int, reading: Reading, about: Attribution, candidates: jobs.SystemsOf,
    day: str | None,
) -> list[rows.Row]:  # fmt: skip
    note, facts = reading.note, reading.facts
    in_order = "SELECT id FROM utterances WHERE note = ? ORDER BY position"
    utterances = [row[0] for row in conn.execute(in_order, (ident,))]
    held = _utterances_of(note, facts)
    scopes: list[jobs.Scope] = []
    for at in held:
        sent = note.utterances[at].sent if at is not None else None
        said_of = about.utterances[at] if at is not None else about.vehicle
        scopes.append((said_of, sent.date().isoformat() if sent else day))
    told: list[rows.Row] = []
    systems = jobs.systems_of(facts, scopes, candidates)
    made: dict[tuple[jobs.Scope, str], int] = {}
    for fact, slot, at, scope, system in zip(facts, slots(facts), held, scopes, systems, strict=True):
        if (scope, system) not in made:
            made[scope, system] = jobs.job_for(conn, *scope, system, ident)
        told.append({
            "note": ident, "utterance": utterances[at] if at is not None else None, "vehicle": scope[0],
            "day": scope[1], "job": made[scope, system], **rows.fact_row(fact, slot)})  # fmt: skip
    return told


def _utterances_of(note: Note, facts: Sequence[Fact]) -> list[int | None]:
    """The position of the utterance that holds the first word of each fact."""
    from bisect import bisect_right

    starts = [said.start for said in note.utterances]
    told: list[int | None] = []
    for fact in facts:
        at = bisect_right(starts, fact.provenance.start) - 1
        told.append(at if at >= 0 else None)
    return told


def _put_replacements(conn: sqlite3.Connection, facts: Sequence[Fact], ids: dict[int, int]) -> None:
    for fact in facts:
        replaced_by = ids.get(fact.replaced_by) if fact.replaced_by is not None else None
        conn.execute("UPDATE facts SET replaced_by = ? WHERE id = ? AND replaced_by IS NOT ?",
                     (replaced_by, ids[fact.id], replaced_by))  # fmt: skip


def _put_rest(conn: sqlite3.Connection, ident: int, reading: Reading) -> None:
    rows.synced(conn, "unclaimed", ("note", ident), ("start", "end"), [
        {"start": one.start, "end": one.end, "quote": one.quote, "time": one.time} for one in reading.unclaimed])
    problems = dict.fromkeys((*reading.note.problems, *reading.problems))  # the pipeline may hand on the note's own
    rows.synced(conn, "problems", ("note", ident), ("position",), [
        {"position": at, "message": one.message, "start": one.start, "end": one.end}
        for at, one in enumerate(problems)])
