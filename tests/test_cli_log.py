"""`saidspec log`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.report_cli import record_in, refused, run


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return record_in(tmp_path_factory.mktemp("record"))


def test_the_log_is_readable_in_a_terminal(record: Path) -> None:
    told = run("log", "--record", record, "--vehicle", "drover")
    assert "== 3 May 2026: brakes ==" in told
    assert "wheel nut: 160 N·m (118 lbf·ft) [confirmed by Ann" in told
    assert '"160 newton metres" (at 1:15, fact ' in told


def test_days_choose_jobs(record: Path) -> None:
    days = ("--since", "2024-01-01", "--until", "2025-12-31")
    told = json.loads(run("log", "--record", record, *days, "--format", "json"))
    assert [job["day"] for job in told["jobs"]] == ["2024-05-02", "2025-05-11"]


@pytest.mark.parametrize(("form", "before"), [("html", "<h1>"), ("markdown", "# ")])
def test_a_log_goes_to_a_file(record: Path, tmp_path: Path, form: str, before: str) -> None:
    out = tmp_path / "log"
    assert run("log", "--record", record, "--vehicle", "drover", "--format", form, "-o", out) == ""
    assert f"{before}Log of Hallam Drover" in out.read_text("utf-8")


def test_a_vehicle_without_jobs_has_an_empty_log(record: Path) -> None:
    assert "No job is on record" in run("log", "--record", record, "--vehicle", "kite")


def test_what_cannot_be_done_says_what_to_do(record: Path, tmp_path: Path) -> None:
    assert "name one of Hallam Drover, Penrose Kite 400" in refused("log", "--record", record, "--vehicle", "lorry")
    assert "ingest" in refused("log", "--record", tmp_path / "none.db")
    assert "name another file" in refused("log", "--record", record, "-o", tmp_path / "no" / "such" / "folder")


def test_the_record_is_found_by_its_variable(record: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SAIDSPEC_RECORD", str(record))
    assert "3 May 2026" in run("log")


@pytest.mark.parametrize("option", ["--since", "--until"])
def test_a_day_that_is_none_says_how_to_write_one(record: Path, option: str) -> None:
    line = refused("log", option, "3.5.26", "--record", record)
    assert line == "'3.5.26' is no day; write it as YYYY-MM-DD, for example 2026-05-03"
