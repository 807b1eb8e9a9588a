"""`saidspec check`: its JSON, its exit status, its text, and what it says of unusable input."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from saidspec.cli.main import app
from saidspec.model import UnusableInput
from tests.command_line import answered

SHEET = """\
[vehicle]
name = "Hallam Drover"
odometer_unit = "km"

[[spec]]
component = "front caliper bracket bolt"
kind = "torque"
value = "107 N*m"
source = "workshop manual, brakes, sheet 12"

[[spec]]
component = "wheel nut"
kind = "torque"
value = "110 N*m"
source = "handbook, page 88"
"""
RIGHT = "Front brakes today. The caliper bracket bolts got 107 newton metres. Wheel nuts 110 newton metres.\n"
WRONG = RIGHT.replace("107 newton metres", "107 foot pounds")


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "drover.toml"
    path.write_text(SHEET, "utf-8")
    return path


def run(folder: Path, note: str, sheet: Path, *more: str) -> tuple[int, str]:
    path = folder / "note.txt"
    path.write_text(note, "utf-8")
    return answered("check", path, "--reference", sheet, "--date", "2026-05-03", *more)


def test_nothing_flagged_is_status_0(tmp_path: Path, sheet: Path) -> None:
    status, printed = run(tmp_path, RIGHT, sheet)
    assert status == 0
    assert "Nothing that was said disagrees with the sheet." in printed
    assert "Agrees with the sheet (2):" in printed


def test_something_flagged_is_status_1_with_the_words_and_the_cause(tmp_path: Path, sheet: Path) -> None:
    status, printed = run(tmp_path, WRONG, sheet)
    assert status == 1
    assert "DANGER differs: front caliper bracket bolt: said 107 lbf·ft (145 N·m)" in printed
    assert "the number is right in another unit (N·m)" in printed
    assert 'said: "107 foot pounds"' in printed


def test_json_has_the_contract_s_fields(tmp_path: Path, sheet: Path) -> None:
    status, printed = run(tmp_path, WRONG, sheet, "--format", "json")
    told = json.loads(printed)
    assert status == 1
    assert told["schema"] == "saidspec/flags-1"
    (flag,) = told["flags"]
    assert {name: flag[name] for name in ("check", "likely", "severity", "component", "kind")} == {
        "check": "differs", "likely": "unit", "severity": "danger", "component": "front caliper bracket bolt",
        "kind": "torque"}  # fmt: skip
    assert flag["said"] == {"value": 107, "value_high": None, "unit": "lbf*ft", "code": None}
    assert flag["reference"] == {"value": 107, "value_high": None, "unit": "N*m", "code": None,
                                 "source": "workshop manual, brakes, sheet 12"}
    assert isinstance(flag["fact"], int)
    assert [(one["component"], one["kind"]) for one in told["agreed"]] == [("wheel nut", "torque")]
    assert told["unmatched"] == []


def test_explain_tells_how_facts_were_matched(tmp_path: Path, sheet: Path) -> None:
    _, printed = run(tmp_path, RIGHT, sheet, "--explain")
    assert "How the facts were matched:" in printed
    assert "front caliper bracket bolt [entry 1, line 5" in printed


def test_a_broken_sheet_is_unusable_input(tmp_path: Path, sheet: Path) -> None:
    sheet.write_text(SHEET.replace("107 N*m", "107 N*n"), "utf-8")
    with pytest.raises(UnusableInput, match=r"entry 1, line 8: unknown unit 'N\*n'; did you mean N\*m\?"):
        run(tmp_path, RIGHT, sheet)


def test_an_unknown_format_is_unusable_input(tmp_path: Path, sheet: Path) -> None:
    with pytest.raises(UnusableInput, match='"yaml" is no format of check'):
        run(tmp_path, RIGHT, sheet, "--format", "yaml")


def test_a_note_from_standard_input(sheet: Path) -> None:
    done = CliRunner().invoke(app, ["check", "-", "--reference", str(sheet), "--date", "2026-05-03"], input=WRONG)
    assert done.exit_code == 1
    assert "DANGER differs: front caliper bracket bolt" in done.stdout


def test_cautions_are_shown_as_common_practice(tmp_path: Path, sheet: Path) -> None:
    _, printed = run(tmp_path, "Drained the engine oil. Poured in 4 litres of engine oil.\n", sheet)
    assert "Usual cautions (common practice; the maker's manual and local rules come first):" in printed
    assert "engine oil change: Look for leaks with the engine running" in printed
