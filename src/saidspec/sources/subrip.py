"""SubRip captions: a number, a time line, the words, a blank line.

The format has no standard; what is read is what its files hold: commas or points before the milliseconds, numbers
missing or wrong, placements after the times, blank lines within the words.
"""

from __future__ import annotations

import re
from dataclasses import replace

from saidspec.model import Problem
from saidspec.sources.captions import LIKE_TIMES, STAMP, Cue, broken, cue_times, utterances_of
from saidspec.sources.content import Content
from saidspec.sources.lines import Line, lines_of

TIMES = re.compile(rf"\s*(?P<start>{STAMP})\s*-{{1,2}}>\s*(?P<end>{STAMP})(?:[ \t]+.*)?\s*")
_NUMBER = re.compile(r"\s*\d{1,6}\s*")


def read(text: str) -> Content:
    """The cues of a SubRip text as utterances; a broken time line is a problem, and its words have no time."""
    lines = list(lines_of(text))
    heads = [index for index, line in enumerate(lines) if LIKE_TIMES.fullmatch(line.text)]
    problems: list[Problem] = []
    cues: list[Cue] = []
    before = _words(lines, 0, heads[0] if heads else len(lines), numbered=bool(heads))
    if before:
        message = f"line {before[0].number}: words before the first caption time; read without a time"
        problems.append(Problem(message, before[0].start, before[-1].end))
        cues.append(Cue(before))
    for head, after in zip(heads, [*heads, len(lines)][1:], strict=True):
        cue = Cue(_words(lines, head + 1, after, numbered=after < len(lines)))
        match = TIMES.fullmatch(lines[head].text)
        if match:
            start, end, wrong = cue_times(match["start"], match["end"], lines[head])
            problems += wrong
            cue = replace(cue, time=start, time_end=end)
        else:
            problems.append(broken(lines[head]))
        cues.append(cue)
    return Content(text, utterances_of(text, cues), tuple(problems))


def _words(lines: list[Line], start: int, end: int, *, numbered: bool) -> tuple[Line, ...]:
    """The lines of a cue from start to the next time line, without that one's number.

    A number is the next caption's only where it stands alone after a blank line (or before any words at all).
    """
    if numbered and end - 1 >= start and _NUMBER.fullmatch(lines[end - 1].text) and (
            end - 2 < start or lines[end - 2].blank):  # fmt: skip
        end -= 1
    return tuple(line for line in lines[start:end] if not line.blank)
