"""The SQL of the reports, on a record in a file."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from saidspec.model import UnusableInput
from saidspec.record import report_queries as queries
from saidspec.record.rows import insert, specification_row
from saidspec.record.store import ingest
from saidspec.report.log import log
from tests.report_samples import BIKE, VAN, reading, workshop


@pytest.fixture
def conn(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    made = workshop(tmp_path / "record.db")
    yield made
    made.close()


def test_vehicles_are_found_by_a_part_of_their_name(conn: sqlite3.Connection) -> None:
    assert [one.name for one in queries.vehicles(conn)] == [VAN.name, BIKE.name]
    found = queries.vehicle_named(conn, "DROVER")
    assert (found.name, found.vehicle.options, found.vehicle.odometer_unit) == (VAN.name, VAN.options, "km")


@pytest.mark.parametrize(("name", "says"), [("lorry", "is no vehicle"), ("e", "fits several")])
def test_an_unclear_vehicle_is_a_question(conn: sqlite3.Connection, name: str, says: str) -> None:
    with pytest.raises(UnusableInput, match=f"{says}.*{VAN.name}, {BIKE.name}"):
        queries.vehicle_named(conn, name)


def test_jobs_hold_everything_once(conn: sqlite3.Connection) -> None:
    told = queries.jobs(conn)
    ids = [entry.fact.id for job in told for entry in job.entries]
    assert sorted(ids) == [row[0] for row in conn.execute("SELECT id FROM facts ORDER BY id")]
    assert [(job.day, job.odometer) for job in told][-1] == (date(2026, 5, 3), Decimal(94200))
    assert [number.quote for job in told for _, number in job.unclaimed] == ["7"]


def test_jobs_of_some_days(conn: sqlite3.Connection) -> None:
    told = queries.jobs(conn, 1, since=date(2024, 1, 1), until=date(2025, 12, 31))
    assert [job.day for job in told] == [date(2024, 5, 2), date(2025, 5, 11)]
    assert queries.jobs(conn, 2) == []


def test_a_correction_stands_and_what_was_heard_is_kept(conn: sqlite3.Connection) -> None:
    entries = {entry.fact.provenance.quote: entry for entry in queries.entries(conn, 1, ("torque",))}
    fixed = entries["170 newton metres"]
    assert (fixed.fact.value, fixed.heard and fixed.heard.value) == (Decimal(107), Decimal(170))
    assert fixed.decision is not None
    assert (fixed.decision.who, fixed.decision.reason) == ("Ann", "wrench says 107")
    assert entries["160 newton metres"].reviewed
    assert entries["107 newton metres"].decision is None


def test_an_entry_knows_the_utterance_it_is_from(conn: sqlite3.Connection) -> None:
    for entry in queries.entries(conn, 1):
        at = entry.fact.provenance.start - entry.context_start
        assert entry.context[at : at + len(entry.fact.provenance.quote)] == entry.fact.provenance.quote


@pytest.mark.parametrize(("names", "quotes"), [
    (["brake fluid"], ["100 mil", "DOT 4", "1 litre"]), (["KD-3318-F"], ["KD dash 3318 dash F"]),
    (["DOT 4"], ["100 mil", "DOT 4", "1 litre"]), (["blue thread locker", "nothing"], ["blue thread locker"]),
    ([], []), (["", '"; DROP'], []), (["wheel nut"], []),
])  # fmt: skip
def test_the_shelf_is_asked_by_name_grade_or_number(
    conn: sqlite3.Connection, names: list[str], quotes: list[str],
) -> None:  # fmt: skip
    assert [entry.fact.provenance.quote for entry in queries.shelf_entries(conn, names)] == quotes


def test_flags_are_put_with_the_job_of_their_fact(conn: sqlite3.Connection) -> None:
    fact = conn.execute("SELECT id, note FROM facts WHERE quote = '170 newton metres'").fetchone()
    said = json.dumps({"value": "170", "unit": "N*m"})
    insert(conn, "flags", {"key": "a", "vehicle": 1, "note": fact["note"], "fact": fact["id"], "check": "differs",
                           "severity": "danger", "message": "differs", "kind": "torque", "said": said})  # fmt: skip
    insert(conn, "flags", {"key": "b", "vehicle": 1, "check": "overdue", "severity": "look", "message": "overdue",
                           "kind": "interval"})  # fmt: skip
    told = queries.jobs(conn, 1)
    assert [[flag.flag.message for flag in job.flags] for job in told] == [[], [], [], ["differs", "overdue"]]
    assert told[-1].flags[0].flag.said.value == Decimal(170)


def test_a_note_without_facts_keeps_its_numbers(conn: sqlite3.Connection) -> None:
    odd = reading("odd.txt", "2026-05-09", [("forty seven of something", [])], loose=("forty seven",))
    ingest(conn, odd, vehicle=1)
    made = log(queries.jobs(conn, 1), "Log", date(2026, 6, 1))
    assert [one.quote for one in made.jobs[-1].leftovers] == ["forty seven"]
    assert made.jobs[-1].notes == ("odd.txt",)


def test_a_number_of_a_note_on_two_vehicles_is_in_the_log_of_its_own(conn: sqlite3.Connection) -> None:
    lines = [("van at 90 and 33", [("torque", "90", {"value": "90"})]),
             ("bike at 20", [("torque", "20", {"value": "20"})]), ("and 44", [])]  # fmt: skip
    note = ingest(conn, reading("both.txt", "2026-05-09", lines, loose=("33", "44"))).note
    for position, vehicle in enumerate((1, 2, 2)):
        conn.execute("UPDATE utterances SET vehicle = ? WHERE note = ? AND position = ?", (vehicle, note, position))
    conn.execute("UPDATE facts SET vehicle = 1 WHERE note = ? AND quote = '90'", (note,))
    conn.execute("UPDATE facts SET vehicle = 2 WHERE note = ? AND quote = '20'", (note,))
    told = {vehicle: [number.quote for job in queries.jobs(conn, vehicle) for name, number in job.unclaimed
                      if name == "both.txt"] for vehicle in (1, 2, None)}  # fmt: skip
    assert told == {1: ["33"], 2: ["44"], None: ["33", "44"]}


def test_a_note_of_no_known_vehicle_is_in_the_log_of_all(conn: sqlite3.Connection) -> None:
    ingest(conn, reading("whose.txt", "2026-05-09", [("nuts at 90", [("torque", "90", {"value": "90"})])]))
    assert queries.jobs(conn)[-1].vehicle == queries.UNKNOWN
    assert all(job.vehicle == VAN.name for job in queries.jobs(conn, 1))


def test_specifications_of_another_variant_are_left_out(conn: sqlite3.Connection) -> None:
    from saidspec.model import Specification

    sheet = insert(conn, "sheets", {"vehicle": 1, "path": "van.toml", "sha256": "0"})
    base = Specification("brake disc", "measurement", "manual", Decimal(24), unit="mm", bound="min")
    for at, only in enumerate((None, "ventilated discs", "solid discs")):
        row = specification_row(at, replace(base, only=only))
        insert(conn, "specifications", {"sheet": sheet, "vehicle": 1, **row})
    told = queries.specifications(conn, queries.vehicle_named(conn, VAN.name))
    assert [spec.only for spec in told] == [None, "ventilated discs"]


def test_reports_write_nothing(conn: sqlite3.Connection) -> None:
    before = conn.total_changes
    queries.jobs(conn)
    queries.flags(conn)
    list(queries.due_lists(conn, None))
    assert conn.total_changes == before
