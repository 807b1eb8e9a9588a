"""Which stretches of an edited text are the same as before, and where they are now."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from difflib import SequenceMatcher


@dataclass(frozen=True, slots=True)
class Kept:
    """Stretches that two texts have in common, in order: (start in the old, start in the new, length)."""

    blocks: tuple[tuple[int, int, int], ...]

    @property
    def characters(self) -> int:
        """How many characters the two texts share."""
        return sum(length for _, _, length in self.blocks)

    def move(self, start: int, end: int) -> tuple[int, int] | None:
        """Where the span of the old text is in the new one; None where any of it was changed."""
        at = bisect_right(self.blocks, (start, float("inf"), 0)) - 1
        if at < 0:
            return None
        old, new, length = self.blocks[at]
        return (start - old + new, end - old + new) if end <= old + length else None


def kept(old: str, new: str) -> Kept:
    """Compare two texts, by lines and then by the words of the lines that differ."""
    if old == new:
        return Kept(((0, 0, len(old)),))
    blocks: list[tuple[int, int, int]] = []
    for tag, a, b, c, d in _compare(old, new, r"[^\n]*\n?"):
        if tag == "equal":
            blocks.append((a, c, b - a))
        elif tag == "replace":
            inner = _compare(old[a:b], new[c:d], r"\w+|\s+|[^\w\s]")
            blocks += [(a + e, c + g, f - e) for kind, e, f, g, _ in inner if kind == "equal"]
    return Kept(tuple(_joined(blocks)))


def _compare(old: str, new: str, piece: str) -> list[tuple[str, int, int, int, int]]:
    """The edits between two texts by pieces, as (tag, old start, old end, new start, new end) in characters."""
    parts = [re.findall(piece, text) for text in (old, new)]
    places = [[0], [0]]
    for words, starts in zip(parts, places, strict=True):
        for word in words:
            starts.append(starts[-1] + len(word))
    ahead = 0
    while ahead < min(map(len, parts)) and parts[0][ahead] == parts[1][ahead]:
        ahead += 1
    behind = 0
    while behind < min(map(len, parts)) - ahead and parts[0][-1 - behind] == parts[1][-1 - behind]:
        behind += 1
    middle = [words[ahead : len(words) - behind] for words in parts]
    edits = [(tag, a + ahead, b + ahead, c + ahead, d + ahead)
             for tag, a, b, c, d in SequenceMatcher(None, middle[0], middle[1]).get_opcodes()]  # fmt: skip
    ends = [len(words) for words in parts]
    edits = [("equal", 0, ahead, 0, ahead), *edits, ("equal", ends[0] - behind, ends[0], ends[1] - behind, ends[1])]
    x, y = places
    return [(tag, x[a], x[b], y[c], y[d]) for tag, a, b, c, d in edits]


def _joined(blocks: list[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
    """The blocks with those that follow each other without a gap made one."""
    told: list[tuple[int, int, int]] = []
    for old, new, length in blocks:
        if not length:
            continue
        if told and told[-1][0] + told[-1][2] == old and told[-1][1] + told[-1][2] == new:
            told[-1] = (told[-1][0], told[-1][1], told[-1][2] + length)
        else:
            told.append((old, new, length))
    return told
