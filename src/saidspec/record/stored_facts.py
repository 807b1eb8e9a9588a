"""The facts of one note in the record: each keeps its row, whatever text or rule it is read by now."""

from __future__ import annotations

import sqlite3
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from saidspec.model import Fact, Note, Reading
from saidspec.record import jobs, rows
from saidspec.record.attribution import Attribution
from saidspec.record.matching import matched, slots
from saidspec.record.moved import Kept


@dataclass(frozen=True, slots=True)
class Stored:
    """A note of the record as it was before: its row, the text its facts pointed into, and its facts."""

    note: sqlite3.Row | None
    text: str
    facts: list[sqlite3.Row]


def put_facts(
    conn: sqlite3.Connection, ident: int, reading: Reading, about: Attribution, stored: Stored, change: Kept,
    candidates: jobs.SystemsOf,
) -> None:  # fmt: skip
    """Make the note's facts those of the reading, each in the row that it had, and put them into their jobs.

    `change` says what of the former text is left; `candidates` gives the systems that a component may be of.
    """
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
