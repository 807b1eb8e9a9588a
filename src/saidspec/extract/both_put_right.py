"""Two values that were put right at once: "31 front 35 back, set to 32 and 36"; each is of the place of its own."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.mention import OPPOSITE, Mention
from saidspec.extract.quantity import Quantity, number_at
from saidspec.extract.scene import Scene

AXES = ("end", "side")
APART = 8  # tokens between the two values before


def first_of_two(scene: Scene, item: Quantity) -> Mention | None:
    """The part of the first of two values that are told without a place, behind two that have opposite ones."""
    page, recent = scene.page, scene.memory.recent
    if len(recent) < 2 or page.word(item.end) != "and" or not number_at(page, item.end + 1) or (
            item.high is not None or item.end + 2 in scene.near.by_start):
        return None
    return recent[-2].mention if _opposite(recent[-2], recent[-1]) else None


def second_of_two(scene: Scene, item: Quantity) -> Draft | None:
    """The value before, of which this one is the new value: the second of the two that were put right."""
    page, recent = scene.page, scene.memory.recent
    if len(recent) < 3 or page.word(item.start - 1) != "and" or recent[-1].end != item.start - 1 or (
            recent[-1].rule != "measurement.put-right"):
        return None
    one, other = recent[-3], recent[-2]
    same = recent[-1].mention == one.mention and recent[-1].role == other.role
    return other if same and _opposite(one, other) else None


def _opposite(one: Draft, other: Draft) -> bool:
    """Whether two values are of one kind of thing at opposite places, said one right after the other."""
    if one.mention is None or other.mention is None or one.kind != "measurement" or one.role != other.role or (
            one.mention.words != other.mention.words or not 0 <= other.start - one.end <= APART):
        return False
    return any(OPPOSITE.get(one.mention.axis(axis) or "") == other.mention.axis(axis) for axis in AXES
               if one.mention.axis(axis))
