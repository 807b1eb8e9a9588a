"""Lists of values with lists of parts: "drain plug and fill plug 12 and 10 newton metres respectively"."""

from __future__ import annotations

import itertools
from dataclasses import replace

from saidspec.extract.components import Mention
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage

BETWEEN = {"and", ",", "&", "the", "a", "an", "on", "at", "my", "both"}
VERBS = {
    "are",
    "were",
    "is",
    "at",
    "got",
    "get",
    "to",
    "took",
    "take",
    "torqued",
    "tightened",
    "done",
    "did",
    ":",
    ",",
    "=",
    "of",
    "read",
    "measure",
    "measured",
    "now",
    "went",
    "in",
    "order",
    "came",
    "out",
}


def listed(page: Passage, drafts: list[Draft], phrases: list[Mention], completed: dict[int, Mention]) -> None:
    """Give the values of a list the parts of the list before it, one for one."""
    values = [draft for draft in drafts if draft.value is not None and not draft.back]
    for index, first in enumerate(values[:-1]):
        run = _values(page, values[index:])
        if len(run) < 2 or (index and _joined(page, values[index - 1], first)):
            continue
        parts = _parts(page, phrases, first, len(run))
        if parts is None:
            continue
        for draft, part in zip(run, parts, strict=True):
            last = completed.get(parts[-1].start, parts[-1])
            full = completed.get(part.start, part)
            if part.kind == "position" and last.words:  # "leading and trailing shoes"
                full = replace(last, positions=tuple((dict(last.positions) | dict(part.positions)).items()))
            draft.mention, draft.manner = _headed(full, last), "listed"


def _joined(page: Passage, one: Draft, other: Draft) -> bool:
    between = page.words(one.end, other.start)
    return 0 < len(between) <= 2 and all(word in ("and", ",", "&") for word in between) and one.kind == other.kind


def _values(page: Passage, values: list[Draft]) -> list[Draft]:
    run = [values[0]]
    for draft in values[1:]:
        if not _joined(page, run[-1], draft):
            break
        run.append(draft)
    return run


def _parts(page: Passage, phrases: list[Mention], first: Draft, count: int) -> list[Mention] | None:
    """The parts right before the first value, as many as there are values, joined by "and" or commas."""
    before = [item for item in phrases if item.end <= first.start and page.same_sentence(item.start, first.anchor)][
        -count:
    ]
    if len(before) < count or any(word not in VERBS for word in page.words(before[-1].end, first.start)):
        return None
    for one, other in itertools.pairwise(before):
        between = page.words(one.end, other.start)
        if not between or any(word not in BETWEEN for word in between) or not {"and", ",", "&"} & {*between}:
            return None
    return before


def _headed(part: Mention, last: Mention) -> Mention:
    """ "Bracket and caliper bolts": a part of the list that lacks the last one's fastener gets it."""
    if last.fastener and not part.fastener and part.words and last.head not in part.words and not part.plural:
        return replace(part, words=(*part.words, last.head), kind="fastener")
    return part
