"""Two values given to each other's parts: "inner 4 mm, outer 6 mm, no, other way round"."""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.corrections import CORRECTABLE
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Found, Passage

BEFORE = 8  # tokens from the second value to the words that swap the two
BETWEEN = 14  # tokens between the two values
EXCUSE = 3  # tokens from "no" or "sorry" to "other way round"
OWNED = frozenset({"got", "mixed", "i", "i've", "had"})  # these begin words that need no "no": "got those swapped"


def swapped(page: Passage, drafts: list[Draft]) -> list[Draft]:
    """The two values before each swap, each with the other's value; the ones said first are retracted."""
    made: list[Draft] = []
    values = [draft for draft in drafts if draft.kind in CORRECTABLE and not draft.back]
    for found in page.found.get("correction", ()):
        if found.term.detail != "swap" or not _takes_back(page, found):
            continue
        before = [draft for draft in values if 0 <= found.start - draft.end < BEFORE + 2 * BETWEEN]
        if len(before) < 2 or not _pair(before[-2], before[-1], found):
            continue
        for one, other in ((before[-2], before[-1]), (before[-1], before[-2])):
            new = replace(one, start=found.start, end=found.end, anchor=found.start, value=other.value, high=other.high,
                          code=other.code, confidence=0.75, rule="correction.swap", back=True, replaced_by=None)
            made.append(new)
        for old, new in zip(before[-2:], made[-2:], strict=True):
            old.assertion, old.cue, old.replaced_by = "retracted", "correction.swap", new
    return made


def _takes_back(page: Passage, found: Found) -> bool:
    """A "no" or a "sorry" stands before it, for a part may be fitted the other way round too."""
    if page.word(found.start) in OWNED:
        return True
    return any((item := page.starting("correction", at)) is not None and item.term.detail in ("retract", "weak")
               for at in range(max(0, found.start - EXCUSE - 1), found.start))


def _pair(one: Draft, other: Draft, found: Found) -> bool:
    """Two values of one kind and unit of two parts, right before the words that swap them."""
    return one.kind == other.kind and one.unit == other.unit and one.mention is not None and (
        other.mention is not None) and one.mention != other.mention and found.start - other.end <= BEFORE and (
        other.start - one.end <= BETWEEN) and "retracted" not in (one.assertion, other.assertion)
