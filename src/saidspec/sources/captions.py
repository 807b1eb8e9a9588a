"""Caption cues, whatever file they stand in: inline markup, speakers, and captions that roll up.

The two readers (`webvtt`, `subrip`) find the cues; this module turns a cue's lines into utterances.  Markup is
WebVTT's (W3C, WebVTT: The Web Video Text Tracks Format, sections 4.2 and 6.4) and the HTML-like tags and braces that
SubRip files carry.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from saidspec.model import Problem, Utterance
from saidspec.sources.lines import Line, trimmed

STAMP = r"(?:(\d{1,4}):)?([0-5]?\d):([0-5]\d)[.,](\d{1,3})"
_STAMP = re.compile(STAMP)
_MARKUP = re.compile(
    r"<(?:(?P<tag>/?(?:c|i|b|u|s|em|strong|ruby|rt|br)(?:\.[^<>\s]*)?\s*/?|/?(?:v|lang|font|span|p)(?:[\s./][^<>]*)?)"
    r"|(?P<stamp>(?:\d{1,4}:)?[0-5]?\d:[0-5]\d[.,]\d{3}))>"
    r"|\{\\[^{}]*\}"  # placement in SubRip files
    r"|&(?:nbsp|lrm|rlm|amp|lt|gt);"
    r"|>> ?"  # a change of speaker in broadcast captions
)
# A time line that someone or something has damaged: "00:0x:01,000 --> …", "00:01.000 -> 00:02.000", one stamp alone.
LIKE_TIMES = re.compile(
    r".*-->.*|\s*\d{1,4}:[\d:.,oOxX?]*\s*[-=–—]{1,3}>?\s*[\d:.,oOxX?]*\s*|\s*[\d:.,]{4,}\s*->.*"
    r"|\s*\d+:\d\d:\d\d[.,]\d+\s*"
)
_VOICE = re.compile(r"v(?:\.[^\s.>]+)*[ \t]+(?P<name>[^<>]+)")
_DASH = re.compile(r"\s*[-–—]\s+")


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption: the lines that were shown, and its seconds; no times where its time line is broken."""

    lines: tuple[Line, ...]
    time: float | None = None
    time_end: float | None = None


class Piece(NamedTuple):
    """A stretch of a cue without markup, the speaker its tags name, and the time a stamp within gives it."""

    start: int
    end: int
    speaker: str | None
    time: float | None


def seconds(stamp: str) -> float | None:
    """The seconds of `1:02:03.456`, `02:03.456` or the same with a comma; None for anything else."""
    match = _STAMP.fullmatch(stamp.strip())
    if not match:
        return None
    hours, minutes, whole, part = match.groups()
    return int(hours or 0) * 3600 + int(minutes) * 60 + int(whole) + int(part.ljust(3, "0")) / 1000


def cue_times(start: str, end: str, line: Line) -> tuple[float | None, float | None, tuple[Problem, ...]]:
    """The seconds of a time line's two stamps; a cue that ends before it starts keeps its start alone."""
    begins, ends = seconds(start), seconds(end)
    if begins is None:
        return None, None, (broken(line),)
    if ends is None or ends < begins:
        message = f"line {line.number}: the caption ends before it starts or at no time that can be read"
        return begins, None, (Problem(f"{message} ({line.text.strip()[:60]!r})", line.start, line.end),)
    return begins, ends, ()


def broken(line: Line) -> Problem:
    """The problem of a caption whose time line cannot be read; its words are kept without a time."""
    message = f"line {line.number}: the caption's time line cannot be read ({line.text.strip()[:60]!r})"
    return Problem(f"{message}; its words are read without a time", line.start, line.end)


def utterances_of(text: str, cues: list[Cue]) -> tuple[Utterance, ...]:
    """One utterance a cue, more where markup or a change of speaker divides it; nothing shown twice is said twice."""
    said: list[Utterance] = []
    for cue in _unrolled(cues):
        said.extend(_cue_utterances(text, cue))
    return tuple(said)


def _cue_utterances(text: str, cue: Cue) -> list[Utterance]:
    said: list[Utterance] = []
    for lines in _turns(cue.lines):
        start = lines[0].start
        dash = _DASH.match(text, start, lines[-1].end)
        fresh = True
        for piece in _pieces(text, dash.end() if dash else start, lines[-1].end):
            one = Utterance(piece.start, piece.end, time=piece.time if piece.time is not None else cue.time,
                            time_end=cue.time_end, speaker=piece.speaker, continues=not fresh)  # fmt: skip
            if said and piece.time is not None and said[-1].time is not None and piece.time >= said[-1].time:
                said[-1] = replace(said[-1], time_end=piece.time)
            if said and piece.speaker != said[-1].speaker:
                one = replace(one, continues=False)
            said.append(one)
            fresh = False
    return said


