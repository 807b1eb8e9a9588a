"""Migrations: named, recorded, each record brought up to date in one step or left as it was."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from saidspec.model import UnusableInput
from saidspec.record import place, schema
from saidspec.record.place import open_record
from saidspec.record.store import ingest
from tests.record_makers import all_rows, brakes

NEXT = ("ALTER TABLE vehicles ADD COLUMN colour TEXT", "CREATE TABLE tyres (id INTEGER PRIMARY KEY) STRICT")


@pytest.fixture
def old(tmp_path: Path) -> dict[str, list[tuple[object, ...]]]:
    conn = open_record(tmp_path / "r.db")
    ingest(conn, brakes())
    rows = all_rows(conn)
    conn.close()
    return rows


def a_second_migration(monkeypatch: pytest.MonkeyPatch, *statements: str) -> None:
    first = schema.statements

    def told(name: str) -> Iterator[str]:
        yield from statements if name == "002_next" else first(name)

    monkeypatch.setattr(schema, "statements", told)
    monkeypatch.setattr(schema, "NAMES", ("001_the_record", "002_next"))
    monkeypatch.setattr(place, "NAMES", ("001_the_record", "002_next"))


def test_an_older_record_is_brought_up_to_date_with_all_it_holds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, old: dict[str, list[tuple[object, ...]]],
) -> None:  # fmt: skip
    a_second_migration(monkeypatch, *NEXT)
    conn = open_record(tmp_path / "r.db")
    names = [row[0] for row in conn.execute("SELECT name FROM _sqlite_migrations ORDER BY id")]
    assert names == ["001_the_record", "002_next"]
    assert conn.execute("PRAGMA user_version").fetchone()[0] == 2
    assert conn.execute("SELECT colour FROM vehicles").fetchall() == []
    assert all_rows(conn)["facts"] == old["facts"]


def test_a_migration_that_fails_leaves_the_record_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, old: dict[str, list[tuple[object, ...]]],
) -> None:  # fmt: skip
    with monkeypatch.context() as patch:
        a_second_migration(patch, *NEXT, "CREATE TABLE tyres (id INTEGER PRIMARY KEY) STRICT")
        with pytest.raises(UnusableInput, match="table tyres already exists"):
            open_record(tmp_path / "r.db")
    conn = open_record(tmp_path / "r.db")
    assert all_rows(conn) == old
    assert conn.execute("SELECT count(*) FROM sqlite_master WHERE name = 'tyres'").fetchone()[0] == 0


def test_two_programs_that_make_the_record_at_once_make_one(tmp_path: Path) -> None:
    import threading

    barrier, failed = threading.Barrier(4), []

    def work() -> None:
        barrier.wait()
        try:
            open_record(tmp_path / "r.db").close()
        except Exception as error:
            failed.append(error)

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    names = sqlite3.connect(tmp_path / "r.db").execute("SELECT name FROM _sqlite_migrations").fetchall()
    assert names == [("001_the_record",)]


def test_a_general_tool_opens_the_record_and_finds_its_comments(tmp_path: Path) -> None:
    open_record(tmp_path / "r.db").close()
    plain = sqlite3.connect(tmp_path / "r.db")
    sql = plain.execute("SELECT sql FROM sqlite_master WHERE name = 'facts'").fetchone()[0]
    assert "-- when it was said" in sql
    assert plain.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
