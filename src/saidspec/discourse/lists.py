"""Lists of values with lists of parts: "drain plug and fill plug 12 and 10 newton metres respectively"."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from itertools import pairwise

from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention, placed
from saidspec.extract.passage import Passage

AND = frozenset({"and", ",", "&"})
BETWEEN = AND | {"the", "a", "an", "on", "at", "my", "both"}


def listed(page: Passage, drafts: list[Draft], phrases: list[Mention], completed: dict[int, Mention]) -> None:
    """Give the values of a list the parts of the list before it, one for one."""
    values = [draft for draft in drafts if draft.value is not None and not draft.back]
    starts = [phrase.start for phrase in phrases]
    for index, first in enumerate(values[:-1]):
        run = _values(page, values, index)
        if len(run) < 2 or (index and _joined(page, values[index - 1], first)):
            continue
        parts = _parts(page, _same_sentence(page, phrases, starts, first.anchor), first, len(run))
        if parts is None:
            continue
        last = completed.get(parts[-1].start, parts[-1])
        for draft, part in zip(run, parts, strict=True):
            full = completed.get(part.start, part)
            if part.kind == "position" and last.words:  # "leading and trailing shoes"
                full = placed(last, dict(last.positions) | dict(part.positions))
            draft.mention, draft.manner = _headed(full, last), "listed"


def _joined(page: Passage, one: Draft, other: Draft) -> bool:
    """Two values of one kind with "and" or a comma between them."""
    between = page.words(one.end, other.start)
    return 0 < len(between) <= 2 and AND.issuperset(between) and one.kind == other.kind


def _values(page: Passage, values: list[Draft], first: int) -> list[Draft]:
    """The values of the list that begins with the value of this index."""
    end = first + 1
    while end < len(values) and _joined(page, values[end - 1], values[end]):
        end += 1
    return values[first:end]


def _same_sentence(page: Passage, phrases: list[Mention], starts: list[int], at: int) -> list[Mention]:
    """The phrases that begin in the sentence of a token; `starts` are the first tokens of all, ascending."""
    return phrases[bisect_left(starts, page.sentence_start(at)) : bisect_left(starts, page.sentence_end(at))]


def _parts(page: Passage, phrases: list[Mention], first: Draft, count: int) -> list[Mention] | None:
    """The parts of a sentence right before its first value, as many as there are values, joined by "and" or commas."""
    before = [item for item in phrases if item.end <= first.start][-count:]
    if len(before) < count or not page.classes.list_links.issuperset(page.words(before[-1].end, first.start)):
        return None
    for one, other in pairwise(before):
        between = page.words(one.end, other.start)
        if not BETWEEN.issuperset(between) or AND.isdisjoint(between):
            return None
    return before


def _headed(part: Mention, last: Mention) -> Mention:
    """"Bracket and caliper bolts": a part of the list that lacks the last one's fastener gets it."""
    if last.fastener and not part.fastener and part.words and last.head not in part.words and not part.plural:
        return replace(part, words=(*part.words, last.head), kind="fastener")
    return part
