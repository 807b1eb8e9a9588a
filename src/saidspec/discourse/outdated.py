"""What a later value says of an earlier one: a value measured before the part was put right is history."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage

EARLIER = 5  # measurements looked back
WAS = frozenset({"was", "were"})
BEFORE_NOW = frozenset({"before", "down", "from", "previously"})


def outdated(page: Passage, drafts: list[Draft]) -> None:
    """Values measured before an adjustment become historical where the note then gives the value after it."""
    measured = [draft for draft in drafts if draft.kind == "measurement" and draft.mention is not None]
    for index, late in enumerate(measured):
        if late.assertion != "stated":
            continue
        for early in reversed(measured[max(0, index - EARLIER) : index]):
            if not _measured_again(page, early, late):
                continue
            before = page.words(max(early.end, late.start - 8), late.start)
            words = {*before, *page.words(late.end, late.end + 2)}
            if "now" not in words and not (WAS | {"had"}).isdisjoint(before[-5:]):
                if _told_of_before(page, early, late, words):
                    late.assertion, late.cue = "historical", "before-adjustment"
                break
            if not words.isdisjoint(page.classes.adjusting):
                early.assertion, early.cue = "historical", "before-adjustment"


def _measured_again(page: Passage, early: Draft, late: Draft) -> bool:
    """The same thing was measured twice with another result, and it is a thing that a job puts right."""
    if early.mention is None or late.mention is None or early.assertion != "stated":
        return False
    return early.role == late.role and early.role in page.classes.adjustable and early.unit == late.unit and (
        early.value != late.value) and not {*early.mention.words}.isdisjoint(late.mention.words) and (
        _same_place(early.mention, late.mention))


def _told_of_before(page: Passage, early: Draft, late: Draft, words: set[str]) -> bool:
    """"It's 34 now, down from 40, it was 45 before": the later value is the older one."""
    return not words.isdisjoint(BEFORE_NOW) and late.start - early.end < 25 and (
        WAS.isdisjoint(page.words(early.start - 4, early.start)))


def _same_place(early: Mention, late: Mention) -> bool:
    mine = dict(early.positions)
    return all(mine.get(axis, place) == place for axis, place in late.positions)
