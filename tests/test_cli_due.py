"""`saidspec due`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from icalendar import Calendar

from tests.report_cli import record_in, run


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return record_in(tmp_path_factory.mktemp("record"))


def test_what_is_due_depends_on_the_day(record: Path) -> None:
    told = {day: json.loads(run("due", "--record", record, "--today", day, "--format", "json"))
            for day in ("2026-05-04", "2026-10-01")}  # fmt: skip
    status = {day: {item["what"].split(",")[0]: item["status"] for item in due["items"]} for day, due in told.items()}
    assert status["2026-05-04"] == {"tighten wheel nut": "soon", "replace front brake hose": "later"}
    assert set(status["2026-10-01"].values()) == {"overdue"}


def test_the_method_and_spread_are_stated(record: Path) -> None:
    told = run("due", "--record", record, "--vehicle", "drover", "--today", "2026-05-04")
    assert "median of the rates between all 4 readings, range of 92% coverage" in told
    assert "estimated about 2026-05-05 (between 2026-05-04 and 2026-05-05)" in told


def test_a_calendar_is_written_beside_or_alone(record: Path, tmp_path: Path) -> None:
    file = tmp_path / "due.ics"
    assert run("due", "--record", record, "--today", "2026-05-04", "--calendar", file) == ""
    events = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    assert [str(event["summary"]).removeprefix("Hallam Drover: ") for event in events] == [
        "tighten wheel nut, 50 km after that job", "replace front brake hose, by 2026-09-01"]  # fmt: skip
    assert run("due", "--record", record, "--calendar", file, "--format", "json").startswith("{")


@pytest.mark.parametrize(("form", "before"), [("html", "<h2>"), ("markdown", "## ")])
def test_other_formats(record: Path, form: str, before: str) -> None:
    assert f"{before}Due within 30 days" in run("due", "--record", record, "--today", "2026-05-04", "--format", form)


def test_nothing_due_says_so(record: Path) -> None:
    assert "Nothing is due" in run("due", "--record", record, "--vehicle", "kite")
