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
    assert "blue thread locker: not known on hand" in told


def test_one_thing_as_json(record: Path) -> None:
    told = json.loads(run("stock", "brake fluid", "--record", record, "--format", "json"))
    (item,) = told["items"]
    assert (item["on_hand"], item["unit"], [one["way"] for one in item["movements"]]) == (0.9, "L", ["bought", "used"])


@pytest.mark.parametrize("form", ["html", "markdown"])
def test_other_formats(record: Path, form: str) -> None:
    assert "brake fluid DOT 4" in run("stock", "--record", record, "--format", form)


def test_an_empty_shelf_says_so(record: Path) -> None:
    assert "Nothing bought" in run("stock", "windscreen wash", "--record", record)
