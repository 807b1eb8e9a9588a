"""Copies of a record while it is in use, by SQLite's online backup, and putting one back."""

from __future__ import annotations

import os
import sqlite3
from datetime import UTC, datetime
from pathlib import Path

from saidspec.model import UnusableInput
from saidspec.record.place import APPLICATION, open_record


def back_up(conn: sqlite3.Connection, target: Path, *, replace: bool = False) -> None:
    """Copy the record as it is at this moment into one file, complete or not there at all.

    Writers are not held up.  Raises UnusableInput where the file is there already (unless `replace`), or cannot be
    written.
    """
    if target.exists() and not replace:
        raise UnusableInput(f"{target} is there already: name another file, or add --replace")
    half = target.with_name(target.name + ".part")
    try:
        half.unlink(missing_ok=True)
        copy = sqlite3.connect(half, isolation_level=None)
        try:
            conn.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")  # one file, nothing beside it
            _sound(copy, half)
        finally:
            copy.close()
        os.replace(half, target)
    except (OSError, sqlite3.OperationalError) as error:
        half.unlink(missing_ok=True)
        raise UnusableInput(f"cannot write the backup {target}: {error}") from error


def restore(record: Path, source: Path) -> Path | None:
    """Make the record what the backup holds; where the former record was kept, None where there was none.

    Programs that read the record meanwhile see the former or the new one.  Raises UnusableInput where the backup is
    none or is damaged; then the record is as it was.
    """
    if not source.is_file():
        raise UnusableInput(f"there is no backup {source}")
    copy = sqlite3.connect(f"{source.resolve().as_uri()}?mode=ro", uri=True)
    try:
        _sound(copy, source)
        former: Path | None = None
        if record.exists():
            stamp = datetime.now(UTC).strftime("%Y%m%dT%H%M%S%f")
            former = record.with_name(f"{record.stem}-before-{stamp}{record.suffix}")
            conn = open_record(record, create=False)
            back_up(conn, former)
        else:
            conn = open_record(record)
        copy.backup(conn)
        conn.execute("PRAGMA journal_mode = WAL")
        conn.close()
        open_record(record).close()  # a backup of an older version is brought up to date
    except sqlite3.DatabaseError as error:
        raise UnusableInput(f"cannot restore from {source}: {error}") from error
    finally:
        copy.close()
    return former


def _sound(conn: sqlite3.Connection, path: Path) -> None:
    try:
        mine = conn.execute("PRAGMA application_id").fetchone()[0] == APPLICATION
        state = conn.execute("PRAGMA integrity_check").fetchone()[0]
    except sqlite3.DatabaseError as error:
        raise UnusableInput(f"{path} is no backup of a record: {error}") from error
    if not mine:
        raise UnusableInput(f"{path} is no backup of a record: it is a SQLite file of another program")
    if state != "ok":
        raise UnusableInput(f"{path} is damaged: {state}")
