"""The SQL of the review page: which notes there are, and the text of one."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date

from saidspec.model import Problem, Unclaimed
from saidspec.record.entry_rows import day_value

NOTES = """
SELECT n.id, n.name, n.day, v.name AS vehicle,
    (SELECT count(*) FROM facts WHERE note = n.id) AS facts,
    (SELECT count(*) FROM decisions
        WHERE note = n.id AND current = 1 AND flag_key IS NULL AND fact IS NOT NULL) AS decided,
    (SELECT count(*) FROM unclaimed WHERE note = n.id) AS unclaimed,
    (SELECT count(*) FROM flags AS g WHERE g.note = n.id AND NOT EXISTS
        (SELECT 1 FROM decisions WHERE flag_key = g.key AND current = 1 AND verdict = 'accepted')) AS flags
FROM notes AS n LEFT JOIN vehicles AS v ON v.id = n.vehicle
"""


@dataclass(frozen=True, slots=True)
class NoteSummary:
    """A note and how much of it waits for review."""

    id: int
    name: str
    day: date | None
    vehicle: str | None
    facts: int
    decided: int
    unclaimed: int
    flags: int


@dataclass(frozen=True, slots=True)
class NoteText:
    """The text of a note, the numbers in it that no rule understood, and what of it could not be read."""

    summary: NoteSummary
    text: str
    unclaimed: tuple[Unclaimed, ...]
    problems: tuple[Problem, ...] = ()


def notes(conn: sqlite3.Connection) -> list[NoteSummary]:
    """All notes, the latest first."""
    return [_summary(row) for row in conn.execute(f"{NOTES} ORDER BY n.day IS NULL, n.day DESC, n.id DESC")]


def note_text(conn: sqlite3.Connection, note: int) -> NoteText | None:
    """A note with its text, None where there is none of that id."""
    row = conn.execute(f"{NOTES} WHERE n.id = ?", (note,)).fetchone()
    if row is None:
        return None
    text = conn.execute("SELECT text FROM readings WHERE note = ? AND current = 1", (note,)).fetchone()
    loose = conn.execute('SELECT quote, start, "end", time FROM unclaimed WHERE note = ? ORDER BY start', (note,))
    problems = conn.execute('SELECT message, start, "end" FROM problems WHERE note = ? ORDER BY position', (note,))
    return NoteText(_summary(row), text[0] if text else "", tuple(Unclaimed(*one) for one in loose),
                    tuple(Problem(*one) for one in problems))  # fmt: skip


def note_of_fact(conn: sqlite3.Connection, fact: int) -> int | None:
    """The note that a fact is of."""
    row = conn.execute("SELECT note FROM facts WHERE id = ?", (fact,)).fetchone()
    return int(row[0]) if row else None


def note_of_flag(conn: sqlite3.Connection, flag: int) -> int | None:
    """The note that a flag is of, itself or by its fact."""
    sql = "SELECT coalesce(g.note, f.note) FROM flags AS g LEFT JOIN facts AS f ON f.id = g.fact WHERE g.id = ?"
    row = conn.execute(sql, (flag,)).fetchone()
    return int(row[0]) if row and row[0] is not None else None


def flag_numbers(conn: sqlite3.Connection, note: int) -> dict[str, int]:
    """The ids of the flags of a note by their keys."""
    sql = "SELECT g.key, g.id FROM flags AS g LEFT JOIN facts AS f ON f.id = g.fact WHERE coalesce(g.note, f.note) = ?"
    return {row[0]: int(row[1]) for row in conn.execute(sql, (note,))}


def _summary(row: sqlite3.Row) -> NoteSummary:
    return NoteSummary(row["id"], row["name"], day_value(row["day"]), row["vehicle"], row["facts"], row["decided"],
                       row["unclaimed"], row["flags"])  # fmt: skip
