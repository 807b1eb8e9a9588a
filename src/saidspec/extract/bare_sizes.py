"""Sizes without a unit: "a 17", "the six", "takes a fifteen", "five eighths plug socket"."""

from __future__ import annotations

from decimal import Decimal

from saidspec.extract.lengths import VAGUE
from saidspec.extract.place import Place
from saidspec.extract.roles import part_role
from saidspec.extract.sorts import Sort

HALF_SIZES = (Decimal("5.5"), Decimal("4.5"), Decimal("2.5"))  # keys and sockets with a half
SMALLEST, LARGEST = 2, 60  # mm, of tools at home (common practice)
SMALLEST_TOLD = 7  # mm, of a size that is told by the mere list: "wheel bolts, seventeen"
SMALLEST_INCH = Decimal("0.25")
LARGEST_INCH = Decimal("1.25")  # of tools at home (common practice)
MEASURED_IN_INCHES = frozenset({"play", "slack", "deflection", "gap", "depth", "height", "length", "runout", "travel",
                                "thickness", "diameter", "toe"})
ENDS_OF_A_BOLT = (["on", "the", "head"], ["on", "the", "heads"])
OTHER_ENDS = (["on", "the", "nut"], ["on", "the", "bolt"], ["on", "the", "back"])
EXTENTS = {"thick": "thickness", "wide": "width", "deep": "depth", "long": "length", "tall": "height"}
TAKES = frozenset({"is", "are", "'s", "take", "takes", "was", "were"})
ENDING = frozenset({".", ",", "and", "as", "too", "\n", ";", "but", "..."})


def plural(place: Place) -> Sort | None:
    """"The two at the back are eights"."""
    if place.item.form != "plural" or place.item.value > LARGEST:
        return None
    unit = place.memory.by_kind.get("size")
    return Sort("size", "tool", unit if unit and unit != "in" else "mm", "size.plural")


def size(place: Place) -> Sort | None:
    """A fraction of an inch, or the size of a tool in millimetres."""
    if place.counts_things():
        return None
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
    item, words, after, last = place.item, place.scene.words, place.after(3), place.memory.last
    if item.value < 1 and after[:1] == ["of"]:
        if not words.plays.isdisjoint(after):
            return Sort("measurement", "play", "in", "measurement.fraction")
        if after[1:2] and after[1] in words.measured:
            told = place.hint("measurement", 3)
            return Sort("measurement", told.role if told else None, "in", "measurement.fraction")
        if after[1:2] not in (["an"], ["one"]):
            return Sort(None, rule="fraction.of", no_fact=True)
    if item.value >= 4 or item.value * 32 % 1 != 0:
        return None
    if place.mention is not None and place.mention.head in words.fraction_tubes and place.manner != "for":
        return Sort("size", "tube", "in", "size.fraction")
    if after[:1] and after[0] in EXTENTS and words.tools.isdisjoint(after[1:2]):
        return Sort("measurement", EXTENTS[after[0]], "in", "measurement.fraction")  # "the blade is 3/16 thick"
    named, measuring = place.hint("size", 3), place.hint("measurement", 6)
    usual = part_role(place.mention, place.scene.lexicon)
    vague = measuring is not None and place.page.word(measuring.start) in VAGUE
    role = measuring.role if measuring and not (vague and usual) else usual
    if role in MEASURED_IN_INCHES and not named and not place.fastened:
        return Sort("measurement", role, "in", "measurement.fraction")
    if item.value < SMALLEST_INCH and not named and not place.fastened and place.mention is not None and (
            place.mention.head in ("tread", "tyre")):
        return Sort("measurement", "depth", "in", "measurement.fraction")
    turned = last is not None and last.kind == "count" and item.value > LARGEST_INCH  # "2 1/2 turns, book says 2 1/4"
    if turned:
        return None
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
    """"A 17", "13 deep socket", "19 on the head and 18 on the nut"."""
    after, last = place.after(2), place.memory.last
    if place.after(3) in ENDS_OF_A_BOLT or (place.after(3) in OTHER_ENDS and last is not None and last.kind == "size"
                                            and place.item.start - last.end <= 6):
        return "size.end"
    if place.of_a_tool() or (
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
    listed = memory.last is not None and memory.last.kind == "size" and place.item.value >= SMALLEST_TOLD
    told = place.lead in TAKES or (listed and place.lead == ",")
    if place.manner == "topic" and told and since <= 60 and since < memory.since("torque", start) and (
            not after or after[0] in ENDING):
        return "size.listed"
    if place.lead == "the" and place.manner in ("topic", "focus") and memory.by_kind.get("size"):
        return "size.article"
    if place.manner == "modifier" and place.mention is not None and not place.mention.plural:
        return "size.modifier"
    return None
