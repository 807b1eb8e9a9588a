"""Lines and stretches of a text with their places: what every reader of a format counts by."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from typing import NamedTuple

_LINE = re.compile(r"([^\r\n]*)(\r\n|\n|\r|\Z)")
# White space, byte order marks and the invisible marks of writing direction that phones put around names and stamps.
_BLANK = " \t\r\n\v\f\u00a0\u202f\u2009\u3000\ufeff\u200b\u200e\u200f"
_BLANK += "\x1c\x1d\x1e\x1f\x85\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u200a\u205f"
_BLANK += "\u2028\u2029\u202a\u202b\u202c\u2066\u2067\u2068\u2069"


class Line(NamedTuple):
    """One line: its number from 1, the characters start..end without its line end, and its text."""

    number: int
    start: int
    end: int
    text: str

    @property
    def blank(self) -> bool:
        """True if nothing can be seen on the line."""
        return not self.text.strip(_BLANK)


def lines_of(text: str) -> Iterator[Line]:
    """The lines of a text; line ends are those of files (LF, CRLF, CR) and no others."""
    for number, match in enumerate(_LINE.finditer(text), start=1):
        if match.end() == match.start() == len(text) and number > 1:
            return
        yield Line(number, match.start(), match.end(1), match.group(1))


def trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch start..end without blanks and invisible marks at both ends; empty where nothing is left."""
    left = text[start:end].lstrip(_BLANK)
    start = end - len(left)
    return start, start + len(left.rstrip(_BLANK))


class Places:
    """Tells the line and the column (both from 1) of a character of a text."""

    def __init__(self, text: str) -> None:
        self._starts = [line.start for line in lines_of(text)]

    def of(self, offset: int) -> str:
        """`line 3, column 14` for the character at `offset`."""
        line = max(bisect_right(self._starts, offset), 1)
        return f"line {line}, column {offset - self._starts[line - 1] + 1}"
