"""What is left to do, told of a part without a verb of work: "still got the rear brakes to do", "rear pads before the
MOT", "that just leaves the air filter for Saturday".
"""

from __future__ import annotations

from collections.abc import Iterator

from saidspec.extract.days import Day
from saidspec.extract.grammar import ARTICLES
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.plan import Plan, clause
from saidspec.extract.plans import dated

HAVING = frozenset({"got", "have", "has", "'ve", "need", "needs"})
LEAVING = frozenset({"leaves", "leaving"})
TO_DO = (["to", "do"], ["to", "go"], ["to", "sort"])
NAMES = ("part", "fastener", "short", "head")
OVER = ARTICLES | {"new", "just", "only", "me", "us", "with", "other"}


def left_to_do(page: Passage, parts: dict[int, Mention], days: list[Day]) -> Iterator[Plan]:
    """The plans of parts that are left, in order."""
    for at, word in enumerate(page.norm):
        if word == "still" and page.word(at + 1) in HAVING:
            part = _part(page, parts, at + 2)
            if part is not None and page.words(part.end, part.end + 2) in TO_DO:
                yield Plan(at, part.end + 2, at, part.end + 2, "plan-still-to-do")
        elif page.lower(at) in LEAVING:
            part = _part(page, parts, at + 1)
            if part is not None and page.word(part.end) in ("for", "till", "until") and dated(
                    page, part.end, clause(page, at, at + 1)[1], days):
                _, last = clause(page, at, at + 1)
                yield Plan(at, at + 1, at, last, "plan-leaves")
    for part in parts.values():
        if not any(page.inside(name, part.end - 1) for name in NAMES):
            continue
        first, last = page.sentence_start(part.start), page.sentence_end(part.start)
        opens = all(page.word(place) in OVER or not page.word(place).isalpha() for place in range(first, part.start))
        if opens and last - part.end <= 4 and dated(page, part.end, last, days) and _nothing_else(page, part, last):
            yield Plan(part.start, part.end, first, last, "plan-by-then")


def _part(page: Passage, parts: dict[int, Mention], at: int) -> Mention | None:
    """The part that begins at a token, or behind an article and the like."""
    while page.word(at) in OVER and at not in parts:
        at += 1
    return parts.get(at)


def _nothing_else(page: Passage, part: Mention, last: int) -> bool:
    """No deed, finding or figure stands between a part and the end of its sentence."""
    return not any(page.inside(name, at) for name in ("action", "finding") for at in range(part.end, last)) and (
        page.word(part.end) not in ("is", "was", "were", "are", "'s"))