def _turns(lines: tuple[Line, ...]) -> list[list[Line]]:
    """The lines of a cue, divided where each begins with a dash: two people in one caption."""
    seen = [line for line in lines if not line.blank]
    if len(seen) > 1 and all(_DASH.match(line.text) for line in seen):
        return [[line] for line in seen]
    return [seen] if seen else []


def _pieces(text: str, start: int, end: int) -> list[Piece]:
    """The stretches of start..end between its markup."""
    pieces: list[Piece] = []
    speaker, time = None, None

    def add(left: int, right: int) -> None:
        left, right = trimmed(text, left, right)
        if left < right:
            pieces.append(Piece(left, right, speaker, time))

    for match in _MARKUP.finditer(text, start, end):
        add(start, match.start())
        start = match.end()
        tag = match["tag"] or ""
        voice = _VOICE.fullmatch(tag)
        if voice:
            speaker = " ".join(voice["name"].split())
        elif tag == "/v" or match.group().startswith(">>"):
            speaker = None
        if match["stamp"]:
            time = seconds(match["stamp"])
    add(start, end)
    return pieces


def shown(text: str) -> str:
    """A caption line as it is seen: without markup, blanks made single."""
    return " ".join(_MARKUP.sub("", text).split())


def _unrolled(cues: list[Cue]) -> list[Cue]:
    """The cues without what an earlier cue already showed, in a file whose captions roll up.

    A single repeated caption may well be said twice, so lines are dropped only where most cues repeat the former's.
    """
    visible = [[shown(line.text) for line in cue.lines if not line.blank and shown(line.text)] for cue in cues]
    overlaps = [_overlap(before, now) for before, now in pairwise(visible)]
    joined = [_follows(one, two) for one, two in pairwise(cues)]
    repeats = [near and overlap.lines > 0 for overlap, near in zip(overlaps, joined, strict=True)]
    rolling = sum(repeats) * 2 > len(repeats)
    kept = cues[:1]
    for index, (overlap, repeat) in enumerate(zip(overlaps, repeats, strict=True), start=1):
        cue, before = cues[index], cues[index - 1]
        same = visible[index] == visible[index - 1] and cue.time is not None and cue.time == before.time
        if same and cue.time_end == before.time_end:
            continue
        if rolling and repeat:
            lines = [line for line in cue.lines if not line.blank and shown(line.text)]
            kept.append(replace(cue, lines=_without(lines, overlap)))
        else:
            kept.append(cue)
    return kept


class Overlap(NamedTuple):
    """How many lines a cue repeats, and how many characters of the last of them; 0 characters: all of it."""

    lines: int
    characters: int


def _overlap(before: list[str], now: list[str]) -> Overlap:
    """The longest end of the former cue that the present one begins with; its last line may have grown."""
    for count in range(min(len(before), len(now)), 0, -1):
        ending = before[-count:]
        if ending == now[:count]:
            return Overlap(count, 0)
        if ending[:-1] == now[: count - 1] and now[count - 1].startswith(ending[-1] + " "):
            return Overlap(count, len(ending[-1]))
    return Overlap(0, 0)


def _follows(before: Cue, now: Cue) -> bool:
    """True if a cue comes on while the former is still shown or has just gone."""
    if before.time is None or now.time is None:
        return False
    return now.time - (before.time_end if before.time_end is not None else before.time) <= 1.0


def _without(lines: list[Line], overlap: Overlap) -> tuple[Line, ...]:
    """The lines of a cue without what it repeats."""
    if not overlap.characters:
        return tuple(lines[overlap.lines :])
    grown = lines[overlap.lines - 1]
    cut = _raw_length(grown.text, len(shown(grown.text)[: overlap.characters].replace(" ", "")))
    rest = Line(grown.number, grown.start + cut, grown.end, grown.text[cut:])
    return (rest, *lines[overlap.lines :])


def _raw_length(line: str, seen: int) -> int:
    """How far into a line its first `seen` characters reach, blanks and markup not counted."""
    marks = [match.span() for match in _MARKUP.finditer(line)]
    place = 0
    for start, end in [*marks, (len(line), len(line))]:
        while place < start and seen:
            seen -= not line[place].isspace()
            place += 1
        if not seen:
            return place
        place = end
    return place
