"""`saidspec stock`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.report_cli import record_in, run


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return record_in(tmp_path_factory.mktemp("record"))


def test_the_shelf(record: Path) -> None:
    told = run("stock", "--record", record)
    assert "brake fluid DOT 4: about 0.9 L on hand; bought 1 L, used 0.1 L" in told
    on_hand, used = told.split("== Used, and nothing bought or left over on record")
    assert "brake fluid" in on_hand
    assert "blue thread locker: used 1 time without an amount, last on 3 May 2026 (Hallam Drover)" in used
    assert '"blue thread locker" (' not in used


def test_one_thing_shows_the_words_behind_its_use(record: Path) -> None:
    assert '"blue thread locker" (' in run("stock", "thread locker", "--record", record)


def test_one_thing_as_json(record: Path) -> None:
    told = json.loads(run("stock", "brake fluid", "--record", record, "--format", "json"))
    (item,) = told["items"]
    assert (item["on_hand"], item["unit"], [one["way"] for one in item["movements"]]) == (0.9, "L", ["bought", "used"])


@pytest.mark.parametrize("form", ["html", "markdown"])
def test_other_formats(record: Path, form: str) -> None:
    assert "brake fluid DOT 4" in run("stock", "--record", record, "--format", form)


def test_an_empty_shelf_says_so(record: Path) -> None:
    assert "Nothing bought" in run("stock", "windscreen wash", "--record", record)
