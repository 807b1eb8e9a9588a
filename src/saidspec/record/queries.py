"""The SQL that finds things in the record.  Nothing here writes; the reports' queries are in `report_queries`.

No query reads more of the record as it grows: full-text hits are taken newest first and no more than are looked at.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from saidspec.model import Specification
from saidspec.record.asking import Question
from saidspec.record.entries import Entry
from saidspec.record.entry_rows import day_value, entry_value
from saidspec.record.report_queries import ENTRIES, UNKNOWN
from saidspec.record.rows import specification_value

LOOKED_AT = 300  # hits of one search that are ranked, newest first
OPENING, CLOSING = "\x02", "\x03"  # around the words found in a passage
Groups = Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True)
class Passage:
    """An utterance that holds words that were looked for; `marked` has them between OPENING and CLOSING."""

    note: str
    note_id: int
    vehicle: str
    day: date | None
    text: str
    marked: str
    start: int
    time: float | None
    speaker: str | None


@dataclass(frozen=True, slots=True)
class Reference:
    """A specification of a vehicle's sheet."""

    vehicle: str
    specification: Specification


@dataclass(frozen=True, slots=True)
class NoteEntry:
    """A note of the record: how many facts it holds, and how many of its utterances no vehicle is known of."""

    id: int
    name: str
    day: date | None
    vehicle: str | None
    facts: int
    unplaced: int
    opening: str


@dataclass(frozen=True, slots=True)
class VehicleSummary:
    """What the record holds of a vehicle."""

    id: int
    name: str
    year: int | None
    also: tuple[str, ...]
    odometer: str | None
    odometer_unit: str | None
    odometer_day: date | None
    notes: int
    facts: int
    jobs: int
    first: date | None
    last: date | None
    sheet: str | None
    specifications: int


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision that counts: `fact` is where its words are found now, None where no rule finds them."""

    verdict: str
    when: str
    person: str | None
    reason: str | None
    fact: int | None
    flag: str | None
    kind: str | None
    component: str | None
    quote: str | None
    note: str | None
    done_on: str | None = None


def quoted(words: Iterable[str]) -> str:
    """Words as one phrase of a full-text query, whatever characters they hold."""
    return '"' + " ".join(words).replace('"', '""') + '"'


def expression(groups: Groups, vehicle: int | None = None, kind: str | None = None, role: str | None = None,
               columns: str = "") -> str:  # fmt: skip
    """The full-text query for facts that hold one phrase of each group, in `columns` if given."""
    parts = []
    if vehicle is not None:
        parts.append(f"vehicle : {quoted([f'vehicle{vehicle}'])}")
    if kind:
        parts.append(f"kind : {quoted([kind])}")
    if role:
        parts.append(f"role : {quoted([role])}")
    where = f"{{{columns}}} : " if columns else ""
    parts += [f"{where}({' OR '.join(quoted([phrase]) for phrase in group)})" for group in groups]
    return " AND ".join(parts)


def fact_hits(conn: sqlite3.Connection, match: str, most: int = LOOKED_AT) -> list[int]:
    """The ids of the newest facts that a full-text query finds."""
    sql = "SELECT rowid FROM facts_fts WHERE facts_fts MATCH ? ORDER BY rowid DESC LIMIT ?"
    return [row[0] for row in conn.execute(sql, (match, most))]


def entries_of(conn: sqlite3.Connection, ids: Sequence[int]) -> list[Entry]:
    """The facts of these ids, as they stand, in the order of the ids."""
    marks = ", ".join(map(str, ids))  # ints from the record itself
    told = {row["id"]: entry_value(row) for row in conn.execute(
        f"{ENTRIES} WHERE f.id IN ({marks})", {"unknown": UNKNOWN})}  # fmt: skip
    return [told[one] for one in ids if one in told]


def passages(conn: sqlite3.Connection, match: str, most: int) -> list[Passage]:
    """The newest utterances that a full-text query finds."""
    sql = """
        SELECT n.name, n.id AS note_id, coalesce(v.name, :unknown) AS vehicle, n.day, u.text, found.marked,
            u.start, u.time, u.speaker, u.sent
        FROM (SELECT rowid, highlight(utterances_fts, 1, :opening, :closing) AS marked FROM utterances_fts
              WHERE utterances_fts MATCH :match ORDER BY rowid DESC LIMIT :most) AS found
        JOIN utterances AS u ON u.id = found.rowid JOIN notes AS n ON n.id = u.note
        LEFT JOIN vehicles AS v ON v.id = u.vehicle ORDER BY u.id DESC"""
    named = {"unknown": UNKNOWN, "opening": OPENING, "closing": CLOSING, "match": match, "most": most}
    return [Passage(row["name"], row["note_id"], row["vehicle"], day_value(row["sent"] or row["day"]), row["text"],
                    row["marked"], row["start"], row["time"], row["speaker"])
            for row in conn.execute(sql, named)]  # fmt: skip


def references(conn: sqlite3.Connection, question: Question, vehicle: int | None, most: int) -> list[Reference]:
    """The specifications that fit a question, of one vehicle's sheet or of all."""
    match = expression(question.groups, kind=question.kind)
    if not match:
        return []
    rows = conn.execute(
        "SELECT s.*, v.name AS vehicle_name FROM specifications_fts AS t JOIN specifications AS s ON s.id = t.rowid"
        " JOIN vehicles AS v ON v.id = s.vehicle WHERE specifications_fts MATCH :match"
        " AND (:vehicle IS NULL OR s.vehicle = :vehicle) ORDER BY s.id LIMIT :most",
        {"match": match, "vehicle": vehicle, "most": most})  # fmt: skip
    return [Reference(row["vehicle_name"], specification_value(row)) for row in rows]


