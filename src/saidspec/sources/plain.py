"""Plain text: one utterance a line, or a paragraph where its lines are merely wrapped."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby, pairwise

from saidspec.model import Utterance
from saidspec.sources.content import Content
from saidspec.sources.lines import Line, lines_of, trimmed

# A bullet is followed by a blank; a plus sign before a figure is no bullet ("+ 90 degrees").
_BULLET = re.compile(r"\s*(?:[-*•‣◦–—]|\+(?!\s*\d))\s+(?:\[[xX]\]\s+)?(?=\S)")
_NUMBERED = re.compile(r"\s*(?P<number>\d{1,3})[.)]\s+(?=\S)")
_WRAP_MIN, _WRAP_MAX = 45, 120  # widths at which people and programs wrap text; longer lines are dictated paragraphs


def read(text: str) -> Content:
    """The lines or paragraphs of a text as utterances."""
    said: list[Utterance] = []
    for block in paragraphs(lines_of(text)):
        for start, end, item in _stretches(block):
            start, end = trimmed(text, start, end)
            if start < end:
                said.append(Utterance(start, end, item=item))
    return Content(text, tuple(said))


def paragraphs(lines: Iterable[Line]) -> Iterable[list[Line]]:
    """The runs of lines between blank ones."""
    return (list(some) for blank, some in groupby(lines, key=lambda line: line.blank) if not blank)


def _stretches(block: list[Line]) -> Iterable[tuple[int, int, bool]]:
    """The utterances of one block: start, end, and whether it is an entry of a list."""
    group: list[Line] = []
    skip, item, last_number = 0, False, 0
    wraps = wrap_width(block)
    for line in block:
        bullet = _BULLET.match(line.text)
        numbered = None if bullet else _NUMBERED.match(line.text)
        if numbered and int(numbered["number"]) not in (1, last_number + 1 if last_number else 1):
            numbered = None  # a figure at the head of a wrapped line
        mark = bullet or numbered
        if group and (mark or not continues(group[-1], line, wraps)):
            yield group[0].start + skip, group[-1].end, item
            group = []
        if not group:
            skip, item = (mark.end(), True) if mark else (0, False)
        if numbered:
            last_number = int(numbered["number"])
        group.append(line)
    yield group[0].start + skip, group[-1].end, item


def wrap_width(block: list[Line]) -> int:
    """The width at which a block's lines are wrapped; 0 where some line had room for the next one's first word."""
    width = max(len(line.text.rstrip()) for line in block)
    full = all(_full(line, following, width) for line, following in pairwise(block))
    return width if full and _WRAP_MIN <= width <= _WRAP_MAX else 0


def _full(line: Line, following: Line, width: int) -> bool:
    """True if the next line's first word did not fit on this one, or the next one begins with a list mark."""
    if _BULLET.match(following.text) or _NUMBERED.match(following.text):
        return True
    return len(line.text.rstrip()) + 1 + len(following.text.split(maxsplit=1)[0]) > width


def continues(line: Line, following: Line, width: int) -> bool:
    """True if the next line goes on with this one: its first word did not fit, or it is indented under a list mark."""
    if (_BULLET.match(line.text) or _NUMBERED.match(line.text)) and following.text[:2].isspace():
        return True
    return bool(width) and _full(line, following, width)
