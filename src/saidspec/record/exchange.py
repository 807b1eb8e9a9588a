"""The whole record as open data: a folder with one file a table, JSON lines or CSV, and a description of both.

The description is a Frictionless Data Package (`datapackage.json`) with a Table Schema for each file; see
https://specs.frictionlessdata.io/table-schema/.  In CSV an empty cell is null; a cell of text that a spreadsheet could
take for a formula, the empty text, and text that begins with an apostrophe get an apostrophe in front, which import
takes off again.  Exporting, importing and exporting again gives the same bytes.
"""

from __future__ import annotations

import csv
import json
import re
import sqlite3
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Literal, TextIO

from saidspec.model import UnusableInput
from saidspec.record.place import at_once
from saidspec.record.schema import NAMES
from saidspec.record.tables import Column, Table, tables

Form = Literal["jsonl", "csv"]
DESCRIPTION = "datapackage.json"
TYPES = {"INTEGER": "integer", "REAL": "number", "TEXT": "string"}
PYTHON: dict[str, type | tuple[type, ...]] = {"INTEGER": int, "REAL": (int, float), "TEXT": str}
# Characters at which spreadsheets begin a formula (OWASP, "CSV Injection"), with their full-width forms, and our own.
FORMULA = re.compile(r"\s*[=+\-@＝＋－＠']|[\t\r\n]|$")


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
        description = json.dumps(_description(conn, form), indent=1, ensure_ascii=False)
        (folder / DESCRIPTION).write_text(description + "\n", "utf-8")
    finally:
        conn.execute("ROLLBACK")
    return [*told, folder / DESCRIPTION]


def import_(conn: sqlite3.Connection, folder: Path) -> dict[str, int]:
    """Read an exported folder into an empty record, all or nothing; how many rows of each table there are.

    Raises UnusableInput naming file, line and column of what does not fit, or where the record holds something.
    """
    told = _described(folder)
    if held := [table.name for table in tables() if conn.execute(f"SELECT 1 FROM {table.name} LIMIT 1").fetchone()]:
        raise UnusableInput(f"the record holds {held[0]} already: import into a new one, with --record NEW.db")
    counts = {}
    with at_once(conn):
        conn.execute("PRAGMA defer_foreign_keys = ON")
        for table in tables():
            path = folder / f"{table.name}.{told['form']}"
            read = _read_csv if told["form"] == "csv" else _read_jsonl
            counts[table.name] = _insert(conn, table, path, read(path, table))
        for name, last in told["last"].items():
            conn.execute("DELETE FROM sqlite_sequence WHERE name = ?", (name,))
            conn.execute("INSERT INTO sqlite_sequence (name, seq) VALUES (?, ?)", (name, last))
        if broken := conn.execute("PRAGMA foreign_key_check").fetchone():
            raise UnusableInput(f"{folder / broken[0]}.{told['form']}: row {broken[1]} refers to a row of {broken[2]} "
                                "that is not there")  # fmt: skip
    return counts


def neutral(text: str) -> str:
    """A cell of text that no spreadsheet takes for a formula, and that is not empty."""
    return f"'{text}" if FORMULA.match(text) else text


def restored(cell: str) -> str | None:
    """The text of a cell: what `neutral` was given; null for an empty one."""
    return cell.removeprefix("'") if cell else None


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


def _description(conn: sqlite3.Connection, form: Form) -> dict[str, Any]:
    numbered = "SELECT name, seq FROM sqlite_sequence WHERE name NOT LIKE '\\_%' ESCAPE '\\' ORDER BY name"
    last = {row[0]: row[1] for row in conn.execute(numbered)}
    return {
        "profile": "data-package", "name": "saidspec-record", "title": "A maintenance record kept with saidspec",
        "saidspec": {"form": form, "version": len(NAMES), "last": last},
        "resources": [_resource(table, form) for table in tables()],
    }  # fmt: skip


def _resource(table: Table, form: Form) -> dict[str, Any]:
    schema: dict[str, Any] = {"fields": [_field(column) for column in table.columns], "primaryKey": list(table.key),
                              "missingValues": [""] if form == "csv" else []}  # fmt: skip
    if refers := [column for column in table.columns if column.refers_to]:
        schema["foreignKeys"] = [
            {"fields": column.name, "reference": {
                "resource": "" if column.refers_to == table.name else column.refers_to, "fields": "id"}}
            for column in refers]  # fmt: skip
    kind = {"format": "csv", "mediatype": "text/csv", "encoding": "utf-8",
            "dialect": {"delimiter": ",", "lineTerminator": "\r\n", "quoteChar": '"', "doubleQuote": True}}  # fmt: skip
    if form == "jsonl":
        kind = {"format": "ndjson", "mediatype": "application/x-ndjson", "encoding": "utf-8"}
    return {"name": table.name, "path": f"{table.name}.{form}", "profile": "tabular-data-resource",
            "description": table.about, **kind, "schema": schema}  # fmt: skip


