"""Corrections of the part, the side or the unit and not of the value, and of a material that was not used after all.

The old fact is retracted; the new one has the old value with the right part or unit and quotes the correction.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from saidspec.discourse.corrections import LATER, takes_back_at
from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention, placed
from saidspec.extract.passage import Found, Passage
from saidspec.extract.units import UnitTable, unit_at

MOVABLE = frozenset({"torque", "size", "volume", "measurement", "part_number", "fluid"})
RECALLED = frozenset({"torque", "size", "volume", "measurement"})
CONVERTED = frozenset({"torque", "pressure", "volume", "length", "temperature"})
LETTERS = frozenset({"a", "in", "f", "c", "v", "h", "g", "k", "l", "m"})  # too short for a unit said alone
TURNING = frozenset({"was", "is", "'s", "meant", "be", "should"})  # "I said the drain plug, that was the fill plug"
LINKED = 8  # tokens from a correction to the part that is right
LEADING = frozenset({"is", "'s", "was", "are", "at", "gets", "takes", "to", "one"})  # from a part to its value

Ends = dict[int, list[Draft]]  # drafts by the token behind them


def _values_by_end(drafts: list[Draft]) -> Ends:
    """The values that may be moved to another part, by the token behind them."""
    ends: Ends = {}
    for draft in drafts:
        if draft.kind in MOVABLE and not draft.back:
            ends.setdefault(draft.end, []).append(draft)
    return ends


def _last_value(page: Passage, ends: Ends, found: Found, reach: int) -> Draft | None:
    """The value that stands right before a correction."""
    before = [draft for end in range(found.start - reach, found.start + 1) for draft in ends.get(end, ())
              if draft.assertion != "retracted"]
    last = max(before, key=lambda draft: draft.anchor, default=None)
    if last is None or page.sentence[found.start] - page.sentence[last.anchor] > 2:
        return None
    return last


def _moved(old: Draft, found: Found, end: int, cue: str, **changes: object) -> Draft:
    """The old fact as put right by the words from the correction to token `end`; the old one is retracted."""
    new = replace(old, start=found.start, end=end, anchor=found.start, confidence=0.8, back=True, replaced_by=None,
                  **changes)  # type: ignore[arg-type]
    old.assertion, old.cue, old.replaced_by = "retracted", cue, new
    return new


def reassigned(page: Passage, drafts: list[Draft], phrases: list[Mention],
               completed: dict[int, Mention]) -> list[Draft]:
    """"Drain plug 25 newton metres. Sorry, I mean the fill plug": the value moves to the right part."""
    made: list[Draft] = []
    by_start = {item.start: item for item in phrases}
    ends = _values_by_end(drafts)
    for found in page.found.get("correction", ()):
        if found.term.detail in LATER or not takes_back_at(page, found):
            continue
        right = _right_part(page, found, by_start)
        old = _last_value(page, ends, found, 7) if right is not None else None
        if right is None or old is None or old.mention is None or not old.mention.words:
            continue
        full = completed.get(right.start, right)
        if right.kind == "position":
            full = placed(old.mention, dict(old.mention.positions) | dict(right.positions))
        if (full.words, full.positions) != (old.mention.words, old.mention.positions) and _alike(full, old.mention):
            _of_the_other(page, drafts, by_start, right, old.mention)
            made.append(_moved(old, found, right.end, f"correction.{found.term.id}", mention=full,
                               rule="correction.part", manner="copula"))
    return made


def _right_part(page: Passage, found: Found, by_start: dict[int, Mention]) -> Mention | None:
    """The part named behind a correction, unless it has a value of its own."""
    at = found.end + (page.word(found.end) == ".")
    while page.word(at) in page.classes.correction_links and at - found.end < LINKED and at not in by_start:
        at += 1
    right = by_start.get(at)
    if right is not None and not right.words and page.norm[right.start : right.end] == ["right"] and (
            page.word(right.end) == "," and page.word(right.start - 1) not in ("the", "on")):
        return None  # "hold on, right, wheel nuts at 50"
    if right is None or page.word(right.end) in (".", "", "\n"):
        return right
    for place in range(right.end, min(right.end + 4, len(page))):
        if place in by_start or _subject(page, place):  # "no, that's the tensioner bolt, the idler is 25"
            return right
        if page.lexemes[place].kind in ("number", "code"):
            return None
    return right


def _subject(page: Passage, at: int) -> bool:
    """"The drain is 45": one word and its verb."""
    return page.word(at) == "the" and page.word(at + 2) in LEADING


def _of_the_other(page: Passage, drafts: list[Draft], by_start: dict[int, Mention], right: Mention,
                  wrong: Mention) -> None:
    """"No, that's the tensioner bolt, the idler is 25": the value told next is of the part named wrongly before."""
    at = next((at for at in range(right.end, min(right.end + 4, len(page))) if at in by_start or _subject(page, at)),
              None)
    if at is None:
        return
    words, place = (by_start[at].words, by_start[at].end) if at in by_start else ((page.word(at + 1),), at + 2)
    if not words or not {*words} <= {*wrong.words}:
        return
    while page.word(place) in LEADING:
        place += 1
    for draft in drafts:
        if draft.start == place and draft.kind in MOVABLE and draft.mention is not None and (
                {*draft.mention.words} <= {*right.words} or {*draft.mention.words} <= {*wrong.words}):
            draft.mention = wrong


def _alike(one: Mention, other: Mention) -> bool:
    """Parts of one sort: the last words agree, or both are fasteners."""
    return one.head == other.head or (one.fastener and other.fastener)


def remeasured(page: Passage, drafts: list[Draft], units: UnitTable) -> list[Draft]:
    """"80 foot pounds, no, newton metres": the unit was wrong and not the number."""
    made: list[Draft] = []
    ends = _values_by_end(drafts)
    for found in page.found.get("correction", ()):
        if found.term.detail in LATER or page.word(found.end) in LETTERS:
            continue
        place = found.end + 1 if page.word(found.end) == "," else found.end
        hit = unit_at(page, found.end, units) or unit_at(page, place, units)
        old = _last_value(page, ends, found, 3)
        if hit is None or old is None or old.unit in (None, hit[0].unit) or hit[0].dimension not in CONVERTED:
            continue
        made.append(_moved(old, found, hit[1], f"correction.{found.term.id}", unit=hit[0].unit, rule="correction.unit"))
    return made


def taken_off(page: Passage, drafts: list[Draft]) -> None:
    """"A dab of anti-seize, no wait, I left it off": the material was not used after all."""
    for draft in drafts:
        if draft.kind not in ("material", "operation") or draft.assertion != "stated":
            continue
        for at in range(draft.end, min(draft.end + 7, len(page))):
            found = page.starting("correction", at)
            if found and _firm(page, found) and takes_back_at(page, found) and _undone(page, found):
                draft.assertion, draft.cue = "retracted", f"correction.{found.term.id}"
                break


def _firm(page: Passage, found: Found) -> bool:
    """A correction by its words, and no mere sound of thinking: "um" takes no material back."""
    return found.term.detail == "retract" or page.norm[found.start] in ("no", "actually")


def _undone(page: Passage, found: Found) -> bool:
    """What stands behind a correction says that something was not done."""
    behind = page.words(found.start, found.end + 8)
    left = any(one in ("i", "we", "'ve") and other == "left" for one, other in pairwise(behind))  # not "on the left"
    return left or not (page.classes.undone - {"left"}).isdisjoint(behind) or any(
        word.endswith("n't") for word in page.words(found.end, found.end + 8))


def recalled(page: Passage, drafts: list[Draft], mentions: list[Mention]) -> list[Draft]:
    """"Earlier I said the drain plug, that was the fill plug": the earlier fact gets the right part.

    The old fact is retracted; the new one quotes the words that put it right.
    """
    made: list[Draft] = []
    for found in page.found.get("correction", ()):
        if found.term.detail != "recall":
            continue
        named = [item for item in mentions if found.end <= item.start < found.end + 18 and item.words and (
            page.sentence[item.start] - page.sentence[found.start] <= 1
            and 0 <= page.utterance[item.start] - page.utterance[found.start] <= 1)]
        if len(named) < 2 or TURNING.isdisjoint(page.words(named[0].end, named[1].start)):
            continue
        wrong, right = named[0], named[1]
        figures = {lex.value for lex in page.lexemes[found.end : right.end] if lex.kind == "number"}
        old = next((draft for draft in reversed(drafts) if draft.end <= found.start and draft.kind in RECALLED
                    and draft.assertion in ("stated", "quoted") and draft.mention is not None
                    and {*wrong.words} <= {*draft.mention.words} and (not figures or draft.value in figures)), None)
        if old is not None:
            made.append(_moved(old, found, right.end, "correction.recall", mention=right, rule="correction.recall",
                               manner="copula"))
    return made
