"""`saidspec trend`."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from saidspec.cli.main import app
from tests.report_cli import record_in, refused, run


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return record_in(tmp_path_factory.mktemp("record"))


def test_points_and_what_they_say(record: Path) -> None:
    told = run("trend", "brake pad", "--record", record, "--vehicle", "drover")
    assert "replaced front brake pad on 2026-05-03: only what was measured after it counts" in told
    assert "too few points to project" in told
    assert "2024-05-02  57,500 km (35,729 mi)  8.4 mm (0.331 in)" in told


def test_json_has_the_points(record: Path) -> None:
    told = json.loads(run("trend", "--record", record, "--vehicle", "drover", "--format", "json"))
    (one,) = told["trends"]
    assert (one["title"], one["axis"], [point["value"] for point in one["points"]]) == (
        "front brake pad thickness", "km", [10.5, 8.4, 5.9])  # fmt: skip


@pytest.mark.parametrize(("name", "begins"), [("pads.svg", b"<?xml"), ("pads.PNG", b"\x89PNG")])
def test_a_plot_is_drawn(record: Path, tmp_path: Path, name: str, begins: bytes) -> None:
    pytest.importorskip("matplotlib")
    run("trend", "brake pad", "--record", record, "--vehicle", "drover", "--plot", tmp_path / name)
    assert (tmp_path / name).read_bytes().startswith(begins)


def test_a_page_has_its_plot_inside(record: Path) -> None:
    pytest.importorskip("matplotlib")
    told = run("trend", "--record", record, "--vehicle", "drover", "--format", "html")
    assert "<svg" in told
    assert "<h2>front brake pad thickness</h2>" in told
    assert "| 2 May 2024 |" in run("trend", "--record", record, "--vehicle", "drover", "--format", "markdown")


def test_a_plot_that_cannot_be_drawn_says_why(record: Path, tmp_path: Path) -> None:
    base = ("trend", "--record", record, "--vehicle", "drover")
    assert "ends in .svg or .png" in refused(*base, "--plot", tmp_path / "pads.pdf")
    assert "name the part more exactly" in refused(*base, "chain", "--plot", tmp_path / "pads.svg")


def test_without_matplotlib_the_page_says_so_and_has_its_table(record: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    monkeypatch.setattr("saidspec.report.plot.available", lambda: False)
    result = CliRunner().invoke(app, ["trend", "--record", str(record), "--vehicle", "drover", "--format", "html"])
    assert result.exit_code == 0
    assert "<svg" not in result.stdout
    assert "8.4 mm" in result.stdout
    assert "extra `plot`" in result.stderr
    line = refused("trend", "brake pad", "--record", record, "--vehicle", "drover", "--plot", record.with_name("x.svg"))
    assert "extra `plot`" in line
