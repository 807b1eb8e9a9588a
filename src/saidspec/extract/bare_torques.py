"""Torques without a unit: "did it at 31", "this one gets thirty one", "nuts at 65, pinch bolts 14"."""

from __future__ import annotations

from saidspec.extract.place import Place
from saidspec.extract.sorts import Sort

LARGEST_SIZE = 60  # mm, of tools at home (common practice)
FRESH, FADING, REMEMBERED = 25, 30, 60  # tokens since the last torque


def torque_with_angle(place: Place) -> Sort | None:
    """"Hundred and twenty and then the ninety degrees": the torque's unit is that of the torque said before."""
    if place.item.angle is None:
        return None
    return Sort("torque", None, place.memory.unit("torque", None, place.item.value), "torque.angle-bare")


def torque(place: Place) -> Sort | None:
    """A torque by its verb, by an equal one before, or as one more of those that are being told."""
    item, words = place.item, place.scene.words
    if item.form in ("fraction", "plural", "year") or not 1 <= item.value <= 800 or place.article:
        return None
    if (place.mention is not None and {"tyre", "spare"} & {*place.mention.words}) or place.counts_things() or (
            place.of_a_tool()):
        return None
    known = place.memory.unit("torque", None, item.value)
    if not words.tightening.isdisjoint(place.before(5)):
        return Sort("torque", None, known, "torque.bare")
    if known is None or place.hint("measurement", 12) or place.hint("size", 2) or place.hint("odometer", 2):
        return None
    since = place.memory.since("torque", item.start)
    if place.fastened and place.manner == "topic" and item.whole and item.value > LARGEST_SIZE and (
            place.mention is not None and item.start - place.mention.end <= 1):
        return Sort("torque", None, known, "torque.high")  # "wheel bolts a hundred and ten": no size is as large
    if ("torque", item.value) in place.memory.values and _again(place, since):
        return Sort("torque", None, known, "torque.again")
    acted = not words.acted.isdisjoint(place.before(4))
    if since > REMEMBERED or not place.fastened or (place.manner == "focus" and not acted):
        return None
    if not words.quoting.isdisjoint((*place.before(6), *place.after(4))):
        return Sort("torque", None, known, "torque.quoted")
    last = place.memory.last
    listing = last is not None and last.kind == "torque" and since <= FRESH
    done = acted if since > FADING else not words.doing.isdisjoint(place.before(4))
    if listing or done or place.manner in ("for", "copula"):
        return Sort("torque", None, known, "torque.listed")
    return None


def _again(place: Place, since: int) -> bool:
    """An equal torque was said before, and the words or the fastener tell that it holds here too."""
    if place.manner in ("for", "copula") or not {"again", "there"}.isdisjoint(place.after(2)) or (
            place.after(2) == ["as", "well"]):
        return True
    return place.fastened and (place.manner == "topic" or since <= FRESH)
