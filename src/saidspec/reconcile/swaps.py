"""Numbers and codes with two of their characters swapped."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise


def swapped(text: str) -> Iterator[str]:
    """Every text that comes of swapping two neighbouring characters that differ; separators do not part neighbours."""
    places = [at for at, sign in enumerate(text) if sign.isalnum()]
    for first, second in pairwise(places):
        if text[first] != text[second]:
            signs = list(text)
            signs[first], signs[second] = signs[second], signs[first]
            yield "".join(signs)


def exchanged(one: str, other: str) -> bool:
    """Whether two codes of one length differ in two characters that changed places, one or two apart: 2506 and 2605."""
    off = [at for at, (sign, wanted) in enumerate(zip(one, other, strict=False)) if sign != wanted]
    return (len(one) == len(other) and len(off) == 2 and off[1] - off[0] <= 2
            and one[off[0]] == other[off[1]] and one[off[1]] == other[off[0]])
