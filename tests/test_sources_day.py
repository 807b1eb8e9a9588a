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


@pytest.mark.parametrize(("stamps", "name", "days"), [
    (("02/03/2024",), "2024-03-02-chat.txt", [date(2024, 3, 2)]),
    (("02/03/2024",), "2024-02-03-chat.txt", [date(2024, 2, 3)]),
    (("01/03/2024", "02/03/2024"), "2024-03-02-chat.txt", [date(2024, 3, 1), date(2024, 3, 2)]),
    (("02/03/2024",), "2024-05-05-chat.txt", [None]),
    (("02/03/2024",), "chat.txt", [None]),
])  # fmt: skip
def test_the_name_of_a_chat_settles_its_days(stamps: tuple[str, ...], name: str, days: list[date | None]) -> None:
    text = "".join(f"{stamp}, 09:4{at} - Edda: Chain slack 35 mm.\n" for at, stamp in enumerate(stamps))
    note = read_text(text.encode(), name)
    assert [said.sent.date() if said.sent else None for said in note.utterances] == days
    assert bool(note.problems) == (days == [None])
