"""What was said, without the marks of the file around it: the first alignment of a note."""

from __future__ import annotations

import re

from saidspec.model import Note, Utterance
from saidspec.normalise.aligned import Aligned, Edit

CAPTIONS = {"webvtt", "vtt", "subrip", "srt"}
# Line ends with the blanks around them, runs of blanks, and blanks other than the plain one (no-break, thin ...).
BLANK = r" \t\u00a0\u2007\u2009\u202f"
SPACE = re.compile(rf"[{BLANK}]*\r?\n[{BLANK}]*(?:>[ \t]*)?|[{BLANK}]{{2,}}|[{BLANK[1:]}]")
PAUSE = 0.8  # seconds
IN_WORD_HYPHEN = re.compile(  # "cross-threaded", "spin-on filter"
    r"[-‐‑](?:(?<=[A-Za-z].)(?=[A-Za-z]{3})|(?<=[a-z]{3}.)(?=(?:up|on|in)\b))")
POINT_HYPHEN = re.compile(r"[-‐‑](?:(?<=\d.)(?=point[ ‐‑-]\d)|(?<=\d[-‐‑]point.)(?=\d))", re.IGNORECASE)  # "4-point 1"
SOCKET_POINTS = re.compile(  # "a 12-point 17 mm", "a 6-point 8 mm socket": no decimal
    r"(?<!\d)(?:6|8|12)[-‐‑]point \d\d\s?m|\d[-‐‑]point \d+\D{1,15}\bsocket", re.IGNORECASE)


def speech(note: Note) -> Aligned:
    """The utterances of a note joined by line ends, or by spaces where captions run on; white space made single."""
    runs_on = (
        note.source.format in CAPTIONS
        or note.source.format == "stamped"
        or note.source.format.startswith(("transcript", "audio"))
    )
    edits: list[Edit] = []
    at = 0
    for utterance in note.utterances:
        gap = note.text[at : utterance.start]
        if at or gap:
            edits.append(Edit(at, utterance.start, _joint(at, utterance, runs_on), "layout"))
        edits += _inside(note.text, utterance)
        at = utterance.end
    if at < len(note.text):
        edits.append(Edit(at, len(note.text), "", "layout"))
    return Aligned.of(note.text).edited(edits)


def _joint(at: int, utterance: Utterance, runs_on: bool) -> str:
    if at == 0:
        return ""
    return " " if (runs_on or utterance.continues) and not utterance.heading else "\n"


def _inside(text: str, utterance: Utterance) -> list[Edit]:
    words = text[utterance.start : utterance.end]
    found = [
        Edit(utterance.start + hit.start(), utterance.start + hit.end(), " ", "layout") for hit in SPACE.finditer(words)
    ]
    found += [
        Edit(utterance.start + hit.start(), utterance.start + hit.end(), " ", "hyphen")
        for hit in (*IN_WORD_HYPHEN.finditer(words), *_decimal_hyphens(words))
    ]
    pauses = {edit.start: edit for edit in _pauses(text, utterance)}
    found = [edit for edit in found if edit.start not in pauses] + list(pauses.values())
    return sorted(found, key=lambda edit: edit.start)


def _decimal_hyphens(words: str) -> list[re.Match[str]]:
    """The hyphens that a recogniser wrote around the point of a decimal: "4-point 1 litres"."""
    found = list(POINT_HYPHEN.finditer(words))
    sockets = [hit.span() for hit in SOCKET_POINTS.finditer(words)] if found else []
    return [hit for hit in found if not any(start <= hit.start() < end for start, end in sockets)]


def _pauses(text: str, utterance: Utterance) -> list[Edit]:
    """Two spaces where the speaker paused between two words: a number does not go on behind them."""
    return [
        Edit(one.end, other.start, "  ", "pause")
        for one, other in zip(utterance.words, utterance.words[1:], strict=False)
        if other.time - one.time_end > PAUSE and one.end < other.start and not text[one.end : other.start].strip()
    ]
