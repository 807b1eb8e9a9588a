"""The values of the model as rows of the record, and rows as values again.

Numbers are stored as text digit for digit, with the same number as REAL beside them where they are searched by size.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Hashable, Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from saidspec.model import Fact, Note, Provenance, Specification, Utterance

Row = dict[str, Any]
SAID = ("component", "value", "value_high", "unit", "code", "angle", "role", "action", "finding", "assertion")


def as_text(number: Decimal | None) -> str | None:
    """A number digit for digit, never with an exponent: 1.740, 100."""
    return None if number is None else format(number, "f")


def as_real(number: Decimal | None) -> float | None:
    """A number as REAL."""
    return None if number is None else float(number)


def as_number(text: str | None) -> Decimal | None:
    """The number of a TEXT column."""
    return None if text is None else Decimal(text)


def utterance_row(note: Note, position: int, said: Utterance, vehicle: int | None) -> Row:
    """A row of `utterances`, without id and note."""
    return {
        "position": position, "start": said.start, "end": said.end, "text": note.text[said.start : said.end],
        "time": said.time, "time_end": said.time_end, "speaker": said.speaker,
        "sent": said.sent.isoformat() if said.sent else None, "heading": said.heading, "item": int(said.item),
        "continues": int(said.continues), "vehicle": vehicle,
    }  # fmt: skip


def fact_row(fact: Fact, slot: int) -> Row:
    """What a row of `facts` holds of the fact itself: neither its place in the record nor what replaced it."""
    words = fact.provenance
    return {
        "start": words.start, "end": words.end, "kind": fact.kind, "slot": slot, "number": fact.id,
        "component": fact.component,
        "value": as_text(fact.value), "value_real": as_real(fact.value),
        "value_high": as_text(fact.value_high), "value_high_real": as_real(fact.value_high),
        "unit": fact.unit, "code": fact.code, "angle": as_text(fact.angle), "role": fact.role, "action": fact.action,
        "finding": fact.finding, "assertion": fact.assertion, "approximate": int(fact.approximate),
        "quote": words.quote, "time": words.time, "time_end": words.time_end, "rule": words.rule, "cue": words.cue,
        "confidence": float(words.confidence),
    }  # fmt: skip


def fact_value(row: Mapping[str, Any] | sqlite3.Row) -> Fact:
    """The fact of a row of `facts` or `facts_now`; its id and the id of what replaced it are those of the record."""
    words = Provenance(row["quote"], row["start"], row["end"], row["time"], row["time_end"], row["rule"], row["cue"],
                       row["confidence"])  # fmt: skip
    return Fact(row["id"], row["kind"], words, row["component"], as_number(row["value"]), as_number(row["value_high"]),
                row["unit"], row["code"], as_number(row["angle"]), row["role"], row["action"], row["finding"],
                row["assertion"], bool(row["approximate"]), row["replaced_by"])  # fmt: skip


def specification_row(position: int, spec: Specification) -> Row:
    """A row of `specifications`, without id, sheet and vehicle."""
    import json

    row: Row = {"position": position, "replaces": json.dumps(list(spec.replaces))}
    for name in ("component", "kind", "source", "unit", "code", "bound", "or_unit", "role", "tolerance_unit", "only",
                 "place"):  # fmt: skip
        row[name] = getattr(spec, name)
    for name in ("value", "value_high", "angle", "or_value", "tolerance"):
        row[name] = as_text(getattr(spec, name))
    return row | {f"{name}_real": as_real(getattr(spec, name)) for name in ("value", "value_high", "or_value")}


def specification_value(row: sqlite3.Row) -> Specification:
    """The specification of a row."""
    import json

    told: Row = {name: row[name] for name in ("component", "kind", "source", "unit", "code", "bound", "or_unit", "role",
                                              "tolerance_unit", "only", "place")}  # fmt: skip
    told |= {name: as_number(row[name]) for name in ("value", "value_high", "angle", "or_value", "tolerance")}
    return Specification(**told, replaces=tuple(json.loads(row["replaces"])))


def day_of(note: Note, said: Utterance | None) -> date | None:
    """The day on which something was said: that of the chat message, else that of the note."""
    sent: datetime | None = said.sent if said else None
    return sent.date() if sent else note.date


def synced(
    conn: sqlite3.Connection, table: str, owner: tuple[str, int], key: tuple[str, ...], wanted: list[Row],
) -> None:  # fmt: skip
    """Make the rows of `table` that belong to `owner` (column, id) those wanted, touching only what differs.

    `key` names the columns that identify a row within its owner.  Rows wanted hold every column but id and owner.
    """
    def key_of(row: Mapping[str, Any] | sqlite3.Row) -> Hashable:
        return tuple(row[name] for name in key)

    column, ident = owner
    stored = {key_of(row): row for row in conn.execute(f'SELECT * FROM {table} WHERE "{column}" = ?', (ident,))}
    asked = {key_of(row): row for row in wanted}
    where = " AND ".join(f'"{name}" = ?' for name in (column, *key))
    for gone in stored.keys() - asked.keys():
        conn.execute(f"DELETE FROM {table} WHERE {where}", (ident, *gone))  # type: ignore[misc]
    for name, row in asked.items():
        if (old := stored.get(name)) is None:
            insert(conn, table, {column: ident, **row})
        elif changed := {field: value for field, value in row.items() if old[field] != value}:
            update(conn, table, changed, where, (ident, *name))  # type: ignore[misc]


def insert(conn: sqlite3.Connection, table: str, row: Row) -> int:
    """Add a row; its id."""
    names = ", ".join(f'"{name}"' for name in row)
    marks = ", ".join("?" * len(row))
    cursor = conn.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(row.values()))
    return cursor.lastrowid or 0


def update(conn: sqlite3.Connection, table: str, changed: Row, where: str, arguments: tuple[Any, ...]) -> None:
    """Change some columns of the rows of which `where` holds."""
    sets = ", ".join(f'"{name}" = ?' for name in changed)
    conn.execute(f"UPDATE {table} SET {sets} WHERE {where}", (*changed.values(), *arguments))
