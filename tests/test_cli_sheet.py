"""`saidspec sheet`: started from quotes, checked, and held against its use."""

from __future__ import annotations

from pathlib import Path

import pytest

from saidspec.model import UnusableInput
from saidspec.reference.sheets import load_sheet
from tests.command_line import answered as run

NOTE = "Front brakes. Book says 107 newton metres for the caliper bracket bolts. Wheel nuts 110 newton metres.\n"
SHEET = """\
[vehicle]
name = "Hallam Drover"

[[spec]]
component = "wheel nut"
kind = "torque"
value = "110 N*m"
source = "handbook, page 88"

[[spec]]
component = "rear hub nut"
kind = "torque"
value = "240 N*m"
source = "manual, axles"
"""


@pytest.fixture
def note(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SAIDSPEC_RECORD", str(tmp_path / "record.db"))
    monkeypatch.delenv("SAIDSPEC_VEHICLE", raising=False)
    path = tmp_path / "brakes.txt"
    path.write_text(NOTE, "utf-8")
    return path


def test_start_writes_what_a_note_quoted_for_the_user_to_confirm(note: Path) -> None:
    out = note.with_name("drover.toml")
    status, printed = run("sheet", "start", str(note), "--vehicle", "Hallam Drover", "--out", str(out))
    assert (status, printed) == (0, f"{out}: 1 entries to confirm\n")
    (spec,) = load_sheet(out).specifications
    assert spec.component.endswith("caliper bracket bolt")
    assert (spec.value, spec.unit) == (107, "N*m")
    assert spec.source.startswith("TO CONFIRM: brakes.txt has ")
    status, printed = run("sheet", "validate", str(out))
    assert status == 0
    assert "still to confirm: entry 1" in printed
    with pytest.raises(UnusableInput, match="is there already"):
        run("sheet", "start", str(note), "--out", str(out))


def test_start_from_the_record(note: Path) -> None:
    sheet = note.with_name("sheet.toml")
    sheet.write_text(SHEET, "utf-8")
    run("vehicle", "add", "Hallam Drover", "--sheet", str(sheet))
    run("ingest", str(note), "--vehicle", "Hallam Drover", "--date", "2026-05-03")
    status, printed = run("sheet", "start", "--vehicle", "Hallam Drover")
    assert status == 0
    assert 'name = "Hallam Drover"' in printed
    assert 'value = "107 N*m"' in printed


def test_start_needs_something_to_start_from(note: Path) -> None:
    with pytest.raises(UnusableInput, match="nothing to start from"):
        run("sheet", "start")
    note.write_text("Had a look at the brakes.\n", "utf-8")
    with pytest.raises(UnusableInput, match="no value with a part is quoted there"):
        run("sheet", "start", str(note))


def test_validate_lists_every_problem_and_ends_with_status_2(note: Path) -> None:
    sheet = note.with_name("sheet.toml")
    sheet.write_text(SHEET.replace("110 N*m", "110 N*n").replace('"torque"', '"torqe"', 2), "utf-8")
    status, printed = run("sheet", "validate", str(sheet))
    assert status == 2
    assert printed.count("unknown kind 'torqe'; did you mean torque?") == 2
    sheet.write_text(SHEET.replace("110 N*m", "110 N*n") + 'only = "alloy wheels"\n', "utf-8")
    status, printed = run("sheet", "validate", str(sheet))
    assert "entry 1, line 7: unknown unit 'N*n'; did you mean N*m?" in printed
    assert 'holds for another variant: only = "alloy wheels"' in printed


def test_validate_checks_the_header_of_a_spreadsheet(note: Path) -> None:
    sheet = note.with_suffix(".csv")
    sheet.write_text("componet,kind,value,source\nwheel nut,torque,110 N*m,handbook\n", "utf-8")
    status, printed = run("sheet", "validate", str(sheet))
    assert status == 2
    assert "line 1: unknown column 'componet'; did you mean component?" in printed


def test_unused_lists_entries_and_facts_that_do_not_meet(note: Path) -> None:
    sheet = note.with_name("sheet.toml")
    sheet.write_text(SHEET, "utf-8")
    run("vehicle", "add", "Hallam Drover", "--sheet", str(sheet))
    run("ingest", str(note), "--vehicle", "Hallam Drover", "--date", "2026-05-03")
    status, printed = run("sheet", "unused", "--vehicle", "Hallam Drover")
    assert status == 0
    assert "1 entries never used" in printed
    assert "rear hub nut, torque (manual, axles)" in printed
    assert "caliper bracket bolt: torque 107 N·m" in printed
