"""`saidspec ingest`: files, folders, standard input; what it says, and its exit status."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path

import pytest

from tests.record_commands import Commands


@pytest.fixture
def saidspec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Commands:
    return Commands(tmp_path / "record.db", monkeypatch, capsys)


@pytest.fixture
def notes(tmp_path: Path) -> Path:
    folder = tmp_path / "notes"
    (folder / "deep").mkdir(parents=True)
    (folder / "brakes.txt").write_text("Hallam Drover today, odometer 94200.\nbracket bolt at 107 newton metres.\n")
    (folder / "deep" / "oil.txt").write_text("On the Marlow Tipper now.\ndrain plug at 31 newton metres.\n")
    (folder / "sheet.toml").write_text('[vehicle]\nname = "Hallam Drover"\n')
    (folder / ".hidden.txt").write_text("drain plug at 99 newton metres\n")
    return folder


def values(saidspec: Commands, sql: str) -> list[object]:
    return [row[0] for row in sqlite3.connect(saidspec.record).execute(sql)]


def test_a_folder_is_ingested_and_again_without_change(saidspec: Commands, notes: Path) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    saidspec.run("vehicle", "add", "Marlow Tipper")
    assert saidspec.run("ingest", notes, "--date", "2026-05-03") == 0
    assert saidspec.out.splitlines() == [
        f"{notes}/brakes.txt: new, 2 facts, Hallam Drover, 2026-05-03",
        f"{notes}/deep/oil.txt: new, 1 fact, Marlow Tipper, 2026-05-03",
        "2 files: 2 new; 3 facts"]
    assert saidspec.err == ""
    assert saidspec.run("ingest", notes, "--date", "2026-05-03") == 0
    assert saidspec.out.splitlines()[-1] == "2 files: 2 unchanged; 3 facts"
    assert values(saidspec, "SELECT odometer FROM jobs WHERE vehicle = 1") == ["94200"]


def test_a_day_once_given_stays(saidspec: Commands, notes: Path) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    saidspec.run("ingest", notes / "brakes.txt", "--date", "2026-05-03")
    saidspec.run("ingest", notes / "brakes.txt")
    assert saidspec.out == f"{notes}/brakes.txt: unchanged, 2 facts, Hallam Drover, 2026-05-03\n"
    with (notes / "brakes.txt").open("a") as file:
        file.write("wheel nut at 110 newton metres\n")
    saidspec.run("ingest", notes / "brakes.txt")
    assert saidspec.out == f"{notes}/brakes.txt: changed, 3 facts, Hallam Drover, 2026-05-03\n"
    saidspec.run("ingest", notes / "brakes.txt", "--date", "2026-05-04")
    assert values(saidspec, "SELECT DISTINCT day FROM facts") == ["2026-05-04"]


def test_standard_input_with_a_given_vehicle(saidspec: Commands) -> None:
    saidspec.run("vehicle", "add", "Marlow Tipper", "--also", "the tipper")
    assert saidspec.run("ingest", "-", "--vehicle", "The  Tipper", given=b"wheel nut at 150 newton metres\n") == 0
    assert saidspec.out == "-: new, 1 fact, Marlow Tipper, day not known: give it with --date\n"


def test_bad_files_are_named_and_the_others_ingested(saidspec: Commands, notes: Path) -> None:
    (notes / "empty.txt").write_text("")
    (notes / "photo.txt").write_bytes(bytes(range(256)) * 20)
    saidspec.run("vehicle", "add", "Hallam Drover")
    saidspec.run("vehicle", "add", "Marlow Tipper")
    assert saidspec.run("ingest", notes, notes / "missing.txt") == 2
    lines = saidspec.err.splitlines()
    assert len(lines) == 3
    assert all(line.startswith("saidspec: ") for line in lines)
    for name in ("empty.txt", "photo.txt", "missing.txt"):
        assert sum(name in line for line in lines) == 1
    assert saidspec.out.splitlines()[-1] == "5 files: 2 new, 3 not read; 3 facts"


def test_an_unknown_vehicle_is_asked_and_nothing_is_lost(saidspec: Commands, notes: Path) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    assert saidspec.run("ingest", notes) == 2
    assert saidspec.err == (f"saidspec: which vehicle is {notes}/deep/oil.txt about? "
                            "Tell it with: saidspec vehicle assign 2 --to VEHICLE\n")  # fmt: skip
    assert "deep/oil.txt: new, 1 fact, vehicle not known" in saidspec.out
    saidspec.run("vehicle", "unknown")
    assert saidspec.out == "note 2: oil.txt, day not known, 1 fact: On the Marlow Tipper now.\n"
    saidspec.run("vehicle", "add", "Orrell Carrier")
    saidspec.run("vehicle", "assign", "2", "--to", "Orrell Carrier")
    assert saidspec.out == "note 2: 1 fact now of Orrell Carrier\n"
    assert saidspec.run("ingest", notes) == 0
    assert values(saidspec, "SELECT count(*) FROM facts WHERE vehicle IS NULL") == [0]


def test_a_vehicle_added_later_gets_the_notes_that_name_it(saidspec: Commands, notes: Path) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    saidspec.run("ingest", notes)
    saidspec.run("vehicle", "add", "Marlow Tipper")
    assert saidspec.out == "added: Marlow Tipper; notes that name it were placed: 2\n"
    assert values(saidspec, "SELECT vehicle FROM facts WHERE component = 'drain plug'") == [2]
    before = values(saidspec, "SELECT total(id) FROM jobs")
    assert saidspec.run("ingest", notes) == 0
    assert saidspec.out.splitlines()[-1] == "2 files: 2 unchanged; 3 facts"
    assert values(saidspec, "SELECT total(id) FROM jobs") == before


def test_a_note_that_names_two_vehicles_is_asked_about(saidspec: Commands, tmp_path: Path) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    saidspec.run("vehicle", "add", "Marlow Tipper")
    (tmp_path / "two.txt").write_text("drain plug at 31 newton metres on the Hallam Drover, as on the Marlow Tipper.")
    assert saidspec.run("ingest", tmp_path / "two.txt") == 2
    assert "(it names Hallam Drover, Marlow Tipper)" in saidspec.err
    assert values(saidspec, "SELECT vehicle FROM facts") == [None]


def test_headings_part_a_note_between_vehicles(saidspec: Commands, tmp_path: Path) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    saidspec.run("vehicle", "add", "Marlow Tipper")
    (tmp_path / "day.md").write_text(
        "# Hallam Drover\n\n## Front brakes\n\nbracket bolt at 107 newton metres\n\n"
        "# Marlow Tipper\n\nwheel nut at 150 newton metres\n\n# Shed\n\nvice bolt at 20 newton metres\n")
    assert saidspec.run("ingest", tmp_path / "day.md") == 2
    assert "which vehicle is parts of" in saidspec.err
    conn = sqlite3.connect(saidspec.record)
    assert conn.execute("SELECT component, vehicle FROM facts ORDER BY start").fetchall() == [
        ("bracket bolt", 1), ("wheel nut", 2), ("vice bolt", None)]


def test_json_tells_what_became_of_each_note(saidspec: Commands, notes: Path) -> None:
    saidspec.run("vehicle", "add", "Hallam Drover")
    saidspec.run("ingest", notes, notes / "missing.txt", "--format", "json")
    told = json.loads(saidspec.out)
    assert told["schema"] == "saidspec/ingested-1"
    assert [(note["outcome"], note["facts"]) for note in told["notes"][:2]] == [("new", 2), ("new", 1)]
    assert [note["vehicle_unknown"] for note in told["notes"][:2]] == [0, 2]
    assert "missing.txt" in told["notes"][2]["error"]


def test_unusable_orders_are_answered_in_one_line(saidspec: Commands, notes: Path, tmp_path: Path) -> None:
    assert saidspec.run("ingest", notes, "--vehicle", "Hallam Rover") == 2
    assert saidspec.err.count("\n") == 1
    assert 'no vehicle is called "Hallam Rover"' in saidspec.err
    (tmp_path / "void").mkdir()
    assert saidspec.run("ingest", tmp_path / "void") == 2
    assert "there are no notes in" in saidspec.err
    assert saidspec.run("ingest", notes, "--record", tmp_path) == 2
    assert "is a folder" in saidspec.err
    assert saidspec.run("ingest", notes, "--date", "yesterday") == 2


def test_a_problem_is_told_once_with_its_place(saidspec: Commands, tmp_path: Path) -> None:
    chat = tmp_path / "chat.txt"
    chat.write_text("02/03/2024, 09:41 - Edda: rear drain plug at 31 newton metres\n")
    saidspec.run("ingest", chat)
    assert saidspec.out.count("line 1:") == 1
    assert "  line 1: 02/03/2024 can be day or month first" in saidspec.out
    saidspec.run("ingest", chat)
    assert "line 1:" not in saidspec.out
