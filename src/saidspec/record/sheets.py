"""Reference sheets in the record, and what comparing the facts with them gave."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Sequence
from hashlib import sha256
from typing import Any

from saidspec.model import Agreement, Flag, Quantity, Specification
from saidspec.record import rows
from saidspec.record.place import at_once


def put_sheet(
    conn: sqlite3.Connection, vehicle: int, specifications: Sequence[Specification], path: str, digest: str,
) -> None:  # fmt: skip
    """Make these the specifications of the vehicle: `path` is where they were read, `digest` the SHA-256 of the bytes.

    Only what differs from the sheet as it was is written.
    """
    with at_once(conn):
        sheet = conn.execute("SELECT * FROM sheets WHERE vehicle = ?", (vehicle,)).fetchone()
        if sheet is None:
            ident = rows.insert(conn, "sheets", {"vehicle": vehicle, "path": path, "sha256": digest})
        else:
            ident = sheet["id"]
            if (sheet["path"], sheet["sha256"]) != (path, digest):
                rows.update(conn, "sheets", {"path": path, "sha256": digest}, "id = ?", (ident,))
        conn.execute("UPDATE vehicles SET sheet_path = ? WHERE id = ? AND sheet_path IS NOT ?", (path, vehicle, path))
        rows.synced(conn, "specifications", ("sheet", ident), ("position",), [
            {"vehicle": vehicle, **rows.specification_row(at, spec)} for at, spec in enumerate(specifications)])


def put_flags(
    conn: sqlite3.Connection, vehicle: int | None, flags: Iterable[Flag], agreements: Iterable[Agreement] = (), *,
    note: int | None = None,
) -> None:  # fmt: skip
    """Make these the flags and agreements of a vehicle (None: of what has no vehicle), touching only what differs.

    With `note` they are those of this note on the vehicle, and what other notes raised stays.  `Flag.fact` and
    `Agreement.fact` are ids of the record.  A flag that is raised again keeps its id and its decision.
    """
    with at_once(conn):
        own = "vehicle IS :vehicle" + (" AND note = :note" if note is not None else "")
        of = {"vehicle": vehicle, "note": note}
        stored = {row["key"]: row for row in conn.execute(f"SELECT * FROM flags WHERE {own}", of)}
        wanted: dict[str, rows.Row] = {}
        for flag in flags:
            row = _flag_row(conn, vehicle, flag, note)
            while row["key"] in wanted or (row["key"] not in stored and _raised(conn, row["key"])):
                row["key"] = sha256(row["key"].encode()).hexdigest()  # the same said twice: told apart by their order
            wanted[row["key"]] = row
        conn.executemany("DELETE FROM flags WHERE key = ?", [(key,) for key in stored.keys() - wanted.keys()])
        for key, row in wanted.items():
            if (old := stored.get(key)) is None:
                rows.insert(conn, "flags", row)
            elif changed := {name: value for name, value in row.items() if old[name] != value}:
                rows.update(conn, "flags", changed, "key = ?", (key,))
        _put_agreements(conn, vehicle, agreements, note)


def drop_flags(conn: sqlite3.Connection, vehicle: int, notes: Iterable[int]) -> None:
    """Remove the flags of a vehicle that none of these notes raised."""
    kept = set(notes)
    with at_once(conn):
        told = conn.execute("SELECT id, note FROM flags WHERE vehicle = ?", (vehicle,)).fetchall()
        conn.executemany("DELETE FROM flags WHERE id = ?", [(row[0],) for row in told if row[1] not in kept])


def _raised(conn: sqlite3.Connection, key: str) -> bool:
    return conn.execute("SELECT 1 FROM flags WHERE key = ?", (key,)).fetchone() is not None


def flag_key(conn: sqlite3.Connection, vehicle: int | None, flag: Flag) -> str:
    """What a flag is about, as a digest: its check, kind, component and both sides, and the words of its fact.

    It changes when what was said or what the reference says changes: then a decision on it no longer holds.
    """
    words: Any = None
    if flag.fact is not None:
        row = conn.execute("SELECT note, quote, kind, slot FROM facts WHERE id = ?", (flag.fact,)).fetchone()
        words = tuple(row) if row else None
    sides = [_quantity(flag.said), _quantity(flag.reference) if flag.reference else None]
    told = [flag.check, flag.kind, flag.component, words, *sides]
    if words is None:
        told += [vehicle, flag.message]
    return sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()


def _flag_row(conn: sqlite3.Connection, vehicle: int | None, flag: Flag, note: int | None) -> rows.Row:
    fact = conn.execute("SELECT note, job FROM facts WHERE id = ?", (flag.fact,)).fetchone()
    return {
        "key": flag_key(conn, vehicle, flag), "vehicle": vehicle, "note": fact["note"] if fact else note,
        "fact": flag.fact,
        "job": fact and fact["job"], "check": flag.check, "severity": flag.severity, "message": flag.message,
        "component": flag.component, "kind": flag.kind, "said": json.dumps(_quantity(flag.said)),
        "reference": json.dumps(_quantity(flag.reference)) if flag.reference else None, "likely": flag.likely,
        "also_likely": json.dumps(list(flag.also_likely)), "tolerance": flag.tolerance,
    }  # fmt: skip


def _quantity(side: Quantity) -> dict[str, str | None]:
    return {"value": rows.as_text(side.value), "value_high": rows.as_text(side.value_high), "unit": side.unit,
            "code": side.code, "source": side.source}  # fmt: skip


def _put_agreements(
    conn: sqlite3.Connection, vehicle: int | None, agreements: Iterable[Agreement], note: int | None,
) -> None:  # fmt: skip
    wanted = {(one.fact, one.spec): one.why for one in agreements}
    of_vehicle = "SELECT a.* FROM agreements AS a JOIN facts AS f ON f.id = a.fact WHERE f.vehicle IS :vehicle"
    of_vehicle += " AND f.note = :note" if note is not None else ""
    stored = {(row[0], row[1]): row[2] for row in conn.execute(of_vehicle, {"vehicle": vehicle, "note": note})}
    conn.executemany("DELETE FROM agreements WHERE fact = ? AND spec = ?", list(stored.keys() - wanted.keys()))
    for (fact, spec), why in wanted.items():
        if stored.get((fact, spec)) != why:
            conn.execute("INSERT INTO agreements (fact, spec, why) VALUES (?, ?, ?)"
                         " ON CONFLICT (fact, spec) DO UPDATE SET why = excluded.why", (fact, spec, why))  # fmt: skip
