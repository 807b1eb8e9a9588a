"""From the bytes of a file to its text: UTF-8 and UTF-16, with or without a byte order mark.

A byte that is no UTF-8 becomes U+FFFD, exactly as `bytes.decode("utf-8", "replace")` has it, and a problem that
names the byte and its place.  Text of an older 8-bit encoding is refused: guessing would turn signs into others.
"""

from __future__ import annotations

import codecs
import re
from typing import NamedTuple

from saidspec.model import Problem, UnusableInput
from saidspec.sources.lines import Places

REPLACEMENT = "\ufffd"
# First bytes by which files that hold no text are told apart.  Published in each format's own specification.
_KNOWN_BINARY = (
    (b"%PDF-", "a PDF file"),
    (b"PK\x03\x04", "a ZIP archive or an office document"),
    (b"\x89PNG\r\n", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"SQLite format 3\x00", "an SQLite database"),
)
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1a\x1c-\x1f\x7f]")
_MOST_NAMED = 20  # bad bytes named one by one; the rest are counted in one more problem


class Decoded(NamedTuple):
    """A text without its byte order mark, and a problem for each thing that could not be decoded."""

    text: str
    problems: tuple[Problem, ...]


class BadBytes(NamedTuple):
    """Bytes that are no UTF-8: their place in the file and the character that stands for them in the text."""

    value: bytes
    byte: int
    character: int


def decode(data: bytes, name: str) -> Decoded:
    """The text of a file's bytes.  Raises UnusableInput for empty and binary files and for 8-bit encodings."""
    if not data:
        raise UnusableInput(f"{name} is empty: there is nothing to read")
    for start, what in _KNOWN_BINARY:
        if data.startswith(start):
            raise UnusableInput(f"{name} is {what}, not text: save the note as text, captions, a chat log or JSON")
    if data.startswith((codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)):
        raise UnusableInput(f"{name} is UTF-32 text: save it as UTF-8, for example with iconv -f UTF-32 -t UTF-8")
    wide = _utf16_kind(data)
    decoded = _decode_utf16(data, wide, name) if wide else _decode_utf8(data, name)
    _refuse_binary(decoded.text, name)
    return decoded


def _utf16_kind(data: bytes) -> str | None:
    """The codec of UTF-16 text, told by its mark or by zeros in every second place; None for other text."""
    if data.startswith(codecs.BOM_UTF16_LE):
        return "utf-16-le"
    if data.startswith(codecs.BOM_UTF16_BE):
        return "utf-16-be"
    sample = data[: 4096 - len(data) % 2]
    if len(sample) < 4:
        return None
    even, odd = sample[0::2], sample[1::2]
    even_zeros, odd_zeros = even.count(0) / len(even), odd.count(0) / len(odd)
    if odd_zeros > 0.5 and even_zeros < 0.05:
        return "utf-16-le"
    if even_zeros > 0.5 and odd_zeros < 0.05:
        return "utf-16-be"
    return None


def _decode_utf16(data: bytes, codec: str, name: str) -> Decoded:
    """UTF-16 text; half characters become U+FFFD and are told as one problem."""
    text = data.decode(codec, "replace").removeprefix("\ufeff")
    try:
        data.decode(codec)
    except UnicodeDecodeError as bad:
        message = (f"{name}: bytes from {bad.start} (0x{data[bad.start : bad.end].hex().upper()}) are no UTF-16; "
                   f"what cannot be read is shown as {REPLACEMENT}")  # fmt: skip
        place = text.find(REPLACEMENT)
        return Decoded(text, (Problem(message, place, place + 1),))
    return Decoded(text, ())


def _decode_utf8(data: bytes, name: str) -> Decoded:
    """UTF-8 text; wrong bytes are named, up to a number, unless they are so many that it is another encoding."""
    mark = len(codecs.BOM_UTF8) if data.startswith(codecs.BOM_UTF8) else 0
    text = data[mark:].decode("utf-8", "replace")
    if REPLACEMENT not in text:
        return Decoded(text, ())
    _refuse_binary(text, name)
    bad = bad_bytes(data, text, mark)
    _refuse_legacy(data, text, bad, name)
    places = Places(text)
    problems = [_bad_byte_problem(one, places) for one in bad[:_MOST_NAMED]]
    if len(bad) > _MOST_NAMED:
        rest = bad[_MOST_NAMED:]
        problems.append(Problem(f"{len(rest)} more bytes are no UTF-8, from {places.of(rest[0].character)}",
                                rest[0].character, rest[-1].character + 1))  # fmt: skip
    return Decoded(text, tuple(problems))


def bad_bytes(data: bytes, text: str, mark: int = 0) -> list[BadBytes]:
    """The bytes that each U+FFFD of `text` stands for, in one pass; a U+FFFD that the file itself holds is none."""
    found = []
    byte, character = mark, 0
    for piece in text.split(REPLACEMENT)[:-1]:
        byte += len(piece.encode())
        character += len(piece)
        length = _bad_length(data[byte : byte + 4])
        if length:
            found.append(BadBytes(data[byte : byte + length], byte, character))
        byte += length or len(REPLACEMENT.encode())
        character += 1
    return found


def _bad_length(head: bytes) -> int:
    """How many of the bytes at `head` one U+FFFD stands for: 0 where a character can be read."""
    try:
        head.decode("utf-8")
    except UnicodeDecodeError as bad:
        return bad.end if bad.start == 0 else 0
    return 0


def _bad_byte_problem(bad: BadBytes, places: Places) -> Problem:
    try:
        hint = f" (in Windows-1252 it would be {bad.value.decode('cp1252')!r})"
    except UnicodeDecodeError:
        hint = ""
    message = (f"byte 0x{bad.value.hex().upper()} at byte offset {bad.byte} ({places.of(bad.character)}) "
               f"is no UTF-8{hint}; it is shown as {REPLACEMENT}")  # fmt: skip
    return Problem(message, bad.character, bad.character + 1)


def _refuse_legacy(data: bytes, text: str, bad: list[BadBytes], name: str) -> None:
    """Raises UnusableInput where wrong bytes are many and outnumber the right characters beyond ASCII."""
    right = sum(1 for character in text if character > "\x7f" and character != REPLACEMENT)
    if len(bad) > 3 and len(bad) > right and len(bad) * 100 > len(data):
        first = bad[0]
        raise UnusableInput(
            f"{name} is no UTF-8 or UTF-16 text ({len(bad)} wrong bytes, the first 0x{first.value.hex().upper()} at "
            f"byte {first.byte}): save it as UTF-8; if it is Windows-1252, iconv -f WINDOWS-1252 -t UTF-8 does it"
        )


def _refuse_binary(text: str, name: str) -> None:
    """Raises UnusableInput where control characters are too many for text."""
    sample = text[:100_000]
    if len(_CONTROL.findall(sample)) * 100 > len(sample):
        raise UnusableInput(f"{name} is a binary file, not text: notes are text, captions, chat logs, JSON or audio")
