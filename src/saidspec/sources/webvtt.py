"""WebVTT captions (W3C, WebVTT: The Web Video Text Tracks Format, section 6.1), with the place of every cue.

A parser without offsets cannot serve here; webvtt-py is the oracle in the tests.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from saidspec.model import Problem
from saidspec.sources.captions import LIKE_TIMES, STAMP, Cue, broken, cue_times, utterances_of
from saidspec.sources.content import Content
from saidspec.sources.lines import Line, lines_of

HEADER = re.compile(r"WEBVTT(?=[ \t\r\n]|\Z)")
_TIMES = re.compile(rf"\s*(?P<start>{STAMP})\s*-->\s*(?P<end>{STAMP})(?:[ \t]+.*)?\s*")
_ASIDE = re.compile(r"(?:NOTE|STYLE|REGION)(?=[ \t]|\Z)")


def read(text: str) -> Content:
    """The cues of a WebVTT text as utterances; a broken cue is a problem, and its words have no time."""
    problems: list[Problem] = []
    cues: list[Cue] = []
    blocks = list(blocks_of(text))
    if blocks and HEADER.match(blocks[0][0].text):
        first = next((index for index, line in enumerate(blocks[0]) if "-->" in line.text), None)
        blocks[:1] = [blocks[0][first:]] if first else []
    else:
        problems.append(Problem("line 1: the WEBVTT header is missing; the captions are read all the same", 0, 0))
    for block in blocks:
        if all(line.blank for line in block):
            continue
        if not _ASIDE.match(block[0].text) or any("-->" in line.text for line in block[:2]):
            found, wrong = _cues(block)
            cues += found
            problems += wrong
    return Content(text, utterances_of(text, cues), tuple(problems))


def blocks_of(text: str) -> Iterator[list[Line]]:
    """The runs of lines between empty ones.

    A line of blanks alone is a line of its caption (automatic captions have them), unless a new cue follows it.
    """
    lines = list(lines_of(text))

    def parts(line: Line) -> bool:
        following = lines[line.number : line.number + 2]  # its number counts from 1
        return not line.text or (line.blank and any("-->" in after.text for after in following))

    return (list(some) for apart, some in groupby(lines, key=parts) if not apart)


def _cues(block: list[Line]) -> tuple[list[Cue], list[Problem]]:
    """The cues of one block: one as a rule, more where the blank line between two was forgotten."""
    cues: list[Cue] = []
    problems: list[Problem] = []
    arrows = [index for index, line in enumerate(block) if "-->" in line.text]
    if not arrows:
        return _untimed(block)
    if arrows[0] > 1:
        found, wrong = _untimed(block[: arrows[0]])
        cues += found
        problems += wrong
    for index, after in zip(arrows, [*arrows[1:], len(block)], strict=True):
        line = block[index]
        match = _TIMES.fullmatch(line.text)
        cue = Cue(tuple(block[index + 1 : after]))
        if match:
            start, end, wrong_times = cue_times(match["start"], match["end"], line)
            cue = replace(cue, time=start, time_end=end)
            problems += wrong_times
        else:
            problems.append(broken(line))
        cues.append(cue)
    return cues, problems


def _untimed(block: list[Line]) -> tuple[list[Cue], list[Problem]]:
    """A block without a time line: its words are kept, without what looks like a broken time line."""
    stamps = [line for line in block if LIKE_TIMES.fullmatch(line.text)]
    if stamps:
        rest = block[block.index(stamps[0]) + 1 :]
        return ([Cue(tuple(rest))] if rest else []), [broken(stamps[0])]
    message = f"line {block[0].number}: words without a caption time ({block[0].text.strip()[:60]!r}); read without one"
    return [Cue(tuple(block))], [Problem(message, block[0].start, block[-1].end)]
