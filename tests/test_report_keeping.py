"""Flags are those of the facts as they are: after ingest, corrections, assigning a note, and another sheet."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from saidspec.record.place import open_record
from saidspec.record.report_queries import flags
from saidspec.record.review_queries import note_of_fact
from saidspec.web.answers import answer_fact
from saidspec.web.server import _answered_fact
from tests.command_line import answered as run
from tests.command_line import shop_with, take

SHEET = """\
[vehicle]
name = "Hallam Drover"
odometer_unit = "km"

[[spec]]
component = "wheel nut"
kind = "torque"
value = "{value} N*m"
source = "handbook, page 88"
"""


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A record with one vehicle and its sheet, and a folder for its notes."""
    return shop_with(tmp_path, monkeypatch, SHEET.format(value=110))


def logged() -> list[dict[str, Any]]:
    """The flags that the log shows."""
    jobs = json.loads(run("log", "--format", "json")[1])["jobs"]
    return [flag for job in jobs for flag in job["flags"]]


def torque_of(name: str) -> int:
    entries = json.loads(run("find", "wheel nut torque", "--format", "json")[1])["answers"]
    return int(next(one["id"] for one in entries if one["note"] == name))


def test_what_is_ingested_is_compared(shop: Path) -> None:
    printed = take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n")
    assert "wheels.txt: 1 danger; `saidspec reconcile` shows them" in printed
    (flag,) = logged()
    assert flag["message"].startswith("wheel nut: said 140 N·m")
    assert "flagged" not in take(shop, "wheels.txt", "Wheel nuts 110 newton metres.\n")
    assert logged() == []


def test_ingest_tells_its_flags_as_json(shop: Path) -> None:
    (shop / "wheels.txt").write_text("Wheel nuts 140 newton metres.\n", "utf-8")
    _, printed = run("ingest", shop / "wheels.txt", "--vehicle", "Hallam Drover", "--format", "json")
    (note,) = json.loads(printed)["notes"]
    assert [flag["check"] for flag in note["flags"]] == ["differs"]


def test_a_correction_takes_its_flag_away_and_undoing_it_brings_it_back(shop: Path) -> None:
    take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n")
    fact = torque_of("wheels.txt")
    _, printed = run("decide", "correct", str(fact), "--value", "110")
    assert "no longer flagged: wheel nut: said 140 N·m" in printed
    assert logged() == []
    assert "now flagged: wheel nut: said 140 N·m" in run("decide", "undo", str(fact))[1]
    assert len(logged()) == 1
    run("decide", "reject", str(fact))
    assert logged() == []


def test_a_confirmation_changes_no_flag_and_says_nothing(shop: Path) -> None:
    take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n")
    assert "flagged" not in run("decide", "confirm", str(torque_of("wheels.txt")))[1]
    assert len(logged()) == 1


def test_an_answer_on_the_review_page_does_so_too(shop: Path) -> None:
    take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n")
    fact = torque_of("wheels.txt")
    conn = open_record(shop / "record.db")
    note = note_of_fact(conn, fact)
    assert note is not None
    _answered_fact(conn, note, fact, {"verdict": "corrected", "value": "110"}, "Ann")
    assert flags(conn, note=note) == []
    answer_fact(conn, fact, {"verdict": "undo"}, None)  # without the page nothing is compared
    assert flags(conn, note=note) == []


def test_what_other_notes_raised_stays_with_its_number_and_decision(shop: Path) -> None:
    take(shop, "one.txt", "Wheel nuts 140 newton metres.\n", "2026-01-03")
    conn = open_record(shop / "record.db")
    number = conn.execute("SELECT id FROM flags").fetchone()[0]
    run("decide", "accept", str(number), "--reason", "steel wheels")
    take(shop, "two.txt", "Wheel nuts 150 newton metres.\n")
    run("decide", "reject", str(torque_of("two.txt")))
    assert [row[0] for row in conn.execute("SELECT id FROM flags")] == [number]
    (flag,) = logged()
    assert flag["accepted"] is True


def test_another_sheet_is_compared_with_what_is_on_record(shop: Path) -> None:
    take(shop, "wheels.txt", "Wheel nuts 140 newton metres.\n")
    (shop / "drover.toml").write_text(SHEET.format(value=140), "utf-8")
    assert "flagged" not in run("vehicle", "set", "Hallam Drover", "--sheet", shop / "drover.toml")[1]
    assert logged() == []
    (shop / "drover.toml").write_text(SHEET.format(value=110), "utf-8")
    assert "flagged: 1 danger" in run("vehicle", "set", "Hallam Drover", "--sheet", shop / "drover.toml")[1]
    assert len(logged()) == 1


def test_a_note_is_compared_once_its_vehicle_is_told(shop: Path) -> None:
    (shop / "wheels.txt").write_text("Wheel nuts 140 newton metres.\n", "utf-8")
    run("ingest", shop / "wheels.txt")
    assert logged() == []
    assert "flagged: 1 danger" in run("vehicle", "assign", "1", "--to", "Hallam Drover")[1]
    assert len(logged()) == 1


def test_the_whole_record_and_one_note_give_the_same_flags(shop: Path) -> None:
    take(shop, "one.txt", "Odometer is 61877 kilometres. Wheel nuts 140 newton metres.\n", "2026-01-03")
    take(shop, "two.txt", "Odometer is 60000 kilometres. Front wheels off. Wheels back on.\n")
    conn = open_record(shop / "record.db")
    told = [tuple(row) for row in conn.execute("SELECT id, key, note, fact FROM flags ORDER BY id")]
    assert {row[2] for row in told} == {1, 2}
    run("reconcile")
    assert [tuple(row) for row in conn.execute("SELECT id, key, note, fact FROM flags ORDER BY id")] == told
