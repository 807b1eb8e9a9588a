"""`saidspec vehicle`: adding, naming, sheets."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.record_commands import Commands

SHEET = """[vehicle]
name = "Hallam Drover"
year = 2012
options = ["ventilated discs"]
odometer_unit = "km"

[[spec]]
component = "rear drain plug"
kind = "torque"
value = "31 N*m"
source = "workshop manual, axle, sheet 3"
"""


@pytest.fixture
def saidspec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Commands:
    return Commands(tmp_path / "record.db", monkeypatch, capsys)


def test_a_vehicle_comes_with_its_sheet(saidspec: Commands, tmp_path: Path) -> None:
    (tmp_path / "drover.toml").write_text(SHEET)
    assert saidspec.run("vehicle", "add", "--sheet", tmp_path / "drover.toml", "--also", "the van") == 0
    assert saidspec.out == "added: Hallam Drover\n"
    saidspec.run("vehicle", "show", "the van")
    assert saidspec.out.splitlines() == [
        "Hallam Drover (2012): the van",
        f"  0 notes, 0 jobs, 0 facts; no odometer reading; sheet {tmp_path / 'drover.toml'}, 1 value"]
    assert saidspec.run("find", "rear drain plug torque") == 0
    assert saidspec.out.splitlines()[1] == (
        "  rear drain plug, torque: 31 N·m (22.9 lbf·ft)  (Hallam Drover; workshop manual, axle, sheet 3)")
    (tmp_path / "drover.toml").write_text(SHEET.replace("31 N*m", "35 N*m"))
    assert saidspec.run("vehicle", "set", "the van", "--sheet", tmp_path / "drover.toml", "--volumes", "imperial") == 0
    saidspec.run("find", "rear drain plug torque", "--format", "json")
    assert [one["value"] for one in json.loads(saidspec.out)["reference"]] == [35]


def test_to_change_nothing_is_refused(saidspec: Commands) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    assert saidspec.run("vehicle", "set", "Hallam Drover") == 2
    assert saidspec.err.startswith("saidspec: what of Hallam Drover is to be changed? Give --also")


def test_names_are_kept_apart_and_old_ones_stay(saidspec: Commands) -> None:
    saidspec.run("vehicle", "list", "--record", saidspec.record)
    assert saidspec.status == 2
    saidspec.run("vehicle", "add", "Hallam Drover")
    assert saidspec.run("vehicle", "add", "hallam drover") == 2
    assert 'a vehicle is called "Hallam Drover" already' in saidspec.err
    assert saidspec.run("vehicle", "rename", "Hallam Drover", "Blue Drover") == 0
    assert saidspec.run("vehicle", "show", "hallam drover") == 0
    assert saidspec.out.startswith("Blue Drover: Hallam Drover\n")
    assert saidspec.run("vehicle", "rename", "Blue Drover", "Hallam Drover") == 0
    saidspec.run("vehicle", "list", "--format", "json")
    told = json.loads(saidspec.out)["vehicles"]
    assert [(one["name"], one["also"]) for one in told] == [("Hallam Drover", ["Blue Drover"])]


@pytest.mark.parametrize(("arguments", "says"), [
    (("vehicle", "add"), "which vehicle?"),
    (("vehicle", "add", "  "), "needs a name"),
    (("vehicle", "add", "X", "--odometer", "furlong"), "choose km, mi or hour"),
    (("vehicle", "add", "X", "--volumes", "roman"), "choose us or imperial"),
    (("vehicle", "add", "X", "--sheet", "none.toml"), "no such reference sheet"),
    (("vehicle", "assign", "7", "--to", "Hallam Drover"), "there is no note 7"),
])  # fmt: skip
def test_unusable_orders_are_answered_in_one_line(saidspec: Commands, arguments: tuple[str, ...], says: str) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    assert saidspec.run(*arguments) == 2
    assert says in saidspec.err
    assert saidspec.err.count("\n") == 1
    saidspec.run("vehicle", "list")
    assert saidspec.out.count("notes") == 1


def test_words_of_a_name_do_where_only_one_vehicle_has_them(saidspec: Commands, tmp_path: Path) -> None:
    for name in ("Hallam Drover", "Hallam Kite"):
        saidspec.run("vehicle", "add", name)
    (tmp_path / "note.txt").write_text("wheel nut at 110 newton metres\n")
    assert saidspec.run("ingest", tmp_path / "note.txt", "--vehicle", "drover") == 0
    assert "Hallam Drover" in saidspec.out
    for several in ("Hallam", "Drov", ""):
        assert saidspec.run("vehicle", "assign", "1", "--to", several) == 2
        assert "no vehicle is called" in saidspec.err


DAY = "# Hallam Drover\nwheel nut at 110 newton metres\n# Fenby rider\nblade bolt at 50 newton metres\n"


def test_a_note_on_several_vehicles_counts_for_each_and_has_jobs_of_their_own(
    saidspec: Commands, tmp_path: Path,
) -> None:  # fmt: skip
    (tmp_path / "day.md").write_text(DAY)
    saidspec.run("ingest", tmp_path / "day.md", "--date", "2026-05-09")
    for name in ("Hallam Drover", "Fenby rider"):
        saidspec.run("vehicle", "add", name)
    saidspec.run("vehicle", "list", "--format", "json")
    told = json.loads(saidspec.out)["vehicles"]
    assert [(one["notes"], one["jobs"]) for one in told] == [(1, 1), (1, 1)]
    saidspec.run("log", "--format", "json")
    jobs = {job["vehicle"]: job["title"] for job in json.loads(saidspec.out)["jobs"]}
    assert jobs == {"Fenby rider": "tractor", "Hallam Drover": "wheels"}
