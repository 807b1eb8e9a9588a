"""From a file to a note: its format is told by what it holds, its name only helps where the content does not tell."""

from __future__ import annotations

import hashlib
import re
from datetime import date
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from saidspec.model import Note, Problem, Source, UnusableInput
from saidspec.sources import chat, markdown, plain, stamped, subrip, transcript, webvtt
from saidspec.sources.content import Content
from saidspec.sources.encoding import decode
from saidspec.sources.lines import lines_of

if TYPE_CHECKING:
    from saidspec.sources.transcription import Listening

FORMATS = ("text", "markdown", "webvtt", "subrip", "chat", "stamped", "transcript", "audio")
AUDIO_SUFFIXES = (".wav", ".mp3", ".m4a", ".aac", ".opus", ".ogg", ".oga", ".flac", ".webm", ".3gp", ".mp4", ".amr")
_DATED = re.compile(r"(\d{4}-\d{2}-\d{2})(?!\d)")
_SNIFFED = 20_000  # characters looked at to tell the format


def read_note(path: Path, *, day: date | None = None, listening: Listening | None = None) -> Note:
    """The note in a file of text, captions, chat, JSON or sound; `day` is the day it was spoken, where known.

    `listening` says how a recording is heard.  Raises UnusableInput for a file that is missing, empty, a folder,
    binary, or in no form that is read.
    """
    head = read_bytes(path, 16)
    if is_audio(head):
        from saidspec.sources.audio import read_audio

        return read_audio(path, day=day or day_of_name(path.name), listening=listening)
    if path.suffix.lower() in AUDIO_SUFFIXES and head:
        raise UnusableInput(
            f"{path} is named as a recording but holds no sound that is known; "
            "if it is a text note, give it a name ending in .txt"
        )
    return read_text(read_bytes(path), path.name, day=day)


def read_bytes(path: Path, most: int = -1) -> bytes:
    """The bytes of a file, all or the first `most`.  Raises UnusableInput where there are none to be had."""
    try:
        with path.open("rb") as file:
            return file.read(most)
    except FileNotFoundError:
        raise UnusableInput(f"{path}: no such file") from None
    except IsADirectoryError:
        raise UnusableInput(f"{path} is a folder: give one of its files") from None
    except (OSError, ValueError) as bad:
        reason = getattr(bad, "strerror", None) or str(bad)
        raise UnusableInput(f"{path} cannot be read: {reason}") from bad


def read_text(data: bytes, name: str, *, day: date | None = None) -> Note:
    """The note in the bytes of a text; `name` is the file's, or `-` for standard input.

    Raises UnusableInput where the bytes are no text, hold no words, or are JSON but no transcript.
    """
    if is_audio(data):
        raise UnusableInput(f"{name} is a recording: give it as a file")
    decoded = decode(data, name)
    kind = sniff(decoded.text, name)
    content = _content(kind, decoded.text, name, day)
    if not content.utterances:
        raise UnusableInput(f"{name} holds no words: there is nothing to read")
    problems: tuple[Problem, ...] = content.problems
    if kind != "transcript":
        problems = decoded.problems + problems
    elif decoded.problems:  # their places are in the JSON, not in the note's text
        problems = tuple(Problem(problem.message) for problem in decoded.problems) + problems
    source = Source(name=name, sha256=hashlib.sha256(data).hexdigest(), format=kind)
    return Note(source, content.text, content.utterances, problems, day or content.date or day_of_name(name))


def day_of_name(name: str) -> date | None:
    """The day that begins a file's name, "2026-03-14-fork-oil.txt"; None where there is none."""
    found = _DATED.match(name)
    try:
        return date.fromisoformat(found[1]) if found else None
    except ValueError:
        return None


def sniff(text: str, name: str) -> str:
    """The format of a text, one of FORMATS: by content, by the name's ending where the content does not tell.

    Raises UnusableInput for JSON that is cut off or broken.
    """
    suffix = PurePath(name).suffix.lower()
    head = text[:_SNIFFED]
    if webvtt.HEADER.match(head):
        return "webvtt"
    if suffix == ".json" or re.match(r"\s*(?:\{\s*[\"}]|\[\s*(?:\{\s*[\"}]|\]))", head):
        return "transcript"
    if _has_cues(head) or suffix in (".srt", ".vtt"):
        return "webvtt" if suffix == ".vtt" else "subrip"
    if chat.is_chat(text):
        return "chat"
    if stamped.is_stamped(text):
        return "stamped"
    if suffix in (".md", ".markdown") or _looks_like_markdown(head):
        return "markdown"
    return "text"


def _has_cues(head: str) -> bool:
    return any(subrip.TIMES.fullmatch(line.text) for line in lines_of(head))


def _looks_like_markdown(head: str) -> bool:
    """True for text with a heading of number signs on a line of its own before an empty or a listed line."""
    lines = [line.text for line in lines_of(head)]
    return any(
        markdown.HEADING.match(line) and (not after.strip() or after.lstrip()[:1] in "-*#>")
        for line, after in zip(lines, [*lines[1:], ""], strict=True)
    )


def _content(kind: str, text: str, name: str, day: date | None) -> Content:
    if kind == "transcript":
        return transcript.read(transcript.load(text, name), name)
    if kind == "chat":
        return chat.read(text, day or day_of_name(name))
    readers = {"webvtt": webvtt.read, "subrip": subrip.read, "stamped": stamped.read, "markdown": markdown.read}
    return readers.get(kind, plain.read)(text)


def is_audio(data: bytes) -> bool:
    """True for bytes that begin as sound or film files do (each format's own specification)."""
    head = data[:16]
    return (
        (head[:4] == b"RIFF" and head[8:12] == b"WAVE")
        or head[:5] in (b"OggS\x00", b"fLaC\x00", b"caff\x00")
        or head[:4] == b"\x1a\x45\xdf\xa3"
        or (head[:4] == b"FORM" and head[8:12] in (b"AIFF", b"AIFC"))
        or (head[4:8] == b"ftyp" and head[:1] == b"\x00")
        or (head[:3] == b"ID3" and head[3:4] < b"\x10")
        or head.startswith(b"#!AMR")
        or (len(head) > 1 and head[0] == 0xFF and head[1] & 0xE0 == 0xE0 and head[1] not in (0xFE, 0xFF))
    )
