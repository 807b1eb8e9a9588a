"""Words, figures and marks of a text, with their offsets."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import NamedTuple

# A figure keeps its separators (87,450, 87'450, 1.234.567, 1.74, 9,80); letters and figures are always parted (T25 is
# T, 25), which `codes.py` puts together again; a fraction of one character stands alone; day and month of 14.3.2024 are
# figures of their own; an ordinal (2nd) is a word; a contraction keeps its n't, while 's, 'll, 're, 've, 'd, 'm stand
# alone.
TOKEN = re.compile(
    r"""
    (?P<word>[^\W\d_¼½¾⅐-⅞]+(?:['’]t\b)?)
  | (?P<ordinal>(?<![\w.,])\d+(?:st|nd|rd|th)s?\b)
  | (?P<figure>(?<![\d.])\d{1,2}(?=\.\d{1,2}\.(?:19|20)\d\d(?!\d))|(?<=\d\.)\d{1,2}(?=\.(?:19|20)\d\d(?!\d))
    |\d{1,3}(?:,\d{3})+(?:\.\d+)?(?!\d)|\d{1,3}(?:['’]\d{3})+(?!\d)|\d{1,3}(?:\.\d{3}){2,}(?![\d.])
    |\d+\.\d+|(?<![\w.])\.\d+|(?<![\d,])\d+,\d{1,2}(?![\d,]|\.\d)|\d+)
  | (?P<suffix>['’](?:s|ll|re|ve|d|m)\b)
  | (?P<glyph>[¼½¾⅐-⅞])
  | (?P<mark>\n|\.{2,}|…|[^\w\s]|_)
    """,
    re.VERBOSE | re.IGNORECASE,
)


class Token(NamedTuple):
    """A piece of text start..end; `kind` is figure, word, suffix or mark; `lower` is what it says in lower case."""

    start: int
    end: int
    lower: str
    kind: str


def tokens(text: str) -> list[Token]:
    """The tokens of a text, in order; white space other than a line end is between them and none of them."""
    lower = text.lower().replace("’", "'")
    if len(lower) != len(text):  # a letter that is two in lower case
        return [Token(*hit.span(), hit[0].lower().replace("’", "'"), KINDS[hit.lastgroup or "word"])
                for hit in TOKEN.finditer(text)]
    return [Token(start, end, lower[start:end], KINDS[hit.lastgroup or "word"])
            for hit in TOKEN.finditer(text) for start, end in (hit.span(),)]


def word_at(toks: list[Token], at: int) -> str:
    """What token `at` says in lower case; empty outside of the text."""
    return toks[at].lower if 0 <= at < len(toks) else ""


KINDS = {"ordinal": "word", "glyph": "word", "figure": "figure", "suffix": "suffix", "word": "word", "mark": "mark"}


def figure_value(figure: str) -> Decimal:
    """The number that a figure token writes: 87,450 → 87450; 9,80 → 9.80; 1.234.567 → 1234567; .5 → 0.5."""
    if THOUSANDS.fullmatch(figure):
        return Decimal(re.sub(r"[,'](?=\d{3})", "", figure) if "," in figure or "'" in figure
            else figure.replace(".", ""))
    text = figure.replace(",", ".")
    return Decimal("0" + text if text.startswith(".") else text)


THOUSANDS = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d{1,3}(?:'\d{3})+|\d{1,3}(?:\.\d{3}){2,}")
