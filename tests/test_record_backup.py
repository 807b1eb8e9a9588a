"""Backup and restore of a record while it is in use."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path

import pytest

from saidspec.model import UnusableInput, Vehicle
from saidspec.record.backup import back_up, restore
from saidspec.record.place import open_record, open_to_read
from saidspec.record.store import ingest
from saidspec.record.vehicles import add_vehicle
from tests.record_makers import BRAKES, all_rows, brakes


def test_a_backup_taken_while_notes_come_in_is_whole(tmp_path: Path) -> None:
    open_record(tmp_path / "r.db").close()
    stop = threading.Event()

    def write() -> None:
        conn = open_record(tmp_path / "r.db")
        at = 0
        while not stop.is_set():
            ingest(conn, brakes(f"Note {at}.\n{BRAKES}"))
            at += 1
        conn.close()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        for at in range(5):
            back_up(open_to_read(tmp_path / "r.db"), tmp_path / f"copy{at}.db")
    finally:
        stop.set()
        writer.join()
    for at in range(5):
        copy = sqlite3.connect(tmp_path / f"copy{at}.db")
        assert copy.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        assert copy.execute("SELECT count(*) FROM notes WHERE id NOT IN (SELECT note FROM facts GROUP BY note HAVING"
                            " count(*) = 8)").fetchone()[0] == 0  # fmt: skip
        copy.close()
    assert [path.name for path in tmp_path.glob("copy*")] == [path.name for path in tmp_path.glob("copy?.db")]


def test_restore_puts_the_record_back_and_keeps_the_former_one(tmp_path: Path) -> None:
    conn = open_record(tmp_path / "r.db")
    ingest(conn, brakes())
    back_up(conn, tmp_path / "copy.db")
    then = all_rows(conn)
    add_vehicle(conn, Vehicle("Marlow Tipper"))
    now = all_rows(conn)
    reader = open_to_read(tmp_path / "r.db")
    former = restore(tmp_path / "r.db", tmp_path / "copy.db")
    assert all_rows(reader) == then  # a reader that was open all along
    assert former
    assert all_rows(open_record(former)) == now
    again = open_record(tmp_path / "r.db")
    assert again.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
    assert ingest(again, brakes()).outcome == "unchanged"


def test_restore_where_there_is_no_record_yet(tmp_path: Path) -> None:
    conn = open_record(tmp_path / "r.db")
    ingest(conn, brakes())
    back_up(conn, tmp_path / "copy.db")
    assert restore(tmp_path / "new" / "r.db", tmp_path / "copy.db") is None
    assert all_rows(open_record(tmp_path / "new" / "r.db")) == all_rows(conn)


def test_what_cannot_be_done_is_said_and_leaves_everything_as_it_was(tmp_path: Path) -> None:
    conn = open_record(tmp_path / "r.db")
    ingest(conn, brakes())
    before = all_rows(conn)
    back_up(conn, tmp_path / "copy.db")
    with pytest.raises(UnusableInput, match="is there already"):
        back_up(conn, tmp_path / "copy.db")
    back_up(conn, tmp_path / "copy.db", replace=True)
    with pytest.raises(UnusableInput, match="cannot write the backup"):
        back_up(conn, tmp_path / "no" / "such" / "copy.db")
    (tmp_path / "letter.db").write_text("Dear all. " * 200)
    with pytest.raises(UnusableInput, match="is no backup"):
        restore(tmp_path / "r.db", tmp_path / "letter.db")
    data = bytearray((tmp_path / "copy.db").read_bytes())
    data[8192:20000] = b"\xff" * (20000 - 8192)
    (tmp_path / "bad.db").write_bytes(data)
    with pytest.raises(UnusableInput, match=r"damaged|no backup"):
        restore(tmp_path / "r.db", tmp_path / "bad.db")
    with pytest.raises(UnusableInput, match="there is no backup"):
        restore(tmp_path / "r.db", tmp_path / "none.db")
    assert all_rows(conn) == before