def _field(column: Column) -> dict[str, Any]:
    told: dict[str, Any] = {"name": column.name, "type": TYPES[column.type]}
    if column.about:
        told["description"] = column.about
    return told | ({"constraints": {"required": True}} if column.required else {})


def _described(folder: Path) -> dict[str, Any]:
    """The `saidspec` part of the description.  Raises UnusableInput where the folder is no export, or a newer one."""
    path = folder / DESCRIPTION
    try:
        told = json.loads(path.read_text("utf-8"))["saidspec"]
        form, version, last = told["form"], told["version"], told["last"]
    except FileNotFoundError:
        raise UnusableInput(f"{folder} is no export: it has no {DESCRIPTION}") from None
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise UnusableInput(f"{path} does not describe an export of saidspec ({error}): export again") from error
    if form not in ("jsonl", "csv") or not isinstance(version, int) or not isinstance(last, dict):
        raise UnusableInput(f"{path} does not describe an export of saidspec: export again")
    if version > len(NAMES):
        raise UnusableInput(f"{path} was written by a newer saidspec (version {version}): update saidspec")
    numbered = {table.name for table in tables()}
    return {"form": form, "last": {name: int(seq) for name, seq in last.items() if name in numbered}}


def _read_jsonl(path: Path, table: Table) -> Iterator[tuple[int, dict[str, Any]]]:
    known = {column.name for column in table.columns}
    with _opened(path) as file:
        for number, line in enumerate(file, 1):
            try:
                row = json.loads(line)
            except ValueError as error:
                raise UnusableInput(f"{path}, line {number}: is no JSON ({error})") from None
            if not isinstance(row, dict) or row.keys() - known:
                raise UnusableInput(f"{path}, line {number}: has other fields than {', '.join(sorted(known))}")
            yield number, row


def _read_csv(path: Path, table: Table) -> Iterator[tuple[int, dict[str, Any]]]:
    csv.field_size_limit(sys.maxsize)
    columns = {column.name: column for column in table.columns}
    with _opened(path) as file:
        lines = csv.reader(file)
        header = next(lines, [])
        if set(header) - columns.keys():
            raise UnusableInput(f"{path}, line 1: has other columns than {', '.join(columns)}")
        for cells in lines:
            if len(cells) != len(header):
                raise UnusableInput(f"{path}, line {lines.line_num}: has {len(cells)} cells, not {len(header)}")
            try:
                row = {name: _cell(columns[name], cell) for name, cell in zip(header, cells, strict=True)}
            except ValueError as error:
                raise UnusableInput(f"{path}, line {lines.line_num}: {error}") from None
            yield lines.line_num, row


def _cell(column: Column, cell: str) -> Any:
    if column.type == "TEXT":
        return restored(cell)
    if not cell:
        return None
    try:
        return int(cell) if column.type == "INTEGER" else float(cell)
    except ValueError:
        raise ValueError(f'"{cell}" in column {column.name} is no number') from None


def _opened(path: Path) -> TextIO:
    try:
        return path.open(encoding="utf-8", newline="")
    except OSError as error:
        raise UnusableInput(f"{path} cannot be read: {error.strerror}") from error


def _insert(conn: sqlite3.Connection, table: Table, path: Path, rows: Iterator[tuple[int, dict[str, Any]]]) -> int:
    count = 0
    try:
        for number, row in rows:
            for column in table.columns:
                value = row.get(column.name)
                if value is not None and (not isinstance(value, PYTHON[column.type]) or isinstance(value, bool)):
                    raise UnusableInput(f"{path}, line {number}: {column.name} must be {TYPES[column.type]}")
            names: Sequence[str] = list(row)
            marks = ", ".join("?" * len(names))
            quoted = ", ".join(f'"{name}"' for name in names)
            try:
                conn.execute(f"INSERT INTO {table.name} ({quoted}) VALUES ({marks})", list(row.values()))
            except sqlite3.DatabaseError as error:
                raise UnusableInput(f"{path}, line {number}: does not fit into the record ({error})") from error
            count += 1
    except UnicodeDecodeError as error:
        raise UnusableInput(f"{path} is not UTF-8: import the files as they were exported ({error})") from error
    return count
