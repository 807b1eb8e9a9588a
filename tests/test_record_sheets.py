"""Sheets, flags and agreements in the record: only what differs is written, and decisions outlive it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from saidspec.model import Agreement, Flag, Quantity, Specification, UnusableInput, Vehicle
from saidspec.record.decisions import decide_flag
from saidspec.record.place import open_record
from saidspec.record.queries import decisions
from saidspec.record.report_queries import flags
from saidspec.record.rows import specification_value
from saidspec.record.sheets import put_flags, put_sheet
from saidspec.record.store import ingest
from saidspec.record.vehicles import add_vehicle
from tests.record_makers import BRAKES, all_rows, brakes

BOLT = Specification("caliper slide pin bolt", "torque", "manual, sheet 4", Decimal("27.50"), unit="N*m",
                     tolerance=Decimal(10), tolerance_unit="%", replaces=("A", "B"), place="entry 1")  # fmt: skip
WEAR = Specification("brake pad", "measurement", "manual, sheet 5", Decimal(3), unit="mm", bound="min",
                     role="thickness", or_value=Decimal(2), or_unit="year", only="vented discs")  # fmt: skip


@pytest.fixture
def conn(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    record = open_record(tmp_path / "record.db")
    add_vehicle(record, Vehicle("Hallam Drover"))
    ingest(record, brakes(), place="/b.txt", vehicle=1)
    yield record
    assert record.execute("PRAGMA foreign_key_check").fetchall() == []
    record.close()


def sheet_of(conn: sqlite3.Connection) -> list[Specification]:
    return [specification_value(row) for row in conn.execute("SELECT * FROM specifications ORDER BY position")]


def flag(conn: sqlite3.Connection, said: int = 35, **changes: object) -> Flag:
    fact = conn.execute("SELECT id FROM facts WHERE quote = '35'").fetchone()[0]
    told = {"check": "differs", "severity": "wrong", "message": f"said {said}", "component": "caliper slide pin bolt",
            "kind": "torque", "fact": fact, "said": Quantity(Decimal(said), None, "N*m"),
            "reference": Quantity(Decimal("27.5"), None, "N*m", None, "manual, sheet 4")}  # fmt: skip
    return Flag(**{**told, **changes})  # type: ignore[arg-type]


def test_a_sheet_comes_back_as_it_was_and_again_touches_no_row(conn: sqlite3.Connection) -> None:
    put_sheet(conn, 1, [BOLT, WEAR], "/d.toml", "0" * 64)
    assert sheet_of(conn) == [BOLT, WEAR]
    before, changes = all_rows(conn), conn.total_changes
    put_sheet(conn, 1, [BOLT, WEAR], "/d.toml", "0" * 64)
    assert conn.total_changes == changes
    put_sheet(conn, 1, [WEAR], "/d.toml", "1" * 64)
    assert sheet_of(conn) == [WEAR]
    put_sheet(conn, 1, [BOLT, WEAR], "/d.toml", "0" * 64)
    assert all_rows(conn)["specifications"] == before["specifications"]
    found = conn.execute("SELECT rowid FROM specifications_fts WHERE specifications_fts MATCH 'slide'").fetchall()
    assert len(found) == 1


def test_flags_again_touch_no_row_and_keep_their_numbers(conn: sqlite3.Connection) -> None:
    missing = Flag("missing", "look", "no odometer was said", None, "odometer")
    agreed = Agreement("bracket bolt", "torque", 2, "bracket bolt, sheet 4", "same words")
    put_flags(conn, 1, [flag(conn), missing], [agreed])
    before, changes = all_rows(conn), conn.total_changes
    put_flags(conn, 1, [missing, flag(conn)], [agreed])
    assert conn.total_changes == changes
    assert all_rows(conn) == before
    put_flags(conn, 1, [flag(conn, severity="danger")])
    assert [tuple(row) for row in conn.execute("SELECT id, severity FROM flags")] == [(1, "danger")]
    assert conn.execute("SELECT count(*) FROM agreements").fetchone()[0] == 0


def test_two_flags_that_say_the_same_are_two(conn: sqlite3.Connection) -> None:
    put_flags(conn, 1, [flag(conn), flag(conn)])
    assert len(flags(conn, 1)) == 2


def test_a_decision_on_a_flag_outlives_ingest_and_a_new_comparison(conn: sqlite3.Connection) -> None:
    put_flags(conn, 1, [flag(conn)])
    decide_flag(conn, 1, "accepted", reason="aftermarket bolts", person="Wanda")
    ingest(conn, brakes("Evening.\n" + BRAKES), place="/b.txt")
    put_flags(conn, 1, [])
    assert [one.reason for one in decisions(conn)] == ["aftermarket bolts"]
    put_flags(conn, 1, [flag(conn)])
    (entry,) = flags(conn, 1)
    assert entry.accepted
    assert entry.decision
    assert (entry.decision.reason, entry.decision.who) == ("aftermarket bolts", "Wanda")


def test_a_flag_that_says_something_else_is_not_accepted_by_the_old_decision(conn: sqlite3.Connection) -> None:
    put_flags(conn, 1, [flag(conn)])
    decide_flag(conn, 1, "accepted", reason="aftermarket bolts")
    put_flags(conn, 1, [flag(conn, said=45)])
    assert [entry.accepted for entry in flags(conn, 1)] == [False]
    put_flags(conn, 1, [flag(conn, reference=Quantity(Decimal(20), None, "N*m"))])
    assert [entry.accepted for entry in flags(conn, 1)] == [False]


def test_a_newer_decision_counts_and_the_older_is_kept(conn: sqlite3.Connection) -> None:
    put_flags(conn, 1, [flag(conn)])
    decide_flag(conn, 1, "left", reason="ask on Monday")
    decide_flag(conn, 1, "accepted", reason="asked")
    assert [one.verdict for one in decisions(conn)] == ["accepted"]
    assert conn.execute("SELECT count(*) FROM decisions").fetchone()[0] == 2
    with pytest.raises(sqlite3.IntegrityError, match="decisions are kept"):
        conn.execute("DELETE FROM decisions")


def test_a_flag_is_accepted_only_with_a_reason(conn: sqlite3.Connection) -> None:
    put_flags(conn, 1, [flag(conn)])
    with pytest.raises(UnusableInput, match="only with a reason"):
        decide_flag(conn, 1, "accepted", reason=" ")
    assert decisions(conn) == []
