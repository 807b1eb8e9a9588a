"""The day of a note: what is given, else what the note tells, else what its file is called."""

from __future__ import annotations

from datetime import date

import pytest

from saidspec.sources.read import read_text

FRONT = "date: 2026-05-16\n\n# Quill Marten 400\n\n- chain slack 35 mm\n"
FENCED = "---\ndate: 2026-05-16\n---\n\n# Quill Marten 400\n\n- chain slack 35 mm\n"


@pytest.mark.parametrize(("text", "name", "day"), [
    (FRONT, "q.md", date(2026, 5, 16)), (FENCED, "q.md", date(2026, 5, 16)),
    (FRONT, "2025-01-02-q.md", date(2026, 5, 16)),
    ("Chain slack 35 mm.", "2026-05-17-q.txt", date(2026, 5, 17)),
    ("Chain slack 35 mm.", "2026-05-17.txt", date(2026, 5, 17)),
    ("Chain slack 35 mm.", "2026-13-17-q.txt", None), ("Chain slack 35 mm.", "2026-05-171.txt", None),
    ("Chain slack 35 mm.", "q.txt", None),
])  # fmt: skip
def test_the_day_of_a_note(text: str, name: str, day: date | None) -> None:
    assert read_text(text.encode(), name).date == day
    assert read_text(text.encode(), name, day=date(2024, 2, 29)).date == date(2024, 2, 29)


@pytest.mark.parametrize("text", [FRONT, FENCED])
def test_the_line_of_the_day_is_not_spoken(text: str) -> None:
    note = read_text(text.encode(), "q.md")
    assert [note.text[said.start : said.end] for said in note.utterances] == ["Quill Marten 400", "chain slack 35 mm"]
