"""The whole record as open data: a folder with one file a table, JSON lines or CSV, and a description of both.

The description is a Frictionless Data Package (`datapackage.json`) with a Table Schema for each file; see
https://specs.frictionlessdata.io/table-schema/.  In CSV an empty cell is null; a cell of text that a spreadsheet could
take for a formula, the empty text, and text that begins with an apostrophe get an apostrophe in front, which import
takes off again.  Exporting, importing and exporting again gives the same bytes.
"""

from __future__ import annotations

import csv
import json
import sqlite3
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TextIO

from saidspec.model import UnusableInput
from saidspec.record.data_package import DESCRIPTION, Form, described, description
from saidspec.record.exchange_files import neutral, read_table
from saidspec.record.place import at_once
from saidspec.record.tables import Table, tables


def export(conn: sqlite3.Connection, folder: Path, form: Form) -> list[Path]:
    """Write all tables into the folder, which is made if there is none; the files written.

    The tables are those of one moment, whatever is written to the record meanwhile.  Raises UnusableInput where the
    folder cannot be written or holds other files.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        strange = [path.name for path in folder.iterdir() if path.name not in _names(form)]
    except OSError as error:
        raise UnusableInput(f"cannot write into {folder}: {error.strerror}; name another folder") from error
    other: Form = "jsonl" if form == "csv" else "csv"
    if strange and (folder / DESCRIPTION).is_file() and set(strange) <= _names(other):
        raise UnusableInput(f"{folder} holds an older export as {other}: add --format {other} to write it anew, "
                            "or name a new folder")  # fmt: skip
    if strange:
        raise UnusableInput(f"{folder} holds other files ({strange[0]}): name an empty or new folder")
    write: Callable[[TextIO, Table, Iterable[sqlite3.Row]], None] = _write_csv if form == "csv" else _write_jsonl
    told = []
    conn.execute("BEGIN")
    try:
        for table in tables():
            path = folder / f"{table.name}.{form}"
            with path.open("w", encoding="utf-8", newline="") as file:
                write(file, table, _rows(conn, table))
            told.append(path)
        told_of = json.dumps(description(conn, form), indent=1, ensure_ascii=False)
        (folder / DESCRIPTION).write_text(told_of + "\n", "utf-8")
    finally:
        conn.execute("ROLLBACK")
    return [*told, folder / DESCRIPTION]


def import_(conn: sqlite3.Connection, folder: Path) -> dict[str, int]:
    """Read an exported folder into an empty record, all or nothing; how many rows of each table there are.

    Raises UnusableInput naming file, line and column of what does not fit, or where the record holds something.
    """
    told = described(folder)
    if held := [table.name for table in tables() if conn.execute(f"SELECT 1 FROM {table.name} LIMIT 1").fetchone()]:
        raise UnusableInput(f"the record holds {held[0]} already: import into a new one, with --record NEW.db")
    counts = {}
    with at_once(conn):
        conn.execute("PRAGMA defer_foreign_keys = ON")
        for table in tables():
            counts[table.name] = read_table(conn, table, folder, told["form"])
        for name, last in told["last"].items():
            conn.execute("DELETE FROM sqlite_sequence WHERE name = ?", (name,))
            conn.execute("INSERT INTO sqlite_sequence (name, seq) VALUES (?, ?)", (name, last))
        if broken := conn.execute("PRAGMA foreign_key_check").fetchone():
            raise UnusableInput(f"{folder / broken[0]}.{told['form']}: row {broken[1]} refers to a row of {broken[2]} "
                                "that is not there")  # fmt: skip
    return counts


def _names(form: Form) -> set[str]:
    return {DESCRIPTION} | {f"{table.name}.{form}" for table in tables()}


def _rows(conn: sqlite3.Connection, table: Table) -> Iterable[sqlite3.Row]:
    columns = ", ".join(f'"{column.name}"' for column in table.columns)
    order = ", ".join(f'"{name}"' for name in table.key)
    return conn.execute(f"SELECT {columns} FROM {table.name} ORDER BY {order}")


def _write_jsonl(file: TextIO, table: Table, rows: Iterable[sqlite3.Row]) -> None:
    names = [column.name for column in table.columns]
    for row in rows:
        file.write(json.dumps(dict(zip(names, row, strict=True)), ensure_ascii=False, separators=(",", ":")) + "\n")


def _write_csv(file: TextIO, table: Table, rows: Iterable[sqlite3.Row]) -> None:
    out = csv.writer(file, lineterminator="\r\n")
    out.writerow([column.name for column in table.columns])
    out.writerows([neutral(cell) if isinstance(cell, str) else cell for cell in row] for row in rows)
