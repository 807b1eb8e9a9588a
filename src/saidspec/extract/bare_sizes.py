"""Sizes without a unit: "a 17", "the six", "takes a fifteen", "five eighths plug socket"."""

from __future__ import annotations

from decimal import Decimal

from saidspec.extract.place import Place
from saidspec.extract.roles import part_role
from saidspec.extract.sorts import Sort

HALF_SIZES = (Decimal("5.5"), Decimal("4.5"), Decimal("2.5"))  # keys and sockets with a half
SMALLEST, LARGEST = 2, 60  # mm, of tools at home (common practice)
LARGEST_INCH = Decimal("1.25")  # of tools at home (common practice)
MEASURED_IN_INCHES = frozenset({"play", "slack", "deflection", "gap", "depth", "height", "length", "runout", "travel",
                                "thickness", "diameter"})
TAKES = frozenset({"is", "are", "'s", "take", "takes", "was", "were"})
ENDING = frozenset({".", ",", "and", "as", "too", "\n", ";", "but", "..."})


def plural(place: Place) -> Sort | None:
    """"The two at the back are eights"."""
    if place.item.form != "plural":
        return None
    return Sort("size", "tool", place.memory.by_kind.get("size") or "mm", "size.plural")


def size(place: Place) -> Sort | None:
    """A fraction of an inch, or the size of a tool in millimetres."""
    if place.item.form == "fraction":
        if _halves(place):
            return None
        found = _fraction(place)
        if found is not None:
            return found
    return _tool(place)


def _halves(place: Place) -> bool:
    """"One and a half", where neither a tool nor a fastener is named: nobody knows of what."""
    item = place.item
    return 1 <= item.value < 4 and item.value * 2 % 1 == 0 and not place.hint("size", 3) and not place.fastened


def _fraction(place: Place) -> Sort | None:
    """A fraction of an inch: play, a length of what is measured, the size of a tool or a tube; "three quarters of the
    stick" is no fact.
    """
    item, words, after = place.item, place.scene.words, place.after(3)
    if item.value < 1 and after[:1] == ["of"]:
        if not words.plays.isdisjoint(after):
            return Sort("measurement", "play", "in", "measurement.fraction")
        if after[1:2] not in (["an"], ["one"]):
            return Sort(None, rule="fraction.of", no_fact=True)
    if item.value >= 4 or item.value * 32 % 1 != 0:
        return None
    named, measuring = place.hint("size", 3), place.hint("measurement", 6)
    role = measuring.role if measuring else part_role(place.mention, place.scene.lexicon)
    if role in MEASURED_IN_INCHES and not named and not place.fastened:
        return Sort("measurement", role, "in", "measurement.fraction")
    if named or place.fastened or (item.value <= LARGEST_INCH and (place.article or not item.whole)):
        tube = bool(after) and after[0] in words.fraction_tubes
        return Sort("size", "tube" if tube else "tool", "in", "size.fraction")
    return None


def _tool(place: Place) -> Sort | None:
    item = place.item
    if not item.whole and item.value not in HALF_SIZES:
        return None
    if not SMALLEST <= item.value <= LARGEST or (item.high is not None and item.high - item.value > 4):
        return None
    rule = _named_tool(place) or _fastener_tool(place)
    return Sort("size", "tool", "mm", rule) if rule else None


def _named_tool(place: Place) -> str | None:
    """"A 17", "13 deep socket"."""
    after = place.after(2)
    if (after[:1] and after[0] in place.scene.words.tools) or (
            len(after) > 1 and after[1] in ("socket", "wrench", "spanner")):
        return "size.tool"
    found = place.manner in ("topic", "focus", "for", "copula", "place")
    if place.article and found and not (after and after[0] in place.scene.words.counted_after_article):
        return "size.article"
    return None


def _fastener_tool(place: Place) -> str | None:
    """The size that turns a fastener: "drain plug is 17", "the six" of a bolt, "ten bolt"."""
    if not place.fastened:
        return None
    memory, start, after = place.memory, place.item.start, place.after(1)
    since = memory.since("size", start)
    if place.manner == "topic" and place.lead in TAKES and since <= 60 and since < memory.since("torque", start) and (
            not after or after[0] in ENDING):
        return "size.listed"
    if place.lead == "the" and place.manner in ("topic", "focus") and memory.by_kind.get("size"):
        return "size.article"
    if place.manner == "modifier" and place.mention is not None and not place.mention.plural:
        return "size.modifier"
    return None
