"""Where the record is, and opening it."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic, sleep

from saidspec.model import UnusableInput
from saidspec.record.schema import NAMES, migrate

APPLICATION = 0x73616964  # "said" in ASCII, as in the first migration
VARIABLE = "SAIDSPEC_RECORD"
PATIENCE = 20.0  # seconds to wait for another program that is writing


def record_path(option: Path | str | None = None) -> Path:
    """The file of the record: the option, else the variable SAIDSPEC_RECORD, else one in the user's data folder."""
    if option:
        return Path(option).expanduser()
    if told := os.environ.get(VARIABLE):
        return Path(told).expanduser()
    from platformdirs import user_data_path

    return user_data_path("saidspec", appauthor=False) / "record.db"


def open_record(path: Path | str, *, create: bool = True) -> sqlite3.Connection:
    """The record at `path`, brought up to date; made there, with its folder, when `create` and there is none.

    Statements commit by themselves outside of `at_once`.  Raises UnusableInput where the file is none of ours, was made
    by a newer version, is locked for long or cannot be written.
    """
    path = Path(path)
    if path.is_dir():
        raise UnusableInput(f"{path} is a folder: name the file of the record, such as {path / 'record.db'}")
    if not path.exists() and not create:
        raise UnusableInput(f"there is no record at {path} yet: `saidspec ingest` makes one, --record names another")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        conn = sqlite3.connect(path, isolation_level=None, timeout=PATIENCE)
    except (OSError, sqlite3.OperationalError) as error:
        raise UnusableInput(f"cannot open a record at {path}: {error}") from error
    try:
        _ready(conn, path)
    except sqlite3.DatabaseError as error:
        conn.close()
        raise UnusableInput(f"cannot use {path} as a record: {error}") from error
    except UnusableInput:
        conn.close()
        raise
    return conn


def open_to_read(path: Path | str) -> sqlite3.Connection:
    """The record at `path` for queries only: a statement that would change it fails.  Raises as open_record."""
    conn = open_record(path, create=False)
    conn.execute("PRAGMA query_only = ON")
    return conn


def _ready(conn: sqlite3.Connection, path: Path) -> None:
    conn.row_factory = sqlite3.Row
    conn.execute("PRAGMA foreign_keys = ON")
    mine = conn.execute("PRAGMA application_id").fetchone()[0] == APPLICATION
    version: int = conn.execute("PRAGMA user_version").fetchone()[0]
    if not mine and conn.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]:
        raise UnusableInput(f"{path} is a SQLite file of another program: name another file for the record")
    if version > len(NAMES):
        raise UnusableInput(f"{path} was written by a newer saidspec (tables of version {version}): update saidspec")
    if not mine or version < len(NAMES):
        _write_ahead(conn)
        migrate(conn)


def _write_ahead(conn: sqlite3.Connection) -> None:
    """Turn to write-ahead logging; SQLite waits for no other program that does the same, so try again for a while."""
    last = monotonic() + PATIENCE
    while True:
        try:
            conn.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as busy:
            if monotonic() > last or "locked" not in str(busy):
                raise
            sleep(0.02)


@contextmanager
def at_once(conn: sqlite3.Connection) -> Iterator[None]:
    """All that is written inside is written, or none of it.  Inside another `at_once` it is part of that one.

    Raises UnusableInput where the record cannot be written: locked for long, read-only, disk full.
    """
    if conn.in_transaction:
        yield
        return
    try:
        conn.execute("BEGIN IMMEDIATE")  # takes the write lock now: a reader that turns writer could find it gone
        yield
        conn.execute("COMMIT")
    except sqlite3.OperationalError as error:
        conn.rollback()
        why = "another program has been writing to it for long; try again" if "locked" in str(error) else str(error)
        raise UnusableInput(f"the record could not be written, and is as it was: {why}") from error
    except BaseException:
        conn.rollback()
        raise
