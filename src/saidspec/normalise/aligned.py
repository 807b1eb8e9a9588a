"""Text with edits that map back: the keystone that ties every fact to the very words of the note.

An immutable original and an ordered run of pieces.  A piece is either a stretch of the original as it is or a
replacement that stands for a stretch of the original.  A span that touches a replacement maps to the whole original
phrase.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple


class Edit(NamedTuple):
    """Replace the characters start..end of a text by `text`; `rule` is the id of the rule that says so."""

    start: int
    end: int
    text: str
    rule: str


class Piece(NamedTuple):
    """Characters start..end of the text stand for begin..finish of the original; `rule` is None where unchanged."""

    start: int
    end: int
    begin: int
    finish: int
    rule: str | None


@dataclass(frozen=True, slots=True)
class Aligned:
    """`text`, and for each of its spans the characters of `original` that it came from."""

    original: str
    text: str
    pieces: tuple[Piece, ...]
    _starts: list[int] = field(repr=False, compare=False, default_factory=list)

    @classmethod
    def of(cls, original: str) -> Aligned:
        """The text as it is, without an edit."""
        return cls._made(original, original, [Piece(0, len(original), 0, len(original), None)])

    @classmethod
    def _made(cls, original: str, text: str, pieces: list[Piece]) -> Aligned:
        return cls(original, text, tuple(pieces), [piece.start for piece in pieces])

    def _index(self, offset: int) -> int:
        return bisect_right(self._starts, offset) - 1 if self._starts else 0

    def origin(self, start: int, end: int) -> tuple[int, int]:
        """The span of the original for start..end of the text; whole phrases where it touches an edit."""
        if not self.pieces:
            return 0, 0
        first = self.pieces[self._index(start)]
        last = self.pieces[self._index(max(start, end - 1))]
        begin = first.begin if first.rule else first.begin + (start - first.start)
        finish = last.finish if last.rule else last.begin + (end - last.start)
        return begin, max(begin, min(finish, len(self.original)))

    def begins(self, offsets: Iterable[int]) -> list[int]:
        """The characters of the original at which ascending offsets of the text begin; `origin` for many of them."""
        found: list[int] = []
        pieces = iter(self.pieces)
        piece = next(pieces, Piece(0, 0, 0, 0, None))
        following = next(pieces, None)
        for offset in offsets:
            while following and following.start <= offset:
                piece, following = following, next(pieces, None)
            found.append(piece.begin if piece.rule else piece.begin + (offset - piece.start))
        return found

    def rules(self, start: int, end: int) -> tuple[str, ...]:
        """The ids of the rules whose edits the span touches, in order."""
        found = []
        for index in range(self._index(start), len(self.pieces)):
            piece = self.pieces[index]
            if piece.start >= end and piece.start > start:
                break
            if piece.rule and piece.end > start:
                found.append(piece.rule)
        return tuple(found)

    def edited(self, edits: Iterable[Edit]) -> Aligned:
        """The text after further edits, given in its own offsets, in order and not overlapping.

        An edit that touches an earlier replacement swallows it: the two become one replacement of the whole
        original phrase, which keeps what of the earlier one lies outside.
        """
        old, text, count = self.pieces, self.text, len(self.pieces)
        made: list[Piece] = []
        out: list[str] = []
        size, at, index = 0, 0, 0
        for edit in (*edits, None):
            upto = edit.start if edit else len(text)
            while at < upto and index < count:  # what lies before the edit stays as it is
                start, end, begin, finish, rule = old[index]
                stop = min(end, upto)
                if stop > at:
                    kept = (begin, finish) if rule else (begin + at - start, begin + stop - start)
                    made.append(Piece(size, size + stop - at, *kept, rule))
                    out.append(text[at:stop])
                    size += stop - at
                    at = stop
                if stop == end:
                    index += 1
            if edit is None:
                break
            begin, finish = self.origin(edit.start, edit.end) if edit.end > edit.start else self._point(edit.start)
            made.append(Piece(size, size + len(edit.text), begin, finish, edit.rule))
            out.append(edit.text)
            size += len(edit.text)
            at = edit.end
            while index < count and old[index].end <= at:
                index += 1
        return self._made(self.original, "".join(out), _joined(made))

    def _point(self, offset: int) -> tuple[int, int]:
        piece = self.pieces[self._index(offset)] if self.pieces else Piece(0, 0, 0, 0, None)
        place = piece.finish if piece.rule else piece.begin + (offset - piece.start)
        return place, place


def _joined(pieces: list[Piece]) -> list[Piece]:
    """Pieces whose originals overlap (parts of one replacement, and what was put inside it) made one."""
    made: list[Piece] = []
    for piece in pieces:
        if made and piece.begin < made[-1].finish:
            last = made.pop()
            rule = last.rule if piece.rule is None else piece.rule
            piece = Piece(last.start, piece.end, min(last.begin, piece.begin), max(last.finish, piece.finish), rule)
        made.append(piece)
    return made
