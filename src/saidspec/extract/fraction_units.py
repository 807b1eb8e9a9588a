"""Parts of an inch that go on without being said again: "rear tyre is at four thirty-seconds, front has six"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity

SAID = ((re.compile(r"thirty[- ]seconds?|32nds?|\d\s?/\s?32"), 32),
        (re.compile(r"sixty[- ]fourths?|64ths?|\d\s?/\s?64"), 64), (re.compile(r"sixteenths?|16ths?"), 16),
        (re.compile(r"eighths?|8ths?"), 8))
ALWAYS = (32, 64)  # parts in which only wear is told
REACH, MOST = 10, 24  # tokens from one value to the next; the largest figure that is one of such parts
NEAR = 8  # tokens before the first value in which stands what is measured
WORN = frozenset({"tread", "tyre", "pad", "lining", "shoe", "depth", "thickness", "play", "brush", "disc", "slack"})
BETWEEN = WORN | {
    "left", "right", "front", "rear", "back", "inner", "outer", "inside", "outside", "other", "side", "one", "ones",
    "spare",
    "driver", "passenger", "nearside", "offside", "both", "all", "two", "is", "are", "has", "have", "'s", "was", "were",
    "had", "at", "and", ",", ".", ":", ";", "the", "on", "about", "only", "just", "got", "its", "same", "with", "of",
    "in",
    "\n", "-", "left-hand", "right-hand", "'ve", "they", "it", "near", "far", "a", "maybe", "still", "but"}
DECLARED = frozenset({"in", "of", "are", "is"})
ENDS = frozenset({"", ".", ",", ";", ":", "\n", "and", "on", "in", "at", "all", "each", "left", "right", "front",
                  "rear", "same", "so", "but", "both", "now", "the", "too", "spare", "then", "outer", "inner", "-",
                  "!", "?"})


def with_parts(page: Passage, items: list[Quantity]) -> tuple[list[Quantity], set[int]]:
    """The quantities of a passage, bare figures behind a part of an inch in that part; and the tokens that only name
    the part ("tread in thirty seconds").
    """
    made: list[Quantity] = []
    told = dict(_declared(page))
    named = {at for start, last in told.items() for at in range(start, last)}
    starts = sorted(told)
    parts, end = 0, 0
    for item in items:
        while starts and starts[0] < item.end:
            parts, end = 32, told[starts.pop(0)]
        if item.start in named:
            continue
        if parts and item.start - end <= REACH and _goes_on(page, end, item):
            made.append(replace(item, value=item.value / parts, form="fraction"))
            end = item.end
            continue
        parts, end = _parts(page, item), item.end
        made.append(item)
    return made, named


def _parts(page: Passage, item: Quantity) -> int:
    """The part of an inch in which a fraction was said, where the next figure may be one too; else 0."""
    if item.form != "fraction" or item.unit not in ("", "in") or item.value >= 1:
        return 0
    said = page.note.text[slice(*page.origin(item.start, item.end))].lower()
    parts = next((parts for form, parts in SAID if form.search(said)), 0)
    worn = not WORN.isdisjoint(page.words(max(0, item.start - NEAR), item.end + NEAR))
    return parts if parts in ALWAYS or worn else 0


def _goes_on(page: Passage, end: int, item: Quantity) -> bool:
    """Nothing but places, what is worn, and small words stands between, and behind the figure no noun of its own."""
    if not all(word in BETWEEN for word in page.words(end, item.start)):
        return False
    return (not item.dimension and item.whole and item.high is None and item.angle is None and 1 <= item.value <= MOST
            and item.form in ("words", "figure") and page.word(item.end) in ENDS)


def _declared(page: Passage) -> Iterator[tuple[int, int]]:
    """"Tread in thirty seconds: left front six", "tread in 32nds": where it is told what the figures are counted in."""
    for at in (at for at, word in enumerate(page.norm) if word == "tread"):
        for start in range(at + 1, min(at + 5, len(page) - 1)):
            last = start + 1 + (page.lexemes[start].kind == "number")
            said = page.note.text[slice(*page.origin(start, min(last, len(page))))].lower()
            if page.word(start - 1) in DECLARED and SAID[0][0].fullmatch(said):
                yield start, last
