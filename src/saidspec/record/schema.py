"""The tables of the record: named migrations, each recorded with its day and carried out in one transaction.

A migration is a file of SQL statements in the folder `migrations` beside this module; its comments say what each table
and column holds, and stay in the record itself (SQLite keeps the text of each table), so that a general SQLite tool
shows them.  `python -m saidspec.record.tables` prints the tables as Markdown.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlite_utils import Database
    from sqlite_utils.migrations import Migrations

# In the order in which they are carried out.  A migration that was published is never edited: add another one.
NAMES = ("001_the_record",)


def statements(name: str) -> Iterator[str]:
    """The SQL statements of the migration `name`, one at a time, each with the comments that stand before it."""
    waiting = ""
    for line in (files("saidspec.record") / "migrations" / f"{name}.sql").read_text("utf-8").splitlines(keepends=True):
        waiting += line
        if line.rstrip().endswith(";") and sqlite3.complete_statement(waiting):
            yield waiting.strip()
            waiting = ""


def migrations() -> Migrations:
    """All migrations as one set that sqlite-utils records in `_sqlite_migrations`."""
    from sqlite_utils.migrations import Migrations

    told = Migrations("saidspec")
    for name in NAMES:
        told(name=name)(_carry_out(name))
    return told


def migrate(conn: sqlite3.Connection) -> None:
    """Bring the record up to date, in one transaction: it holds all tables or is as it was.  Takes the write lock.

    `user_version` counts the migrations carried out, so that a record that is up to date opens without sqlite-utils.
    """
    from sqlite_utils import Database

    conn.execute("BEGIN IMMEDIATE")
    try:
        migrations().apply(Database(conn))
        conn.execute(f"PRAGMA user_version = {len(NAMES)}")
        conn.execute("COMMIT")
    except BaseException:
        conn.execute("ROLLBACK")
        raise


def _carry_out(name: str) -> Callable[[Database], None]:
    def step(db: Database) -> None:
        for statement in statements(name):
            db.conn.execute(statement)

    return step
