"""Lines and stretches of a text with their places: what every reader of a format counts by."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from typing import NamedTuple

_LINE = re.compile(r"([^\r\n]*)(\r\n|\n|\r|\Z)")
# What can be seen of a text, from its first to its last character: neither white space nor byte order marks and the
# invisible marks of writing direction that phones put around names and stamps.
_HIDDEN = r"\s\ufeff\u200b\u200e\u200f\u202a-\u202c\u2066-\u2069"
_SEEN = re.compile(rf"[^{_HIDDEN}](?:.*[^{_HIDDEN}])?", re.DOTALL)


class Line(NamedTuple):
    """One line: its number from 1, the characters start..end without its line end, and its text."""

    number: int
    start: int
    end: int
    text: str

    @property
    def blank(self) -> bool:
        """True if nothing can be seen on the line."""
        return _SEEN.search(self.text) is None


def lines_of(text: str) -> Iterator[Line]:
    """The lines of a text; line ends are those of files (LF, CRLF, CR) and no others."""
    for number, match in enumerate(_LINE.finditer(text), start=1):
        if match.end() == match.start() == len(text) and number > 1:
            return
        yield Line(number, match.start(), match.end(1), match.group(1))


def trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch start..end without blanks and invisible marks at both ends; empty where nothing is left."""
    seen = _SEEN.search(text, start, end)
    return seen.span() if seen else (end, end)


class Places:
    """Tells the line and the column (both from 1) of a character of a text."""

    def __init__(self, text: str) -> None:
        self._starts = [line.start for line in lines_of(text)]

    def of(self, offset: int) -> str:
        """`line 3, column 14` for the character at `offset`."""
        line = max(bisect_right(self._starts, offset), 1)
        return f"line {line}, column {offset - self._starts[line - 1] + 1}"
