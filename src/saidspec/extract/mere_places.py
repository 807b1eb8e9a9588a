"""Phrases that are no more than a place: "the bolt at the back", "the other one", "5 left and 4 right"."""

from __future__ import annotations

from saidspec.extract.component_words import ORDINALS, ordinal_cylinder
from saidspec.extract.mention import OPPOSITE, Mention
from saidspec.extract.paired import ONES, behind_value, length_said
from saidspec.extract.passage import Passage

MIDDLES = frozenset({"middle", "centre"})
COUNTED_ON = 24  # tokens from a cylinder that was counted to the next ones
LISTED = 8  # tokens between two places of a list


def mere_place(page: Passage, at: int) -> Mention | None:
    """The place that stands at token `at` for itself, whatever is named behind it; None where a name may begin."""
    item = page.starting("position", at)
    led = page.words(at - 2, at)
    if item is not None and led == ["at", "the"] and at > 2 and (
            page.inside("part", at - 3) or page.inside("fastener", at - 3)):
        return _place(at, item.end, item.term.detail, item.term.id)  # not the back of what is named next
    if item is not None and led == ["in", "the"] and page.word(at) in MIDDLES:
        return _place(at, at + 1, "end", "middle")  # "3 mm in the middle battery 12.6"
    if item is None and page.words(at, at + 2) == ["other", "one"]:
        return _place(at, at + 2, "side", "other side")
    if item is not None and _of_a_list(page, at):
        return _place(at, item.end, item.term.detail, item.term.id)  # "5 mm left and 4 right battery 12.6 volts"
    if page.word(at) in ORDINALS and _after_a_cylinder(page, at):
        return _place(at, at + (2 if page.word(at + 1) in ONES else 1), "cylinder", ORDINALS[page.word(at)])
    length = length_said(page, at)
    if length and page.word(at + 1) in ONES:
        return _place(at, at + 2, "length", length, page.lower(at + 1) == "ones")
    return None


def _place(start: int, end: int, axis: str, place: str, several: bool = False) -> Mention:
    return Mention(start, end, (), ((axis or "side", place),), "position", "", True, several)


def _after_a_cylinder(page: Passage, at: int) -> bool:
    """"The first cylinder has 90 psi, the second one 120": a cylinder goes on being counted."""
    if page.word(at - 1) != "the" or (page.word(at + 1) not in ONES and (
            at + 1 >= len(page) or page.lexemes[at + 1].kind != "number")):
        return False
    return any(ordinal_cylinder(page, before) for before in range(max(0, at - COUNTED_ON), at - 1))


def _of_a_list(page: Passage, at: int) -> bool:
    """A place right behind a value, after the opposite one behind another value."""
    item = page.starting("position", at)
    if item is None or not behind_value(page, at) or page.word(item.end) in ("side", "one", "ones"):
        return False
    others = (page.starting("position", before) for before in range(at - LISTED, at - 1) if behind_value(page, before))
    return any(other is not None and OPPOSITE.get(other.term.id) == item.term.id for other in others)
