"""From bytes to text: what a wrong byte, another encoding and a binary file give."""

from __future__ import annotations

import codecs

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.model import UnusableInput
from saidspec.sources.encoding import bad_bytes, decode

WORDS = "drain plug 34 N·m, gap 0.8 mm, 71 °C\n"


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
def test_unicode_encodings_with_and_without_mark(codec: str) -> None:
    assert decode(WORDS.encode(codec), "n.txt") == (WORDS, ())


def test_big_endian_with_mark() -> None:
    assert decode(codecs.BOM_UTF16_BE + WORDS.encode("utf-16-be"), "n.txt").text == WORDS


def test_a_wrong_byte_is_shown_and_named_with_its_place() -> None:
    data = b"first line\ngap \xbd mm, bolt done\n"
    text, problems = decode(data, "n.txt")
    assert text == data.decode("utf-8", "replace")
    [problem] = problems
    assert "0xBD" in problem.message
    assert "byte offset 15" in problem.message
    assert "line 2, column 5" in problem.message
    assert "'½'" in problem.message
    assert text[problem.start : problem.end] == "\ufffd"


def test_the_byte_order_mark_counts_in_byte_offsets_and_not_in_characters() -> None:
    _, [problem] = decode(codecs.BOM_UTF8 + b"ab\xff cd", "n.txt")
    assert "byte offset 5" in problem.message
    assert problem.start == 2


def test_a_replacement_character_of_the_file_itself_is_no_problem() -> None:
    assert decode("half \ufffd done".encode(), "n.txt").problems == ()


def test_many_wrong_bytes_are_counted_in_the_last_problem() -> None:
    text, problems = decode(("é" * 200).encode() + b" \xff" * 30, "n.txt")
    assert len(problems) == 21
    assert "10 more bytes" in problems[-1].message
    assert text.count("\ufffd") == 30


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "is empty"),
        (b"%PDF-1.7 \x00\x01", "is a PDF file"),
        (b"\x89PNG\r\n\x1a\n\x00", "is a PNG picture"),
        (b"PK\x03\x04\x00", "ZIP archive"),
        (bytes(range(256)) * 8, "is a binary file"),
        ("Öl für die Hinterachse nachgefüllt, Verschluß".encode("cp1252"), "WINDOWS-1252"),
        (WORDS.encode("utf-32"), "UTF-32"),
    ],
)
def test_what_is_no_text_is_refused_in_one_line(data: bytes, told: str) -> None:
    with pytest.raises(UnusableInput) as refusal:
        decode(data, "n.txt")
    assert told in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_half_a_character_at_the_end_of_utf_16() -> None:
    text, [problem] = decode("torque 34".encode("utf-16") + b"\x41", "n.txt")
    assert text == "torque 34\ufffd"
    assert "0x41" in problem.message
    assert problem.start == 9


@settings(deadline=None)
@given(st.binary(max_size=60))
def test_each_wrong_byte_is_found_where_python_replaces_it(data: bytes) -> None:
    text = data.decode("utf-8", "replace")
    found = bad_bytes(data, text)
    seen = []
    rest, at = data, 0
    while True:  # the oracle: strict decoding, one error after the other
        try:
            rest.decode()
            break
        except UnicodeDecodeError as bad:
            seen.append((at + bad.start, rest[bad.start : bad.end]))
            at, rest = at + bad.end, rest[bad.end :]
    assert [(one.byte, one.value) for one in found] == seen
    assert all(text[one.character] == "\ufffd" for one in found)