def notes(conn: sqlite3.Connection, *, unplaced: bool = False) -> list[NoteEntry]:
    """The notes of the record, or only those of which a vehicle is not known, oldest first."""
    where = "WHERE n.vehicle IS NULL AND (n.vehicle_from IS NULL OR unplaced > 0)" if unplaced else ""
    sql = f"""
        SELECT n.*, v.name AS vehicle_name, (SELECT count(*) FROM facts WHERE note = n.id) AS facts,
            (SELECT count(*) FROM utterances WHERE note = n.id AND vehicle IS NULL) AS unplaced,
            (SELECT text FROM utterances WHERE note = n.id ORDER BY position LIMIT 1) AS opening
        FROM notes AS n LEFT JOIN vehicles AS v ON v.id = n.vehicle {where} ORDER BY n.day, n.id"""
    return [NoteEntry(row["id"], row["name"], day_value(row["day"]), row["vehicle_name"], row["facts"],
                      row["unplaced"], row["opening"] or "") for row in conn.execute(sql)]  # fmt: skip


def vehicle_summaries(conn: sqlite3.Connection, vehicle: int | None = None) -> list[VehicleSummary]:
    """All vehicles or one, by name, with the last odometer reading and how much the record holds of each."""
    sql = """
        SELECT v.*, (SELECT count(*) FROM notes WHERE vehicle = v.id) + (SELECT count(DISTINCT u.note)
                FROM notes AS n JOIN utterances AS u ON u.note = n.id
                WHERE n.vehicle IS NULL AND u.vehicle = v.id) AS notes,
            (SELECT count(*) FROM facts WHERE vehicle = v.id) AS facts,
            (SELECT count(*) FROM jobs WHERE vehicle = v.id) AS jobs,
            (SELECT min(day) FROM jobs WHERE vehicle = v.id) AS first,
            (SELECT max(day) FROM jobs WHERE vehicle = v.id) AS last,
            (SELECT path FROM sheets WHERE vehicle = v.id) AS sheet,
            (SELECT count(*) FROM specifications WHERE vehicle = v.id) AS specifications
        FROM vehicles AS v WHERE :vehicle IS NULL OR v.id = :vehicle ORDER BY v.name"""
    return [_summary(conn, row) for row in conn.execute(sql, {"vehicle": vehicle}).fetchall()]


def _summary(conn: sqlite3.Connection, row: sqlite3.Row) -> VehicleSummary:
    also = conn.execute("SELECT name FROM vehicle_names WHERE vehicle = ? ORDER BY name", (row["id"],)).fetchall()
    last = conn.execute("SELECT odometer, odometer_unit, day FROM jobs WHERE vehicle = ? AND odometer IS NOT NULL"
                        " ORDER BY day DESC, id DESC LIMIT 1", (row["id"],)).fetchone()  # fmt: skip
    reading = tuple(last) if last else (None, None, None)
    return VehicleSummary(
        row["id"], row["name"], row["year"], tuple(one[0] for one in also), reading[0],
        reading[1] or row["odometer_unit"], day_value(reading[2]), row["notes"], row["facts"], row["jobs"],
        day_value(row["first"]), day_value(row["last"]), row["sheet"] or row["sheet_path"], row["specifications"],
    )  # fmt: skip


def decisions(conn: sqlite3.Connection) -> list[Decided]:
    """All decisions that count, oldest first."""
    sql = """
        SELECT d.verdict, d.decided_at, d.person, d.reason, d.fact, d.flag_key, d.kind,
            coalesce(g.component, d.changes ->> '$.component'), d.quote, n.name,
            d.changes ->> '$.done_on'
        FROM decisions AS d LEFT JOIN notes AS n ON n.id = d.note LEFT JOIN flags AS g ON g.key = d.flag_key
        WHERE d.current = 1 ORDER BY d.id"""
    return [Decided(*row) for row in conn.execute(sql)]
