"""A marked note as lines for a terminal: its text with marks in colour or brackets, and below what they stand for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from textwrap import wrap

from saidspec.words.marks import Mark, Marked

COLOURS = {  # SGR parameters of ECMA-48
    "stated": "1;32", "quoted": "34", "planned": "36", "possible": "33", "historical": "35", "negated": "31",
    "retracted": "9;31", "put-right": "4", "no-fact": "2", "unclaimed": "1;7;31",
}  # fmt: skip
INDENT = "    "


def lines(told: Marked, *, colour: bool, width: int = 100) -> Iterator[str]:
    """The lines to print; `width`: characters in a row of text."""
    note = told.reading.note
    marks = list(told.marks)
    for utterance in note.utterances:
        here = [mark for mark in marks if utterance.start <= mark.start < utterance.end]
        for start, end in rows(note.text, utterance.start, utterance.end, here, width):
            inside = [mark for mark in here if start <= mark.start < end]
            yield painted(note.text, start, end, inside, colour)
            for mark in inside:
                yield f"{INDENT}{_style(mark.label, mark.style, colour)} {mark.told}"
    counts = {style: sum(mark.style == style for mark in marks) for style in ("put-right", "no-fact", "unclaimed")}
    yield ""
    yield (f"facts: {len(told.reading.facts)}; words put right: {counts['put-right']}; numbers known as no fact: "
           f"{counts['no-fact']}; numbers that no rule claims: {counts['unclaimed']}")
    if told.strange:
        yield from wrap(f"words that no rule file knows: {', '.join(told.strange)}", width, subsequent_indent=INDENT)
    for problem in told.reading.problems:
        yield f"problem: {problem.message}"


def rows(text: str, start: int, end: int, marks: Sequence[Mark], width: int) -> Iterator[tuple[int, int]]:
    """The text start..end parted at blanks into rows of about `width` characters, never within a mark."""
    begin, last, until = start, start, start
    spans = iter(sorted((mark.start, mark.end) for mark in marks))
    span = next(spans, None)
    for at in range(start, end):
        while span and span[0] <= at:
            until, span = max(until, span[1]), next(spans, None)
        if at - begin >= width and last > begin:
            yield begin, last
            begin = last
        if text[at].isspace() and at >= until:
            last = at + 1
    if begin < end:
        yield begin, end


def painted(text: str, start: int, end: int, marks: Sequence[Mark], colour: bool) -> str:
    """A row of text: each piece in the colour of its shortest mark, or each mark in brackets with its label behind."""
    ends = [min(mark.end, end) for mark in marks]
    cuts = sorted({start, end, *(mark.start for mark in marks), *ends})
    pieces = []
    for at, to in pairwise(cuts):
        over = [mark for mark in marks if mark.start <= at and mark.end >= to]
        piece = " ".join(text[at:to].split("\n"))
        if colour and over:
            piece = _style(piece, min(over, key=lambda mark: mark.end - mark.start).style, colour)
        opened = "" if colour else "[" * sum(mark.start == at for mark in marks)
        labels = [mark.label for mark in marks if min(mark.end, end) == to]
        closed = "".join(f"]{label}" for label in labels) if not colour else ""
        pieces.append(opened + piece + closed)
    return "".join(pieces).rstrip()


def _style(text: str, style: str, colour: bool) -> str:
    return f"\033[{COLOURS[style]}m{text}\033[0m" if colour else text
