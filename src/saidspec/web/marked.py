"""The words of a note cut into pieces, each with the facts and unclaimed numbers that rest on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the text that something rests on: a fact (its id) or an unclaimed number (None)."""

    start: int
    end: int
    fact: int | None = None
    state: str = "open"  # open, confirmed, corrected, rejected, done


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of the text that holds no boundary, and what it belongs to, the shortest span first."""

    text: str
    spans: tuple[Span, ...] = ()


def pieces(text: str, spans: Iterable[Span], start: int = 0, end: int | None = None) -> list[Piece]:
    """The text from `start` to `end`, cut wherever a span begins or ends; the pieces joined are that text."""
    end = len(text) if end is None else end
    clipped = (Span(max(span.start, start), min(span.end, end), span.fact, span.state) for span in spans)
    held = [span for span in clipped if span.start < span.end]
    cuts = sorted({start, end, *(span.start for span in held), *(span.end for span in held)})
    starting: dict[int, list[Span]] = {}
    for span in held:
        starting.setdefault(span.start, []).append(span)
    told: list[Piece] = []
    here: list[Span] = []
    for at, to in pairwise(cuts):
        here = [span for span in here if span.end > at] + starting.get(at, [])
        shortest = sorted(here, key=lambda span: span.end - span.start)
        told.append(Piece(text[at:to], tuple(shortest)))
    return told
