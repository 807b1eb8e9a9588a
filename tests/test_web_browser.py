"""The review page in a real browser: what a person does, and what a page elsewhere cannot do."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from saidspec.web.guard import Session
from saidspec.web.server import ReviewServer
from tests.browser import BROWSER, Page, browser
from tests.report_samples import workshop
from tests.web_samples import flagged

pytestmark = [
    pytest.mark.browser, pytest.mark.skipif(BROWSER is None, reason="no Chromium on this machine"),
]  # fmt: skip


@dataclass
class Review:
    """A running review, the record behind it, and a browser."""

    server: ReviewServer
    record: Path
    page: Page

    def rows(self, sql: str) -> list[tuple[object, ...]]:
        conn = sqlite3.connect(self.record)
        told = conn.execute(sql).fetchall()
        conn.close()
        return [tuple(row) for row in told]

    def fact(self, quote: str) -> int:
        return int(str(self.rows(f"SELECT id FROM facts WHERE quote = '{quote}'")[0][0]))


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    with browser() as made:
        yield made


@pytest.fixture
def review(tmp_path: Path, page: Page) -> Iterator[Review]:
    record = tmp_path / "record.db"
    conn = workshop(record)
    flagged(conn)
    conn.close()
    server = ReviewServer(Session(record, "Ann"))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield Review(server, record, page)
    server.shutdown()
    server.server_close()


def opened(review: Review) -> Page:
    """The browser on the page of the note with the full job."""
    review.page.open(review.server.address)
    review.page.click("[...document.querySelectorAll('a')].find(a => a.textContent === 'front-brakes.vtt')")
    return review.page


def press(card: str, label: str) -> str:
    return f"[...document.querySelectorAll('#{card} button')].find(b => b.textContent === '{label}')"


def test_a_note_shows_its_words_with_what_was_understood(review: Review) -> None:
    page = opened(review)
    words = page.run("document.querySelector('.text').textContent")
    assert words == review.rows("SELECT text FROM readings WHERE note = 4")[0][0]
    marked = page.run("[...document.querySelectorAll('.text a')].map(a => a.textContent)")
    assert len(marked) == 20
    assert "64</b> quid" in marked  # shown as said, no markup
    assert page.run("document.querySelectorAll('.text b').length") == 0
    assert page.run("[...document.querySelectorAll('.text .loose')].map(e => e.textContent)") == ["7"]
    assert page.run("document.querySelectorAll('script').length") == 0
    page.run("document.querySelector('.text a').click()")
    assert page.run("location.hash") == f"#fact-{review.fact('94200 kilometres')}"


def test_the_page_looks_as_it_should(review: Review) -> None:
    page = opened(review)
    style = "getComputedStyle(document.querySelector('button.main'))"
    assert page.run(f"{style}.backgroundColor") == "rgb(0, 0, 0)"  # the style sheet was let through
    unnamed = "[...document.querySelectorAll('input:not([type=hidden]), select')].filter(e => !e.labels.length).length"
    assert page.run(unnamed) == 0
    assert page.run("document.querySelectorAll('button').length") > 40
    assert page.run("[...document.querySelectorAll('button')].every(b => b.offsetHeight === 0 || b.offsetHeight > 40)")


def test_a_fact_is_confirmed_rejected_and_taken_back(review: Review) -> None:
    page, fact = opened(review), review.fact("21 socket")
    card = f"fact-{fact}"
    verdict = f"SELECT verdict, person FROM decisions WHERE fact = {fact} AND current = 1"
    page.click(press(card, "Confirm"))
    assert page.run("location.hash") == f"#{card}"
    assert review.rows(verdict) == [("confirmed", "Ann")]
    page.click(press(card, "Reject"))
    assert review.rows(verdict) == [("rejected", "Ann")]
    assert page.run(f"document.querySelector('#{card}').className") == "card rejected"
    page.click(press(card, "Undo"))
    assert review.rows(verdict) == []


def test_a_fact_is_corrected_field_by_field(review: Review) -> None:
    page, fact = opened(review), review.fact("a 19")
    card = f"fact-{fact}"
    page.run(f"document.querySelector('#{card} details').open = true")
    page.run(f"document.querySelector('#{card} [name=value]').value = '18'")
    page.run(f"document.querySelector('#{card} [name=component]').value = 'front caliper <b>bolt</b>'")
    page.run(f"document.querySelector('#{card} [name=reason]').value = 'measured'")
    page.click(press(card, "Save correction"))
    now = f"SELECT value, component, unit, standing FROM facts_now WHERE id = {fact}"
    assert review.rows(now) == [("18", "front caliper <b>bolt</b>", "mm", "corrected")]
    assert "corrected by Ann" in page.run(f"document.querySelector('#{card}').innerText")
    assert "heard as front caliper bracket bolt: 19 mm tool" in page.run(f"document.querySelector('#{card}').innerText")
    assert page.run(f"document.querySelectorAll('#{card} b').length") == 0


@pytest.mark.parametrize(("name", "value", "says"), [
    ("value", "about ten", "is no number for value"), ("unit", "Nmm", "is no unit"),
    ("value", "21", "nothing was changed"),
])  # fmt: skip
def test_a_wrong_correction_is_turned_down_beside_the_fact(review: Review, name: str, value: str, says: str) -> None:
    page, fact = opened(review), review.fact("21 socket")
    page.run(f"document.querySelector('#fact-{fact} [name={name}]').value = '{value}'")
    page.click(press(f"fact-{fact}", "Save correction"))
    assert says in page.run(f"document.querySelector('#fact-{fact} [role=alert]').innerText")
    assert review.rows(f"SELECT * FROM decisions WHERE fact = {fact}") == []


def test_a_flag_is_let_stand_only_with_a_reason(review: Review) -> None:
    page = opened(review)
    flag = page.run("document.querySelector('.flag').id")
    page.click(press(flag, "Let it stand"))
    assert "only with a reason" in page.run("document.querySelector('[role=alert]').innerText")
    page.run(f"document.querySelector('#{flag} [name=reason]').value = 'the sheet is for the old bolts'")
    page.click(press(flag, "Let it stand"))
    assert review.rows("SELECT verdict, reason, person FROM decisions WHERE flag_key IS NOT NULL AND current = 1") == [
        ("accepted", "the sheet is for the old bolts", "Ann")]  # fmt: skip
    assert "settled" in page.run(f"document.querySelector('#{flag}').innerText").lower()


def test_a_follow_up_is_done_since(review: Review) -> None:
    page, fact = opened(review), review.fact("should retorque the wheel nuts")
    page.click(press(f"fact-{fact}", "Done since"))
    assert review.rows(f"SELECT standing FROM facts_now WHERE id = {fact}") == [("done",)]


class Elsewhere(BaseHTTPRequestHandler):
    """A page of another origin that posts a form to the review as soon as it is opened."""

    target = ""

    def do_GET(self) -> None:
        page = (f'<form method="post" action="{self.target}"><input name="verdict" value="rejected">'
                '<input name="token" value="guess"></form><script>document.forms[0].submit()</script>')  # fmt: skip
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.end_headers()
        self.wfile.write(page.encode())

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture
def elsewhere() -> Iterator[ThreadingHTTPServer]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), Elsewhere)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield server
    server.shutdown()
    server.server_close()


def test_a_page_elsewhere_decides_nothing(review: Review, elsewhere: ThreadingHTTPServer) -> None:
    page, fact = opened(review), review.fact("21 socket")  # the browser holds the cookie of the review
    before = review.rows("SELECT count(*) FROM decisions")
    Elsewhere.target = f"http://127.0.0.1:{review.server.server_port}/fact/{fact}"
    page.open(f"http://127.0.0.1:{elsewhere.server_port}/")  # another port is the same site: only token and origin help
    page.run("new Promise(done => setTimeout(done, 500))")
    assert "is not taken" in page.text()
    page.open(f"http://localhost:{elsewhere.server_port}/")  # another site: the cookie stays away as well
    page.run("new Promise(done => setTimeout(done, 500))")
    assert "printed" in page.text()
    assert review.rows("SELECT count(*) FROM decisions") == before


def test_the_review_is_in_no_frame(review: Review, elsewhere: ThreadingHTTPServer) -> None:
    page = opened(review)
    page.open(f"http://127.0.0.1:{elsewhere.server_port}/")
    address = f"http://127.0.0.1:{review.server.server_port}/"
    seen = page.run("new Promise(done => { const f = document.createElement('iframe'); f.src = '" + address + "';"
                    " f.onload = () => { try { done(f.contentDocument ? f.contentDocument.title : 'closed') }"
                    " catch (e) { done('closed') } }; document.body.append(f) })")  # fmt: skip
    assert seen == "closed"
