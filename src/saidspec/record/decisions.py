"""What a person decided about facts and flags.  It is kept apart from what the rules read, and survives them."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import cache
from typing import Any, Literal

from saidspec.model import ACTIONS, ASSERTIONS, ROLES, Kind, UnusableInput
from saidspec.patterns import package_folder, read_folder
from saidspec.record import rows
from saidspec.record.moved import Kept, kept
from saidspec.record.place import at_once
from saidspec.reference.units import dimension, read_unit

UNITS = {"torque": ("N*m", "lbf*ft", "lbf*in"), "volume": ("L", "mL", "qt"), "size": ("mm", "in", "gauge"),
         "measurement": ("mm", "in", "bar", "psi", "V"), "odometer": ("km", "mi", "hour"),
         "interval": ("km", "mi", "month", "year"), "duration": ("min", "hour", "day")}  # kinds that have a unit
OPEN = frozenset({"planned", "possible"})  # what may still have to be done
NEVER_BELOW_ZERO = frozenset({"torque", "volume", "size", "count", "cost", "odometer", "interval"})
FactVerdict = Literal["confirmed", "corrected", "rejected", "done"]
FlagVerdict = Literal["accepted", "left"]


def decide_fact(
    conn: sqlite3.Connection, fact: int, verdict: FactVerdict, changes: Mapping[str, Any] | None = None, *,
    reason: str | None = None, person: str | None = None, done_on: date | None = None,
) -> int:  # fmt: skip
    """Keep what a person said of a fact; the decision's id.  A newer decision takes the place of an older one.

    `changes` are corrected fields (of rows.SAID), `done_on` the day on which a follow-up was done.  What was confirmed
    or corrected is kept field by field, so that a later reading of the same words by other rules does not change what
    the person agreed to.
    Raises UnusableInput where there is no such fact or field, or the fact cannot be so.
    """
    with at_once(conn):
        row = conn.execute("SELECT * FROM facts_now WHERE id = ?", (fact,)).fetchone()
        if row is None:
            raise UnusableInput(f"there is no fact {fact} in the record: `saidspec find` shows their numbers")
        told = {name: row[name] for name in rows.SAID} if verdict != "rejected" else {}
        if verdict == "done":
            _to_do(row, done_on)
            told |= {"done_on": done_on.isoformat()} if done_on else {}
        told |= _checked(changes or {})
        _measured(row["kind"], told, changes or {})
        _in_role(conn, row["kind"], (changes or {}).get("role"))
        reading = conn.execute("SELECT id FROM readings WHERE note = ? AND current = 1", (row["note"],)).fetchone()
        _supersede(conn, fact)
        return rows.insert(conn, "decisions", {
            "verdict": verdict, "reason": reason, "person": person, "decided_at": _now(), "changes": json.dumps(told),
            "reading": reading and reading[0], "fact": fact,
            **{name: row[name] for name in ("note", "start", "end", "kind", "slot", "quote")}})  # fmt: skip


def decide_flag(
    conn: sqlite3.Connection, flag: int, verdict: FlagVerdict, *, reason: str | None = None, person: str | None = None,
) -> int:  # fmt: skip
    """Keep what a person said of a flag, by the flag's key; the decision's id.

    Raises UnusableInput where there is no such flag, or one is accepted without a reason.
    """
    with at_once(conn):
        row = conn.execute("SELECT * FROM flags WHERE id = ?", (flag,)).fetchone()
        if row is None:
            raise UnusableInput(f"there is no flag {flag} in the record: `saidspec reconcile` shows their numbers")
        if verdict == "accepted" and not (reason or "").strip():
            raise UnusableInput(f"flag {flag} can be accepted only with a reason: add --reason")
        conn.execute("UPDATE decisions SET current = 0 WHERE flag_key = ? AND current = 1", (row["key"],))
        quote = conn.execute("SELECT quote FROM facts WHERE id = ?", (row["fact"],)).fetchone()
        return rows.insert(conn, "decisions", {
            "verdict": verdict, "reason": reason, "person": person, "decided_at": _now(), "flag_key": row["key"],
            "note": row["note"], "fact": row["fact"], "kind": row["kind"], "quote": quote and quote[0]})  # fmt: skip


def withdraw(conn: sqlite3.Connection, fact: int) -> bool:
    """Take back the decision on a fact; whether there was one.  It is kept, but counts no more."""
    with at_once(conn):
        return _supersede(conn, fact) > 0


def follow(conn: sqlite3.Connection, note: int) -> None:
    """Let decisions on a note's facts follow them after the note was read again.

    A decision whose fact is there still holds it by its row.  One whose fact was gone finds it again when a rule reads
    the same words, wherever they are in the text now, as the same kind.  The rest is kept without a fact.
    """
    waiting = conn.execute("SELECT * FROM decisions WHERE note = ? AND flag_key IS NULL AND current = 1"
                           " ORDER BY id DESC", (note,)).fetchall()  # fmt: skip
    if not waiting:
        return
    reading, text = conn.execute("SELECT id, text FROM readings WHERE note = ? AND current = 1", (note,)).fetchone()
    changes: dict[int, Kept] = {}
    for row in waiting:
        moved: rows.Row = {}
        if row["fact"] is not None:
            fact = conn.execute('SELECT start, "end", slot, quote FROM facts WHERE id = ?', (row["fact"],)).fetchone()
            moved = {**dict(fact), "reading": reading}
        elif row["reading"] is not None:
            if row["reading"] not in changes:
                former = conn.execute("SELECT text FROM readings WHERE id = ?", (row["reading"],)).fetchone()[0]
                changes[row["reading"]] = kept(former, text)
            if span := changes[row["reading"]].move(row["start"], row["end"]):
                fact = _undecided(conn, note, span, row["kind"], row["slot"])
                moved = {"start": span[0], "end": span[1], "reading": reading, "fact": fact}
        if changed := {name: value for name, value in moved.items() if row[name] != value}:
            rows.update(conn, "decisions", changed, "id = ?", (row["id"],))


def _undecided(conn: sqlite3.Connection, note: int, span: tuple[int, int], kind: str, slot: int) -> int | None:
    row = conn.execute(
        'SELECT id FROM facts AS f WHERE note = ? AND start = ? AND "end" = ? AND kind = ? AND slot = ? AND NOT EXISTS'
        " (SELECT 1 FROM decisions WHERE fact = f.id AND current = 1 AND flag_key IS NULL)",
        (note, *span, kind, slot)).fetchone()  # fmt: skip
    return int(row[0]) if row else None


def _supersede(conn: sqlite3.Connection, fact: int) -> int:
    return conn.execute("UPDATE decisions SET current = 0 WHERE fact = ? AND flag_key IS NULL AND current = 1",
                        (fact,)).rowcount  # fmt: skip


def _checked(changes: Mapping[str, Any]) -> dict[str, Any]:
    """Corrected fields as they are stored: numbers as text.  Raises UnusableInput for an unknown field or standing."""
    told: dict[str, Any] = {}
    for name, value in changes.items():
        if name not in rows.SAID:
            raise UnusableInput(f'a fact has no field "{name}" to correct: choose from {", ".join(rows.SAID)}')
        if name == "assertion" and value not in ASSERTIONS:
            raise UnusableInput(f'"{value}" is no assertion: choose from {", ".join(ASSERTIONS)}')
        if name == "action" and value is not None and value not in ACTIONS:
            raise UnusableInput(f'"{value}" is no action: choose from {", ".join(ACTIONS)}')
        told[name] = rows.as_text(value) if isinstance(value, Decimal) else value
    return told


def _measured(kind: str, told: dict[str, Any], changes: Mapping[str, Any]) -> None:
    """Raises UnusableInput where a corrected value or unit cannot be one of that kind of fact."""
    unit = changes.get("unit")
    if unit is not None:
        if kind not in UNITS:
            raise UnusableInput(f'{_named(kind)} has no unit: leave out --unit "{unit}"')
        told["unit"] = read_unit(unit) or unit
        fitting = {dimension(one) for one in UNITS[kind]}
        if (of := dimension(told["unit"])) is None or (kind != "measurement" and of not in fitting):
            raise UnusableInput(f'"{unit}" is no unit of {_named(kind)}: write one such as {", ".join(UNITS[kind])}')
    if "value" in changes and kind in NEVER_BELOW_ZERO and Decimal(str(told["value"] or 0)) < 0:
        raise UnusableInput(f"{_named(kind)} cannot be {told['value']}: it is never below zero")


def _in_role(conn: sqlite3.Connection, kind: Kind, role: str | None) -> None:
    """Raises UnusableInput for a role that facts of that kind do not have, by the program's words or the user's own."""
    known = roles_of(kind)
    if role is None or role in known:
        return
    if not known:
        raise UnusableInput(f'{_named(kind)} has no role: leave out --role "{role}"')
    if conn.execute("SELECT 1 FROM facts WHERE kind = ? AND role = ? LIMIT 1", (kind, role)).fetchone() is None:
        raise UnusableInput(f'"{role}" is no role of {_named(kind)}: choose from {", ".join(known)}')


@cache
def roles_of(kind: Kind) -> tuple[str, ...]:
    """The roles that facts of a kind may have: those of the contract, and what else the rule files tell."""
    files, _ = read_folder(package_folder(), "roles.toml")
    told = [entry["id"] for file in files for entry in file.data.get("role", ()) if entry["kind"] == kind]
    return tuple(dict.fromkeys((*ROLES[kind], *told))) if kind in ROLES else ()


def _to_do(row: sqlite3.Row, done_on: date | None) -> None:
    """Raises UnusableInput where a fact tells of nothing that was still to do, or the day has not come yet."""
    limit = row["kind"] == "interval" and row["role"] != "since last"
    if row["kind"] != "follow_up" and not limit and row["assertion"] not in OPEN:
        raise UnusableInput(f"fact {row['id']} is {_named(row['kind'])} and nothing to do: `saidspec due` shows "
                            "the follow-ups with their numbers")  # fmt: skip
    if done_on is not None and done_on > datetime.now().astimezone().date():
        raise UnusableInput(f"{done_on.isoformat()} is still to come: give the day on which it was done")


def _named(kind: str) -> str:
    """A kind in words: "a part number"."""
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind.replace('_', ' ')}"


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
