"""The review page without a browser: the marks in the words, the parts of a long note, and corrections."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.model import UnusableInput
from saidspec.record.report_queries import entries_of_note
from saidspec.record.review_queries import note_text, notes
from saidspec.record.store import ingest
from saidspec.report.passages import begins
from saidspec.web.answers import answer_fact, answer_flag, corrections
from saidspec.web.marked import Span, pieces
from saidspec.web.pages import A_PAGE, chunks, list_page, note_page, page_of, paged
from tests.report_samples import reading, said, workshop
from tests.web_samples import flagged


@pytest.fixture
def conn(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    made = workshop(tmp_path / "record.db")
    yield made
    made.close()


@st.composite
def spans(draw: st.DrawFn) -> tuple[str, list[Span]]:
    text = draw(st.text(max_size=40))
    place = st.integers(0, len(text))
    told = [Span(*sorted((draw(place), draw(place))), draw(st.sampled_from([None, 1, 2]))) for _ in range(draw(
        st.integers(0, 6)))]  # fmt: skip
    return text, told


@settings(deadline=None)
@given(spans())
def test_pieces_are_the_text_and_each_knows_its_spans(made: tuple[str, list[Span]]) -> None:
    text, told = made
    cut = pieces(text, told)
    assert "".join(piece.text for piece in cut) == text
    at = 0
    for piece in cut:
        to = at + len(piece.text)
        assert sorted(map(repr, piece.spans)) == sorted(repr(s) for s in told if s.start <= at < to <= s.end)
        at = to


def test_a_part_of_a_text_holds_parts_of_its_spans() -> None:
    cut = pieces("0123456789", [Span(2, 5, 1), Span(8, 9, 2)], 4, 8)
    assert [(piece.text, [span.fact for span in piece.spans]) for piece in cut] == [("4", [1]), ("567", [])]


def test_the_list_tells_what_waits(conn: sqlite3.Connection) -> None:
    flagged(conn)
    (full,) = [one for one in notes(conn) if one.name == "front-brakes.vtt"]
    assert (full.facts, full.decided, full.unclaimed, full.flags) == (20, 2, 1, 1)
    assert "18 of 20 facts, <strong>1 disagreement</strong>, 1 number not understood" in list_page(conn)


def test_an_empty_record_says_so(tmp_path: Path) -> None:
    from saidspec.record.store import open_record

    assert "no note yet" in list_page(open_record(tmp_path / "empty.db"))


def test_a_long_note_comes_in_parts_that_make_the_whole(conn: sqlite3.Connection) -> None:
    lines = [(f"nut {n} at {n}", [("torque", f"at {n}", {"component": "nut", "value": str(n), "unit": "N*m"})])
             for n in range(10, 10 + 3 * A_PAGE)]  # fmt: skip
    note = ingest(conn, reading("long.txt", "2026-05-20", lines, loose=("nut 10 ",)), vehicle=1).note
    text, held = note_text(conn, note), entries_of_note(conn, note)
    assert text is not None
    shown = [paged(text, held, (), {}, number) for number in (1, 2, 3)]
    assert {page.pages for page in shown} == {3}
    assert "".join(piece.text for page in shown for piece in page.pieces) == text.text
    assert [card.line.id for page in shown for card in page.cards] == [entry.fact.id for entry in held]
    assert [len(page.loose) for page in shown] == [1, 0, 0]
    assert page_of(conn, note, held[A_PAGE].fact.id) == 2
    html = note_page(conn, note, 2, "token")
    assert html is not None
    assert 'aria-current="page">part 2</a>' in html


def test_parts_end_between_utterances(conn: sqlite3.Connection) -> None:
    line = " ".join(f"at {n}" for n in range(10, 12 + A_PAGE))
    facts = [("torque", f"at {n}", {"value": str(n)}) for n in range(10, 12 + A_PAGE)]
    note = ingest(conn, reading("one.txt", "2026-05-21", [(line, facts), ("at 99", [("torque", "at 99", {})])])).note
    first, second = chunks(entries_of_note(conn, note))
    assert (len(first), len(second)) == (A_PAGE + 2, 1)
    assert begins(second[0]) == len(line) + 1


def test_what_could_not_be_read_is_told(conn: sqlite3.Connection) -> None:
    conn.execute("INSERT INTO problems (note, position, message, start) VALUES (4, 0, 'a cue <without> end', 12)")
    html = note_page(conn, 4, 1, "token")
    assert html is not None
    assert 'a cue &lt;without&gt; end <span class="words">(character 12)' in html


def test_a_note_that_is_not_there_is_none(conn: sqlite3.Connection) -> None:
    assert note_page(conn, 999, 1, "token") is None


FACT = said(1, "torque", "at 107", component="bolt", value="107", unit="N*m")


@pytest.mark.parametrize(("answer", "changes"), [
    ({"value": "107.0", "unit": "N*m", "component": "bolt"}, {}),
    ({"value": "117"}, {"value": Decimal(117)}),
    ({"unit": "ft-lb"}, {"unit": "lbf*ft"}),
    ({"component": "  big   bolt "}, {"component": "big bolt"}),
    ({"component": ""}, {"component": None}),
    ({"value": ""}, {"value": None}),
    ({"assertion": "quoted"}, {"assertion": "quoted"}),
    ({"angle": "90", "value_high": "110"}, {"angle": Decimal(90), "value_high": Decimal(110)}),
    ({"action": "", "token": "t", "reason": "r"}, {}),
])  # fmt: skip
def test_only_what_differs_is_a_correction(answer: dict[str, str], changes: dict[str, object]) -> None:
    assert corrections(FACT, answer) == changes


@pytest.mark.parametrize(("answer", "says"), [
    ({"value": "ten"}, '"ten" is no number'), ({"value": "NaN"}, "is no number"), ({"value": "1e40"}, "is no number"),
    ({"unit": "foot-bounds"}, "is no unit"), ({"assertion": "sure"}, "is no assertion"),
    ({"action": "explode"}, "is no action"), ({"component": "x" * 501}, "longer than 500"),
])  # fmt: skip
def test_a_correction_that_cannot_be_one_says_what_to_do(answer: dict[str, str], says: str) -> None:
    with pytest.raises(UnusableInput, match=says):
        corrections(FACT, answer)


def test_answers_need_a_known_verdict_and_a_fact(conn: sqlite3.Connection) -> None:
    for answer in ({}, {"verdict": "deleted"}):
        with pytest.raises(UnusableInput, match="is no answer"):
            answer_fact(conn, 1, answer, None)
        with pytest.raises(UnusableInput, match="is no answer"):
            answer_flag(conn, 1, answer, None)
    with pytest.raises(UnusableInput, match="no fact 999 any more"):
        answer_fact(conn, 999, {"verdict": "confirmed"}, None)
    with pytest.raises(UnusableInput, match="no flag 999"):
        answer_flag(conn, 999, {"verdict": "left"}, None)
