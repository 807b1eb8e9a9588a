"""Corrections of the part, the side or the unit and not of the value, and of a material that was not used after all.

The old fact is retracted; the new one has the old value with the right part or unit and quotes the correction.
"""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.corrections import takes_back_at
from saidspec.extract.components import Mention
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Found, Passage
from saidspec.extract.quantities import UnitTable, unit_at

MOVABLE = {"torque", "size", "volume", "measurement", "part_number", "fluid"}
LINKS = {
    "that",
    "is",
    "'s",
    "was",
    "it",
    "i",
    "mean",
    "meant",
    "the",
    "for",
    "on",
    "those",
    "were",
    "are",
    "they",
    "no",
    ",",
    "sorry",
    "wait",
    "not",
    "of",
    "to",
    "should",
    "be",
    "this",
}
UNDONE = {"skipped", "left", "didn't", "not", "without", "never", "none", "says", "forgot", "don't", "no"}


def _last_value(page: Passage, drafts: list[Draft], found: Found, reach: int) -> Draft | None:
    """The value that stands right before a correction."""
    before = [
        draft
        for draft in drafts
        if draft.kind in MOVABLE
        and draft.end <= found.start
        and found.start - draft.end <= reach
        and not draft.back
        and draft.assertion != "retracted"
    ]
    last = max(before, key=lambda draft: draft.anchor, default=None)
    if last is None or page.sentence[found.start] - page.sentence[last.anchor] > 2:
        return None
    return last


def _value_at(page: Passage, first: int, last: int) -> bool:
    return any(page.lexemes[at].kind in ("number", "code") for at in range(first, min(last, len(page))))


def _moved(old: Draft, found: Found, end: int, **changes: object) -> Draft:
    told = {"start": found.start, "end": end, "anchor": found.start, "confidence": 0.8, "back": True}
    new = replace(old, **(told | {"replaced_by": None} | changes))  # type: ignore[arg-type]
    old.assertion, old.cue, old.replaced_by = "retracted", f"correction.{found.term.id}", new
    return new


def reassigned(
    page: Passage, drafts: list[Draft], phrases: list[Mention], completed: dict[int, Mention]
) -> list[Draft]:
    """ "Drain plug 25 newton metres. Sorry, I mean the fill plug": the value moves to the right part."""
    made: list[Draft] = []
    by_start = {item.start: item for item in phrases}
    for found in page.found.get("correction", ()):
        if found.term.detail == "recall" or not takes_back_at(page, found):
            continue
        at = found.end
        while page.word(at) in LINKS and at - found.end < 6 and at not in by_start:
            at += 1
        right = by_start.get(at)
        if right is None or (_value_at(page, right.end, right.end + 4) and page.word(right.end) not in (".", "", "\n")):
            continue
        old = _last_value(page, drafts, found, 7)
        if old is None or old.mention is None or not old.mention.words:
            continue
        full = completed.get(at, right)
        if right.kind == "position":
            full = replace(old.mention, positions=tuple((dict(old.mention.positions) | dict(right.positions)).items()))
        if (full.words == old.mention.words and full.positions == old.mention.positions) or not _alike(
            full, old.mention
        ):
            continue
        made.append(_moved(old, found, right.end, mention=full, rule="correction.part", manner="copula"))
    return made


def _alike(one: Mention, other: Mention) -> bool:
    """Parts of one sort: the last words agree, or both are fasteners."""
    return one.head == other.head or (one.fastener and other.fastener)


def remeasured(page: Passage, drafts: list[Draft], units: UnitTable) -> list[Draft]:
    """ "80 foot pounds, no, newton metres": the unit was wrong and not the number."""
    made: list[Draft] = []
    for found in page.found.get("correction", ()):
        if found.term.detail == "recall":
            continue
        hit = unit_at(page, found.end, units) or (
            unit_at(page, found.end + 1, units) if page.word(found.end) == "," else None
        )
        old = _last_value(page, drafts, found, 3)
        if (
            hit is None
            or old is None
            or old.unit in (None, hit[0].unit)
            or hit[0].dimension not in ("torque", "pressure", "volume", "length", "temperature")
        ):
            continue
        if page.word(found.end) in ("a", "in", "f", "c", "v", "h", "g", "k", "l", "m"):
            continue
        made.append(_moved(old, found, hit[1], unit=hit[0].unit, rule="correction.unit"))
    return made


def taken_off(page: Passage, drafts: list[Draft]) -> None:
    """ "A dab of anti-seize, no wait, I left it off": the material was not used after all."""
    for draft in drafts:
        if draft.kind not in ("material", "operation") or draft.assertion != "stated":
            continue
        for at in range(draft.end, min(draft.end + 7, len(page))):
            found = page.starting("correction", at)
            if found and {*page.words(found.start, found.end + 8)} & UNDONE - {"no"} | {
                word for word in page.words(found.end, found.end + 8) if word.endswith("n't")
            }:
                draft.assertion, draft.cue = "retracted", f"correction.{found.term.id}"
                break


def recalled(page: Passage, drafts: list[Draft], mentions: list[Mention]) -> list[Draft]:
    """ "Earlier I said the drain plug, that was the fill plug": the earlier facts get the right part.

    The old facts are retracted; the new ones quote the words that put them right.
    """
    made: list[Draft] = []
    for found in page.found.get("correction", ()):
        if found.term.detail != "recall":
            continue
        named = [
            item
            for item in mentions
            if found.end <= item.start < found.end + 18
            and item.words
            and (page.sentence[item.start] - page.sentence[found.start] <= 1)
        ]
        if len(named) < 2 or not {"was", "is", "'s", "meant", "be", "should"} & {
            *page.words(named[0].end, named[1].start)
        }:
            continue
        wrong, right = named[0], named[1]
        for old in reversed([draft for draft in drafts if draft.end <= found.start and draft.mention is not None]):
            if (
                old.kind in ("torque", "size", "volume", "measurement")
                and old.assertion in ("stated", "quoted")
                and (old.mention is not None and {*wrong.words} <= {*old.mention.words})
            ):
                new = replace(
                    old,
                    start=found.start,
                    end=right.end,
                    anchor=found.start,
                    mention=right,
                    confidence=0.8,
                    rule="correction.recall",
                    manner="copula",
                    back=True,
                    replaced_by=None,
                )
                old.assertion, old.cue, old.replaced_by = "retracted", "correction.recall", new
                made.append(new)
                break
    return made
