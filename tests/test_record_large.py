"""A generated record: the same for the same seed, and its queries are answered from indices, however large it is."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

import pytest

from saidspec.record.find import find
from saidspec.record.place import open_record
from saidspec.record.queries import expression
from tests.benchmarks import record_generator as generator
from tests.record_makers import all_rows


@pytest.fixture(scope="module")
def conn(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    record = open_record(tmp_path_factory.mktemp("large") / "record.db")
    generator.fill(record, 2000, 8)
    yield record
    record.close()


def test_the_same_seed_gives_the_same_record(conn: sqlite3.Connection) -> None:
    again = open_record(":memory:")
    generator.fill(again, 2000, 8, batch=7)
    both = [all_rows(one) for one in (conn, again)]
    for rows in both:
        rows.pop("_sqlite_migrations")
    assert both[0] == both[1]
    assert len(both[0]["facts"]) == 2000
    text = dict(conn.execute("SELECT note, text FROM readings").fetchall())
    for row in conn.execute("SELECT * FROM facts"):
        assert text[row["note"]][row["start"] : row["end"]] == row["quote"]


def test_find_answers_from_the_vehicle_asked(conn: sqlite3.Connection) -> None:
    told = find(conn, "drain plug torque", vehicle=3)
    assert {entry.vehicle for entry in told.answers} == {"Tarn Drover 2"}
    assert {entry.fact.kind for entry in told.answers} == {"torque"}


@pytest.mark.parametrize("sql", [
    "SELECT * FROM facts_now WHERE vehicle = 3 AND kind = 'torque'",
    "SELECT * FROM facts_now WHERE vehicle = 3",
    "SELECT * FROM facts_now WHERE note = 3",
    "SELECT * FROM facts WHERE job = 3",
    "SELECT * FROM utterances WHERE note = 3",
    "SELECT * FROM notes WHERE sha256 = 'x'",
    "SELECT note FROM places WHERE place = 'x'",
    "SELECT * FROM decisions WHERE note = 3",
    "SELECT * FROM flags WHERE vehicle = 3",
    "SELECT id FROM jobs WHERE coalesce(vehicle, 0) = 1 AND coalesce(day, '') = 'x' AND system = 'y'"
    " AND coalesce(note, 0) = 0",
    "SELECT value FROM facts WHERE vehicle = 1 AND day = 'x' AND kind = 'odometer' AND assertion = 'stated'",
    "SELECT note FROM readings WHERE sha256 = 'x'",
])  # fmt: skip
def test_no_query_of_ingest_or_reports_reads_a_whole_table(conn: sqlite3.Connection, sql: str) -> None:
    plan = [row["detail"] for row in conn.execute(f"EXPLAIN QUERY PLAN {sql}")]
    assert plan
    assert not [step for step in plan if step.startswith("SCAN")]


def test_full_text_hits_come_newest_first_without_sorting(conn: sqlite3.Connection) -> None:
    match = expression([["plug"]], 3, "torque")
    plan = [row["detail"] for row in conn.execute(
        "EXPLAIN QUERY PLAN SELECT rowid FROM facts_fts WHERE facts_fts MATCH ? ORDER BY rowid DESC LIMIT 9", (match,))]
    assert "USE TEMP B-TREE FOR ORDER BY" not in plan
