"""Text with a time of the recording before each line, as recognisers print it: `[00:12.000 --> 00:15.500]  words`."""

from __future__ import annotations

import re

from saidspec.model import Utterance
from saidspec.sources.captions import seconds
from saidspec.sources.content import Content
from saidspec.sources.lines import Line, lines_of, trimmed

_PART = r"(?:\d{1,3}:)?\d{1,3}:\d{2}(?:[.,]\d{1,3})?"
STAMP = re.compile(
    rf"\s*(?:\[(?P<a>{_PART})(?:\s*-{{1,2}}>\s*(?P<b>{_PART}))?\]|\((?P<c>{_PART})\)"
    r"|(?P<d>\d{1,2}:\d{2}:\d{2})(?=\s))[:\s]*"
)


def is_stamped(text: str) -> bool:
    """True if at least two lines begin with a time and most of the first lines with words do."""
    lines = [line for line in lines_of(text[:20_000]) if not line.blank]
    stamped = sum(1 for line in lines if STAMP.match(line.text))
    return stamped >= 2 and stamped * 2 >= len(lines)


def read(text: str) -> Content:
    """One utterance a stamped line, with the lines that follow it up to the next stamp."""
    groups: list[tuple[re.Match[str] | None, list[Line]]] = []
    for line in lines_of(text):
        match = STAMP.match(line.text)
        if match or not groups:
            groups.append((match, [line]))
        else:
            groups[-1][1].append(line)
    said: list[Utterance] = []
    for match, lines in groups:
        start, end = trimmed(text, lines[0].start + (match.end() if match else 0), lines[-1].end)
        if start < end:
            begins = _time(match["a"] or match["c"] or match["d"]) if match else None
            ends = _time(match["b"]) if match and match["b"] else None
            said.append(Utterance(start, end, time=begins, time_end=ends))
    return Content(text, tuple(said))


def _time(stamp: str) -> float | None:
    """Seconds of `1:02:03`, `02:03` or either with a part of a second."""
    return seconds(stamp if re.search(r"[.,]", stamp) else f"{stamp}.000")
