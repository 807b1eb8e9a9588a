"""`saidspec due`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from icalendar import Calendar

from tests.command_line import answered
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

SHEET = """\
[vehicle]
name = "Hallam Drover"
odometer_unit = "km"

[[spec]]
component = "chain"
kind = "interval"
value = "500 km"
source = "handbook, page 10"

[[spec]]
component = "fork oil"
kind = "interval"
value = "24 month"
source = "handbook, page 11"
"""
FIRST = ("Odometer 50,100 km. Front wheels off today, wheel nuts done up to 140 newton metres. "
         "I will check the torque on Saturday. Keep an eye on the left drop link boot.")  # fmt: skip
LATER = ("Odometer 50,300 km. Went round the wheel nuts again, all good. "
         "Chain slack was 45 mm so I cleaned and adjusted the chain. "
         "Drained the fork oil and put 485 ml of fresh oil in each leg. "
         "Looked at the left drop link boot, no worse.")  # fmt: skip


def test_a_later_note_settles_and_renews_in_its_own_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SAIDSPEC_RECORD", str(tmp_path / "record.db"))
    (tmp_path / "drover.toml").write_text(SHEET, "utf-8")
    answered("vehicle", "add", "--sheet", tmp_path / "drover.toml")
    for name, text, day in (("one.txt", FIRST, "2026-05-06"), ("two.txt", LATER, "2026-05-20")):
        (tmp_path / name).write_text(text, "utf-8")
        answered("ingest", tmp_path / name, "--vehicle", "Hallam Drover", "--date", day)
    items = json.loads(run("due", "--today", "2026-05-21", "--format", "json"))["items"]
    told = {item["what"].split(",")[0].split(":")[0]: (item["status"], item["last"] and item["last"]["day"])
            for item in items}  # fmt: skip
    assert told == {
        "chain": ("soon", "2026-05-20"), "fork oil": ("later", "2026-05-20"),
        "inspect front wheel nut": ("looks done", None), "inspect left drop link boot": ("looks done", None),
    }  # fmt: skip
