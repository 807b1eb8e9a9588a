"""`saidspec hand-over`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.report_cli import record_in, refused, run


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return record_in(tmp_path_factory.mktemp("record"))


def test_one_page_with_everything(record: Path, tmp_path: Path) -> None:
    out = tmp_path / "van.html"
    run("hand-over", "--record", record, "--vehicle", "drover", "-o", out)
    page = out.read_text("utf-8")
    assert "<h1>History of Hallam Drover</h1>" in page
    assert "20 April 2023: brakes" in page
    assert "<script" not in page


def test_a_pdf(record: Path, tmp_path: Path) -> None:
    pytest.importorskip("weasyprint")
    out = tmp_path / "van.pdf"
    run("hand-over", "--record", record, "--vehicle", "drover", "-o", out)
    assert out.read_bytes().startswith(b"%PDF-")


def test_json(record: Path, tmp_path: Path) -> None:
    out = tmp_path / "van.json"
    run("hand-over", "--record", record, "--vehicle", "drover", "-o", out)
    told = json.loads(out.read_text("utf-8"))
    assert (told["schema"], told["count"]["entries"]) == ("saidspec/handover-1", 29)


def test_a_vehicle_without_a_history(record: Path, tmp_path: Path) -> None:
    out = tmp_path / "bike.html"
    run("hand-over", "--record", record, "--vehicle", "kite", "-o", out)
    assert "No job is on record" in out.read_text("utf-8")


def test_another_ending_is_refused(record: Path, tmp_path: Path) -> None:
    assert "ends in .html, .pdf or .json" in refused("hand-over", "--record", record, "--vehicle", "drover", "-o",
                                                     tmp_path / "van.docx")  # fmt: skip
