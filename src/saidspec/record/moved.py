"""Which stretches of an edited text are the same as before, and where they are now."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import accumulate
from zlib import crc32


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
    """Compare two texts: by lines, the lines that differ by stretches of some words, those that differ by words.

    Coarse before fine keeps a long text on one line, as a recogniser may write it, from being compared word by word.
    """
    if old == new:
        return Kept(((0, 0, len(old)),) if old else ())
    return Kept(tuple(_joined(_common(old, new, (_lines, _stretches, _words)))))


def _common(old: str, new: str, levels: Sequence[Callable[[str], list[str]]]) -> Iterator[tuple[int, int, int]]:
    for tag, a, b, c, d in _compare(levels[0](old), levels[0](new)):
        if tag == "equal":
            yield a, c, b - a
        elif tag == "replace" and len(levels) > 1:
            for start, there, length in _common(old[a:b], new[c:d], levels[1:]):
                yield a + start, c + there, length


def _lines(text: str) -> list[str]:
    return text.splitlines(keepends=True)


def _words(text: str) -> list[str]:
    return re.findall(r"\w+|\s+|[^\w\s]", text)


def _stretches(text: str) -> list[str]:
    """The text cut after every word that its own letters choose, one in eight or so: an edit moves no other cut."""
    told, waiting = [], ""
    for word in _words(text):
        waiting += word
        if crc32(word.encode("utf-8", "surrogatepass")) % 8 == 0 and not word.isspace():
            told.append(waiting)
            waiting = ""
    return [*told, waiting] if waiting else told


def _compare(old: list[str], new: list[str]) -> Iterator[tuple[str, int, int, int, int]]:
    """The edits between two texts in pieces, as (tag, old start, old end, new start, new end) in characters."""
    x, y = ([0, *accumulate(map(len, pieces))] for pieces in (old, new))
    shorter = min(len(old), len(new))
    ahead = next((at for at in range(shorter) if old[at] != new[at]), shorter)
    behind = next((at for at in range(shorter - ahead) if old[-1 - at] != new[-1 - at]), shorter - ahead)
    yield "equal", 0, x[ahead], 0, y[ahead]
    middle = SequenceMatcher(None, old[ahead : len(old) - behind], new[ahead : len(new) - behind])
    for tag, a, b, c, d in middle.get_opcodes():
        yield tag, x[a + ahead], x[b + ahead], y[c + ahead], y[d + ahead]
    yield "equal", x[len(old) - behind], x[-1], y[len(new) - behind], y[-1]


def _joined(blocks: Iterable[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
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
