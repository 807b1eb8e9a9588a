"""Words, figures and marks of a text, with their offsets."""

from __future__ import annotations

import re
from dataclasses import dataclass

# A figure keeps its separators (87,450 and 1.74); letters and figures are always parted (T25 is T, 25), which
# `codes.py` puts together again; a contraction keeps its n't, while 's, 'll, 're, 've, 'd, 'm stand alone.
TOKEN = re.compile(
    r"""
    (?P<figure>\d{1,3}(?:,\d{3})+(?:\.\d+)?(?!\d)|\d+\.\d+|(?<![\w.])\.\d+|\d+)
  | (?P<suffix>['’](?:s|ll|re|ve|d|m)\b)
  | (?P<word>[^\W\d_]+['’]t\b|[^\W\d_]+)
  | (?P<mark>\n|\.{2,}|…|[^\w\s]|_)
    """,
    re.VERBOSE | re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of text start..end; `kind` is figure, word, suffix or mark; `lower` is what it says in lower case."""

    start: int
    end: int
    lower: str
    kind: str


def tokens(text: str) -> list[Token]:
    """The tokens of a text, in order; white space other than a line end is between them and none of them."""
    return [
        Token(hit.start(), hit.end(), hit.group().lower().replace("’", "'"), hit.lastgroup or "word")
        for hit in TOKEN.finditer(text)
    ]
