"""`saidspec prep`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from saidspec.record.store import open_record
from saidspec.record.vehicles import add_vehicle
from tests.report_cli import record_in, refused, run
from tests.report_samples import VAN


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return record_in(tmp_path_factory.mktemp("record"))


def test_the_sheet_holds_values_marks_and_cautions(record: Path) -> None:
    told = run("prep", "front brakes", "--record", record, "--vehicle", "drover")
    assert "support the vehicle on stands" in told
    assert "wheel nut: 160 N·m (118 lbf·ft)\n" in told  # confirmed by a person
    assert "wheel nut: 21 mm tool UNCONFIRMED" in told
    assert "slide pin bolt or caliper bolt: NOT KNOWN" in told
    assert "brake fluid: needed 100 mL, on hand brake fluid DOT 4 0.9 L, to buy nothing" in told


def test_json_has_what_the_page_has(record: Path) -> None:
    told = json.loads(run("prep", "front brakes", "--record", record, "--vehicle", "drover", "--format", "json"))
    assert (told["last_day"], told["odometer"]) == ("2026-05-03", "94,200 km (58,533 mi)")
    assert [table["title"] for table in told["tables"]][:2] == ["Sizes", "Torques, in order of need"]
    assert told["unconfirmed"] > 0


@pytest.mark.parametrize("form", ["html", "markdown"])
def test_a_page_to_print(record: Path, form: str) -> None:
    told = run("prep", "front brakes", "--record", record, "--vehicle", "drover", "--format", form)
    assert "Preparation: front brakes" in told
    assert "160 N·m (118 lbf·ft)" in told


def test_a_job_that_nothing_is_known_of_says_so(record: Path) -> None:
    told = run("prep", "tow bar", "--record", record, "--vehicle", "kite")
    assert "Neither the record nor the sheet has anything about tow bar" in told


def test_an_unknown_vehicle_is_a_question(record: Path) -> None:
    assert "name one of" in refused("prep", "front brakes", "--record", record, "--vehicle", "lorry")


def test_without_a_vehicle_the_only_one_is_meant_and_of_several_one_is_asked(record: Path, tmp_path: Path) -> None:
    line = refused("prep", "front brakes", "--record", record)
    assert line == "which vehicle? Name one with --vehicle: Hallam Drover, Penrose Kite 400"
    alone = tmp_path / "alone.db"
    conn = open_record(alone)
    assert "add one with" in refused("prep", "front brakes", "--record", alone)
    add_vehicle(conn, VAN)
    assert "Hallam Drover, never done on this record" in run("prep", "front brakes", "--record", alone)
