"""Any file: its format told by content, refusals in one line, and what holds for every note."""

from __future__ import annotations

import hashlib
from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.model import UnusableInput
from saidspec.sources.read import FORMATS, read_note, read_text, sniff

SAMPLES = {
    "webvtt": "WEBVTT\n\n00:01.000 --> 00:02.000\nplug 34\n",
    "subrip": "1\n00:00:01,000 --> 00:00:02,000\nplug 34\n",
    "chat": "[2026-04-11, 09:02] Ann: plug 34\n",
    "transcript": '{"segments": [{"start": 1, "end": 2, "text": "plug 34"}]}',
    "stamped": "[00:01] plug 34\n[00:04] filter 25\n",
    "markdown": "# Oil\n\nplug 34\n",
    "text": "plug 34\n",
}


@pytest.mark.parametrize("kind", SAMPLES)
def test_the_format_is_told_by_content_whatever_the_name(kind: str) -> None:
    assert {sniff(SAMPLES[kind], name) for name in ("note", "note.txt", "-")} == {kind}


def test_a_note_from_a_file(tmp_path: Path) -> None:
    path = tmp_path / "oil.txt"
    path.write_bytes(b"\xef\xbb\xbfplug 34\r\nfilter 25\r\n")
    note = read_note(path, day=date(2026, 5, 3))
    assert (note.source.name, note.source.format, note.date) == ("oil.txt", "text", date(2026, 5, 3))
    assert note.source.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert note.text == "plug 34\r\nfilter 25\r\n"


def test_the_day_given_wins_over_the_files_own() -> None:
    assert read_text(SAMPLES["chat"].encode(), "-").date == date(2026, 4, 11)
    assert read_text(SAMPLES["chat"].encode(), "-", day=date(2026, 5, 3)).date == date(2026, 5, 3)


def test_files_that_cannot_be_used_are_refused_in_one_line(tmp_path: Path) -> None:
    told = {"missing.txt": "no such file", ".": "is a folder", "empty.txt": "is empty", "blank.txt": "holds no words",
            "memo.m4a": "holds no sound", "data.bin": "is a binary file", "a\0b": "cannot be read"}  # fmt: skip
    (tmp_path / "empty.txt").touch()
    (tmp_path / "blank.txt").write_text(" \n\n")
    (tmp_path / "memo.m4a").write_text("plug 34\n")
    (tmp_path / "data.bin").write_bytes(bytes(range(1, 256)) * 20)
    for name, message in told.items():
        with pytest.raises(UnusableInput, match=message) as refusal:
            read_note(tmp_path / name)
        assert "\n" not in str(refusal.value)


def test_a_recording_on_standard_input_is_refused() -> None:
    with pytest.raises(UnusableInput, match="give it as a file"):
        read_text(b"RIFF\x00\x00\x00\x00WAVEfmt ", "-")


PIECES = st.sampled_from(
    [
        "plug",
        " 34",
        " N·m",
        "\n",
        "\r\n",
        "\n\n",
        "# ",
        "- ",
        "* ",
        "1. ",
        "> ",
        "| ",
        "---",
        "~~",
        "**",
        "`",
        "<!--",
        "-->",
        "WEBVTT",
        "NOTE ",
        "00:01.000 --> 00:02.000\n",
        "00:00:01,000 --> 00:00:02,000\n",
        "1\n",
        "<v Ann>",
        "<i>",
        "</i>",
        "&nbsp;",
        "[2026-04-11, 09:02] ",
        "03/04/26, 9:02 PM - ",
        "Ann: ",
        "[00:01] ",
        "\ufeff",
        "\u200e",
        "\x00",
        "½",
        "{",
        "[",
        '"text": ',
    ]
)


@settings(deadline=None)
@given(st.lists(PIECES, max_size=40).map("".join), st.sampled_from(["n.txt", "n.md", "n.srt", "n.vtt", "-"]))
def test_utterances_are_in_order_inside_the_text_and_trimmed(text: str, name: str) -> None:
    try:
        note = read_text(text.encode(), name)
    except UnusableInput:
        return
    assert note.source.format in FORMATS
    assert note.utterances
    for one in note.utterances:
        assert 0 <= one.start < one.end <= len(note.text)
        assert note.text[one.start : one.end].strip() == note.text[one.start : one.end]
    assert all(one.end <= two.start for one, two in pairwise(note.utterances))
    assert all(0 <= (one.start or 0) <= (one.end or 0) <= len(note.text) for one in note.problems)


@settings(deadline=None)
@given(st.lists(st.sampled_from(["plug", "34", "newton", "metres", "½", "10.", "+", "-5"]), min_size=1).map(" ".join))
def test_words_of_a_plain_text_are_all_spoken(words: str) -> None:
    note = read_text(f"so {words}\nthen {words}\n".encode(), "n.txt")
    spoken = " ".join(note.text[one.start : one.end] for one in note.utterances)
    assert spoken.split() == note.text.split()


@pytest.mark.parametrize("kind", SAMPLES)
def test_wrong_bytes_anywhere_are_told_and_the_rest_is_read(kind: str) -> None:
    data = SAMPLES[kind].encode().replace(b"plug 34", b"plug 34 \xff") + b" "
    note = read_text(data, "n")
    assert any("0xFF" in problem.message for problem in note.problems)
    assert any("plug 34 \ufffd" in note.text[one.start : one.end] for one in note.utterances)
