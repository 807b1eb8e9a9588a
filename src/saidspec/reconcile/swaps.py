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
