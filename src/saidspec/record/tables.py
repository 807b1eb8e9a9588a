"""What the tables of the record hold, column by column: read from the migrations, in an order in which they refer back.

`python -m saidspec.record.tables` prints them as Markdown.
"""

from __future__ import annotations

import re
import sqlite3
from dataclasses import dataclass
from functools import cache

from saidspec.record.schema import NAMES, statements


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its SQLite type, what it holds, and the table whose id it holds, if any."""

    name: str
    type: str
    required: bool
    about: str
    refers_to: str | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """A table, with the columns of its primary key."""

    name: str
    about: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]


@cache
def tables() -> tuple[Table, ...]:
    """The tables that hold data, those of the full-text indices left out; each after those that it refers to."""
    conn = sqlite3.connect(":memory:")
    comments: dict[str, str] = {}
    bodies: dict[str, str] = {}
    for migration in NAMES:
        for statement in statements(migration):
            conn.execute(statement)
            made = re.search(r"^CREATE TABLE (\w+)", statement, re.MULTILINE)
            if made:
                comments[made[1]] = _comment(statement[: made.start()])
                bodies[made[1]] = statement[made.end() :]
    told = tuple(_table(conn, name, comments[name], bodies[name]) for name in comments)
    conn.close()
    return told


def _table(conn: sqlite3.Connection, name: str, about: str, body: str) -> Table:
    refers = {row[3]: row[2] for row in conn.execute(f"PRAGMA foreign_key_list({name})")}
    info = conn.execute(f"PRAGMA table_info({name})").fetchall()
    columns = []
    for _, column, kind, required, _, key in info:
        comment = re.search(rf'^\s+"?{column}"? [^\n]*-- (.*)$', body, re.MULTILINE)
        columns.append(Column(column, kind, bool(required or key), comment[1] if comment else "", refers.get(column)))
    key = tuple(row[1] for row in sorted((row for row in info if row[5]), key=lambda row: row[5]))
    return Table(name, about, tuple(columns), key)


def _comment(text: str) -> str:
    """The last paragraph of comment lines before a statement, in one line."""
    lines = text.rsplit("\n\n", 1)[-1].splitlines()
    return " ".join(line.removeprefix("--").strip() for line in lines if line.startswith("--"))


def as_markdown() -> str:
    """The tables as Markdown, for DEVELOPERS.md."""
    told = []
    for table in tables():
        rows = [f"| {column.name} | {column.type}{'' if column.required else ', may be null'} | "
                f"{column.about or (f'id in {column.refers_to}' if column.refers_to else '')} |"
                for column in table.columns]  # fmt: skip
        told.append("\n".join([f"### {table.name}", "", table.about, "", "| column | type | holds |", "|---|---|---|",
                               *rows]))  # fmt: skip
    return "\n\n".join(told) + "\n"


if __name__ == "__main__":
    print(as_markdown(), end="")
