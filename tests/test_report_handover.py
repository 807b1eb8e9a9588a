"""The hand-over: all of it, in one file, with the words behind each entry."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from saidspec.model import UnusableInput
from saidspec.record.report_queries import jobs, vehicle_named
from saidspec.report.handover import HandOver, hand_over, open_findings
from saidspec.report.lines import line
from saidspec.report.passages import passages
from saidspec.report.pdf import pdf
from saidspec.report.render import rendered
from tests.report_samples import VAN, entry, workshop

TODAY = date(2026, 6, 1)


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> HandOver:
    conn = workshop(tmp_path_factory.mktemp("record") / "record.db")
    van = vehicle_named(conn, "drover")
    return hand_over(van.vehicle, jobs(conn, van.id), (), TODAY)


def page(told: HandOver, paper: bool = False) -> str:
    return rendered("handover", told, "html", plots={}, paper=paper)


def test_it_counts_what_it_holds(told: HandOver) -> None:
    assert (told.count.jobs, told.count.notes, told.count.entries, told.count.reviewed) == (4, 4, 29, 2)
    assert told.odometer == "94,200 km (58,533 mi)"
    assert len(entries_of(told)) == 29


def test_every_entry_has_its_words_on_demand(told: HandOver) -> None:
    html = page(told)
    for ident in entries_of(told):
        assert f"<summary>words {ident}</summary>" in html
    assert "<mark>160 newton metres</mark>" in html
    assert "KD dash 3318 dash F</mark>, &lt;b&gt;64&lt;/b&gt; quid" in html


def test_on_paper_each_passage_stands_once_with_the_numbers_of_its_entries(told: HandOver) -> None:
    html = page(told, paper=True)
    for ident in entries_of(told):
        assert html.count(f'id="w{ident}"') == 1
    chapter = html[html.index('<h2 id="words">') :]
    assert chapter.count("wheel nuts want the") == 1
    assert "&lt;b&gt;64&lt;/b&gt; quid" in re.sub(r"<mark>|</mark>|<sup.*?</sup>", "", chapter)


def test_a_run_of_speech_is_cut_beside_an_entry() -> None:
    text = " ".join(["word"] * 300) + " at 110 newton metres " + " ".join(["more"] * 300)
    words = line(entry(1, "torque", "110 newton metres", component="nut", value="110", unit="N*m", context=text,
                       start=text.index("110"))).words  # fmt: skip
    before, said, after = words.window()
    assert said == "110 newton metres"
    assert before.startswith("… word")
    assert after.endswith("more …")
    assert len(before) + len(after) < 500


def test_words_that_overlap_are_marked_once_and_numbered_twice() -> None:
    text = "did the nuts at 110 newton metres today"
    some = [entry(1, "operation", "did the nuts", component="nut", action="tighten", context=text),
            entry(2, "torque", "nuts at 110 newton metres", component="nut", value="110", unit="N*m", context=text,
                  start=text.index("nuts"))]  # fmt: skip
    ((only,),) = (note.passages for note in passages(some))
    assert "".join(piece.text for piece in only.pieces) == text
    assert [(piece.text, piece.marked, piece.ends) for piece in only.pieces] == [
        ("did the ", True, ()), ("nuts", True, (1,)), (" at 110 newton metres", True, (2,)), (" today", False, ())]


def entries_of(told: HandOver) -> list[int]:
    """The numbers of the entries whose words are told."""
    return sorted(ident for note in told.notes for one in note.passages for piece in one.pieces for ident in piece.ends)


def test_the_contents_lead_somewhere(told: HandOver) -> None:
    for paper in (False, True):
        html = page(told, paper)
        ids = set(re.findall(r'\bid="([^"]+)"', html))
        assert set(re.findall(r'href="#([^"]+)"', html)) <= ids
        assert len(re.findall(r'\bid="', html)) == len(ids)


def test_nothing_comes_from_elsewhere(told: HandOver) -> None:
    html = page(told).replace('http-equiv="Content-Security-Policy"', "")
    assert not re.search(r"https?:|<script|<link|<iframe|@import|url\(", html)


def test_parts_and_open_findings_are_listed_once(told: HandOver) -> None:
    assert [one.line.says for one in told.parts] == ["KD-3318-F installed", "DOT 4"]
    assert [one.line.text for one in told.findings] == ["front slide pin: dry"]


def test_a_finding_is_closed_by_later_work_on_the_part() -> None:
    found = entry(1, "observation", component="front slide pin", finding="dry", role="watch", day="2026-01-01")
    work = entry(2, "operation", component="slide pin", action="lubricate", day="2026-02-01")
    assert open_findings([found]) == [found]
    assert open_findings([found, work]) == []
    assert open_findings([work, found]) == [found]
    assert open_findings([found, entry(2, "operation", component="slide pin", action="inspect")]) == [found]


@pytest.mark.parametrize("fields", [{"role": "ok"}, {"role": "act", "assertion": "negated"}])
def test_what_is_well_is_no_open_finding(fields: dict[str, str]) -> None:
    assert open_findings([entry(1, "observation", component="hose", finding="leak", **fields)]) == []


def test_the_pdf_has_contents_pages_and_the_words(told: HandOver, tmp_path: Path) -> None:
    pytest.importorskip("weasyprint")
    made = pdf(page(told, paper=True))
    assert made.startswith(b"%PDF-")
    assert b"/StructTreeRoot" in made or b"/Type /Catalog" in made or len(made) > 10_000
    (tmp_path / "van.pdf").write_bytes(made)
    assert VAN.name in told.title


def test_a_page_that_refers_elsewhere_makes_no_pdf() -> None:
    pytest.importorskip("weasyprint")
    with pytest.raises(UnusableInput, match="not self-contained"):
        pdf("<html><body><img src='http://127.0.0.1:9/x.png'></body></html>")
