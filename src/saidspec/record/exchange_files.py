"""The files of an exported record read back, row by row; what does not fit is named with its file and line."""

from __future__ import annotations

import csv
import json
import re
import sqlite3
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, TextIO

from saidspec.model import UnusableInput
from saidspec.record.data_package import TYPES, Form
from saidspec.record.tables import Column, Table

PYTHON: dict[str, type | tuple[type, ...]] = {"INTEGER": int, "REAL": (int, float), "TEXT": str}
# Characters at which spreadsheets begin a formula (OWASP, "CSV Injection"), with their full-width forms, and our own.
FORMULA = re.compile(r"\s*[=+\-@＝＋－＠']|[\t\r\n]|$")


def neutral(text: str) -> str:
    """A cell of text that no spreadsheet takes for a formula, and that is not empty."""
    return f"'{text}" if FORMULA.match(text) else text


def restored(cell: str) -> str | None:
    """The text of a cell: what `neutral` was given; null for an empty one."""
    return cell.removeprefix("'") if cell else None


def read_table(conn: sqlite3.Connection, table: Table, folder: Path, form: Form) -> int:
    """Add the rows of a table's file to the record; how many.  Raises UnusableInput for what does not fit."""
    path = folder / f"{table.name}.{form}"
    return _insert(conn, table, path, _read_csv(path, table) if form == "csv" else _read_jsonl(path, table))


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
