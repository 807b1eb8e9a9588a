"""Lists of values with lists of parts: "drain plug and fill plug 12 and 10 newton metres respectively".

The parts stand before the values or behind them, as phrases of their own or as a pair of places ("left and right").
One value of two parts ("vent screw and drain screw both 8") is of both, named together.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from itertools import pairwise

from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention, placed
from saidspec.extract.paired import apart, together
from saidspec.extract.passage import Passage

AND = frozenset({"and", ",", "&"})
BETWEEN = AND | {"the", "a", "an", "on", "at", "my", "both"}
BEHIND = frozenset({",", "for", "on", "at", "the", "in", "order", "of", "respectively", "-", "(", ":"})
BOTH = frozenset({"both", "each"})
CYLINDERS_SAID = 6  # tokens from "one to four" to the first value
REACH = 4  # tokens from the last value to the parts behind it


def listed(page: Passage, drafts: list[Draft], phrases: list[Mention], completed: dict[int, Mention]) -> None:
    """Give the values of a list the parts of the list before it or behind it, one for one."""
    values = [draft for draft in drafts if draft.value is not None and not draft.back]
    starts = [phrase.start for phrase in phrases]
    for index, first in enumerate(values):
        if index and _joined(page, values[index - 1], first):
            continue
        run = _values(page, values, index)
        here = _same_sentence(page, phrases, starts, first.anchor)
        if len(run) < 2:
            _both(page, first, here, completed)
            continue
        parts = _parts(page, here, first, len(run)) or _parts_behind(page, here, run) or _cylinders(page, run)
        if parts is not None:
            _give(run, parts, completed)


def _give(run: list[Draft], parts: list[Mention], completed: dict[int, Mention]) -> None:
    """The values of a list to its parts; mere places are those of the part that is named with them."""
    last = completed.get(parts[-1].start, parts[-1])
    base = run[0].mention if run[0].mention is not None and (run[0].end <= parts[0].start or not last.words) else last
    for draft, part in zip(run, parts, strict=True):
        full = part if part.words else completed.get(part.start, part)
        if part.words:
            whole = completed.get(part.start, part) if part.start < run[0].start or part.start >= run[-1].end else part
            full = placed(replace(part, words=whole.words, system=whole.system, kind=whole.kind),
                          dict(whole.positions) | dict(part.positions))
        elif base.words:  # "leading and trailing shoes"
            full = placed(base, dict(base.positions) | dict(part.positions))
        draft.mention, draft.manner = _headed(full, last), "listed"


def _both(page: Passage, value: Draft, phrases: list[Mention], completed: dict[int, Mention]) -> None:
    """"Vent screw and drain screw both 8 newton metres": of both, as one phrase."""
    if value.manner not in ("topic", "focus") or value.kind not in ("torque", "size"):
        return
    before = [item for item in phrases if item.end <= value.start][-2:]
    if len(before) < 2 or not all(item.fastener for item in before) or value.mention is None:
        return
    between = page.words(before[1].end, value.start)
    if BOTH.isdisjoint(between + page.words(value.end, value.end + 1)) or not (
            page.classes.list_links | BOTH).issuperset(between) or not _listed_together(page, before):
        return
    one, other = (completed.get(item.start, item) for item in before)
    if value.mention.words == other.words:
        value.mention = together(one, other)


def _joined(page: Passage, one: Draft, other: Draft) -> bool:
    """Two values of one kind with "and" or a comma between them."""
    between = page.words(one.end, other.start)
    return 0 < len(between) <= 2 and (AND | {"/"}).issuperset(between) and one.kind == other.kind


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
    links = page.classes.list_links | page.classes.measured
    if not before or not links.issuperset(page.words(before[-1].end, first.start)):
        return None
    pair = apart(page, before[-1])
    if len(pair) == count:
        return pair
    return before if len(before) == count and _listed_together(page, before) else None


def _parts_behind(page: Passage, phrases: list[Mention], run: list[Draft]) -> list[Mention] | None:
    """The parts right behind the last value: "3.2 and 3.4 ohms, left and right"; not those of the next statement."""
    count, end = len(run), run[-1].end
    behind = [item for item in phrases if item.start >= end][:count]
    if not behind or behind[0].start - end > REACH or not BEHIND.issuperset(page.words(end, behind[0].start)):
        return None
    pair = apart(page, behind[0])
    parts = pair if len(pair) == count else behind
    if len(parts) < count or (parts is behind and not _listed_together(page, behind)):
        return None
    last = behind[0].end if parts is pair else behind[-1].end
    follows = page.lexemes[last].kind if last < len(page) else "mark"
    return None if follows in ("number", "code") or any(item.words for item in parts) else parts


def _cylinders(page: Passage, run: list[Draft]) -> list[Mention] | None:
    """"Compression one to four: 12.4, 12.6, 12.5, 11.9 bar": one for each cylinder."""
    first, count = run[0], len(run)
    part = first.mention
    if part is None or count < 3 or (page.classes.numbered_parts | {"cylinder"}).isdisjoint(part.words):
        return None
    said = any(page.word(at) == "to" and page.lexemes[at - 1].value == 1 and page.lexemes[at + 1].value == count
               for at in range(max(1, first.start - CYLINDERS_SAID), first.start - 1))
    if not said and page.words(first.start - 3, first.start) != ["in", "order", ":"] and (
            page.words(first.start - 2, first.start) != ["in", "order"]):
        return None
    return [placed(part, dict(part.positions) | {"cylinder": str(number)}) for number in range(1, count + 1)]


def _listed_together(page: Passage, parts: list[Mention]) -> bool:
    """Parts with "and" or commas between them, and no more."""
    betweens = (page.words(one.end, other.start) for one, other in pairwise(parts))
    return all(BETWEEN.issuperset(between) and not AND.isdisjoint(between) for between in betweens)


def _headed(part: Mention, last: Mention) -> Mention:
    """"Bracket and caliper bolts": a part of the list that lacks the last one's fastener gets it."""
    if last.fastener and last.plural and not part.fastener and part.words and last.head not in part.words and (
            not part.plural):
        return replace(part, words=(*part.words, last.head), kind="fastener")
    return part
