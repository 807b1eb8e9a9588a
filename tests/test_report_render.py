"""Text from notes is data in every format: nothing in it becomes markup, a script or a control of the terminal."""

from __future__ import annotations

import json
import re
from datetime import date
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.record.entries import JobEntries
from saidspec.report.log import Log, log
from saidspec.report.render import markdown, plain, rendered
from tests.report_samples import VAN, entry

NASTY = [
    "<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "&lt;b&gt;", "*bold* _it_ `code` [a](http://b)",
    "| cell |", "# heading", "1. item", "- item", "\x1b[31mred\x1b[0m", "a\nb\r\nc", "{{ 7 * 7 }} {% raw %}",
    "\u202e evil", "$1$",
]  # fmt: skip


def nasty_log(text: str) -> Log:
    made = entry(1, "torque", text, component=text, value="160", unit="N*m", note=text)
    return log([JobEntries(1, VAN.name, "brakes", date(2026, 5, 3), entries=(made,))], text, date(2026, 5, 4))


class Page(HTMLParser):
    """The tags of a page and its text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.text: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        assert not [name for name, _ in attrs if name.startswith("on")]

    def handle_data(self, data: str) -> None:
        self.text.append(data)


@pytest.mark.parametrize("text", NASTY)
def test_html_shows_the_words_and_no_tag_of_theirs(text: str) -> None:
    harmless, page = Page(rendered("log", nasty_log("words"), "html")), Page(rendered("log", nasty_log(text), "html"))
    assert page.tags == harmless.tags
    assert text in "".join(page.text)


@pytest.mark.parametrize("text", NASTY)
def test_markdown_shows_the_words_and_makes_nothing_of_them(text: str) -> None:
    parser = pytest.importorskip("markdown_it").MarkdownIt("gfm-like", {"linkify": False})
    kinds = [[token.type for token in parser.parse(rendered("log", nasty_log(words), "markdown"))]
             for words in ("words", text)]  # fmt: skip
    assert kinds[0] == kinds[1]
    shown = parser.render(rendered("log", nasty_log(text), "markdown"))
    assert "<script" not in shown
    assert "<img" not in shown
    assert "<code>" not in shown


@pytest.mark.parametrize("text", NASTY)
def test_the_terminal_gets_no_controls(text: str) -> None:
    shown = rendered("log", nasty_log(text), "text")
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", shown)


@settings(deadline=None)
@given(st.text(max_size=60))
def test_plain_is_one_line(text: str) -> None:
    assert len(str(plain(text)).splitlines()) <= 1


@settings(deadline=None)
@given(st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cf", "Zl", "Zp"]), max_size=60))
def test_escaped_markdown_renders_to_the_same_words(text: str) -> None:
    parser = pytest.importorskip("markdown_it").MarkdownIt("commonmark")
    tokens = parser.parse(f"x {markdown(text)} y")
    inline = "".join(child.content for child in tokens[1].children)
    assert inline.split() == f"x {plain(text)} y".split()


def test_json_holds_every_field_of_the_fact() -> None:
    told = json.loads(rendered("log", nasty_log("1.740 <b>"), "json"))
    assert told["schema"] == "saidspec/log-1"
    (only,) = told["jobs"][0]["sections"][0]["lines"]
    assert (only["fact"]["value"], only["fact"]["unit"], only["fact"]["quote"]) == (160, "N*m", "1.740 <b>")
    assert only["text"] == "1.740 <b>: 160 N·m (118 lbf·ft)"


@pytest.mark.parametrize("form", ["html", "markdown", "text"])
def test_an_empty_log_says_so(form: str) -> None:
    assert "No job is on record" in rendered("log", log([], "Log", date(2026, 5, 4)), form)  # type: ignore[arg-type]


def test_a_page_loads_nothing() -> None:
    page = rendered("log", nasty_log("words"), "html")
    assert "http" not in page.replace('http-equiv="Content-Security-Policy"', "")
    assert not re.search(r"<(script|link|iframe|object|img)\b", page)
    assert '<html lang="en">' in page
