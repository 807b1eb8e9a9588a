"""A plan: the words that say that something is still to do, and the clause in which its part and day are told."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.extract.passage import Found, Passage

REACH = 16
BREAKS = frozenset({".", "!", "?", "\n", ";", ":", "–", "—"})
TURNS = frozenset({"but", "so", "because", "although", "cause", "cos"})
UNDONE = frozenset({"didn't", "haven't", "hasn't", "wasn't", "couldn't"})  # behind a plan: what was not done is told
NOTHING = frozenset({"nothing", "don't", "not", "no", "never", "doesn't", "won't", "needn't", "didn't", "nowt", "none",
                     "nobody", "without"})


@dataclass(frozen=True, slots=True)
class Plan:
    """Tokens start..end say that something is to do; it is told in first..last.

    `action`: what is to do, where no verb says so.
    """

    start: int
    end: int
    first: int
    last: int
    id: str
    action: str | None = None
    strong: bool = True  # a part is enough, it needs no action
    item: bool = False  # an item of a list of things to do
    alone: bool = False  # of the vehicle as a whole, and of no part


def clause(page: Passage, start: int, end: int) -> tuple[int, int]:
    """The clause around tokens start..end: to the next mark or turning word, or to a comma."""
    first = start
    while first > 0 and start - first < REACH and not _bound(page, first - 1):
        first -= 1
    last = end
    while last < len(page) and last - end < REACH and not _bound(page, last) and page.norm[last] not in UNDONE:
        last += 1
    return first, last


def _bound(page: Passage, at: int) -> bool:
    word = page.norm[at]
    return word == "," or word in BREAKS or word in TURNS


def actions(page: Passage, first: int, last: int) -> list[Found]:
    """The actions that begin in tokens first..last."""
    by_start = page.at.get("action", {})
    return [by_start[at] for at in range(first, last) if at in by_start]


def denied(page: Passage, plan: Plan) -> bool:
    """"Nothing else needs doing", "I don't need to", "you need a long extension", "was going to" plan nothing."""
    if plan.item:
        return False
    first = max(plan.first, plan.start - 3)
    before = page.words(first, plan.start)
    if not NOTHING.isdisjoint(before) and not actions(page, first, plan.start):
        return True
    if before[-1:] == ["you"] or (
            before[-2:-1] == ["you"] and before[-1] in ("'ll", "will", "really", "do", "just")):
        return True
    return (page.word(plan.start) == "going" and before[-1:] in (["was"], ["were"])) or "if" in before
