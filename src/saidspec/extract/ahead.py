"""A figure whose unit comes with the value after it: "30 for the lower and 45 newton metres for the upper"."""

from __future__ import annotations

from collections.abc import Mapping

from saidspec.discourse.corrections import between
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.place import counts_things
from saidspec.extract.quantity import Quantity
from saidspec.extract.scene import Scene

LISTING = frozenset({"/", "and", ",", "for", "the", "on", "at", "then", "a", "of", "one", "is", "'s", "are", "&", "to",
                     "in", "got", "rear", "both", "each", "side", "was", "...", "…", ".."})
# What was found and then put right has its unit behind the second value: "was at 28, set it to 32 psi".
FOUND = frozenset({"at", "was", "from", "only", "had", "found", "were", "just", "about"})
PUT_RIGHT = frozenset({"up", "down", "set", "it", "brought", "pumped", "put", "left", "now", "back", "aired", "so", "i",
                       "them", "adjusted", "took", "reset", "topped", "wound", "opened", "closed", "made", "got",
                       "all", "both", "they", "round"})
REACH = 14  # tokens to the value that it was put right to
ARROWS = frozenset({"-", ">", "→", "->"})  # "26 -> 33 psi"
SHARING = ("torque", "pressure", "length", "voltage", "temperature", "mil")  # dimensions whose unit is said once
JOINED = frozenset({"and", ",", "for", "on", "to"})
NAMING = ("part", "fastener", "position", "head", "modifier")


def unit_ahead(scene: Scene, item: Quantity, mention: Mention | None,
               quantities: Mapping[int, Quantity]) -> Quantity | None:
    """The value of a list whose unit a bare figure shares, or None.

    `mention` is the component of the figure, `quantities` those of the passage by their number's token.
    """
    page = scene.page
    following = _following(page, item, quantities)
    if following is None or not following.unit:
        return None
    taken_back = following.start - item.end <= 5 and between(page, item.end, following.start) is not None
    if following.dimension not in SHARING and not taken_back:
        return None
    if item.form == "plural" or item.end >= len(page) or counts_things(page, item):
        return None
    beside = page.lexemes[item.end]
    if beside.kind == "number" and (item.whole or beside.value is None or beside.value == int(beside.value)):
        return None  # of numbers side by side only those with decimals are a list: "12.4 12.6 12.5 bar"
    if item.value <= 0 or not following.value / 8 <= item.value <= following.value * 8:
        return None
    if taken_back:
        return following  # "a 12, no, a 13 mm socket"
    if page.word(item.start - 1) in ("a", "an"):
        return None
    if following.dimension == "length" and item.whole and not mention and page.word(item.end) not in JOINED:
        return None
    counted = scene.near.by_start.get(item.end)
    if counted is not None and counted.plural and following.dimension in ("length", "torque"):
        return None  # "two pads and 3 mm"
    fastened = mention is not None and mention.fastener
    if following.dimension == "torque" and not fastened and "," not in page.words(item.end, following.start):
        return None
    return following


def _following(page: Passage, item: Quantity, quantities: Mapping[int, Quantity]) -> Quantity | None:
    """The next value with a unit or an angle, over words of a list and names of parts alone; else the last bare one."""
    place, following = item.end, None
    arrow = not ARROWS.isdisjoint(page.words(item.end, item.end + 2))
    put_right = PUT_RIGHT if page.word(item.start - 1) in FOUND else ARROWS if arrow else frozenset()
    last = min(len(page), item.end + (REACH if put_right else 9))
    while place < last and page.same_sentence(item.number, place):
        if place in quantities:
            following = quantities[place]
            if following.unit or following.angle is not None:
                break
            place = following.end
            continue
        if page.word(place) not in LISTING | put_right and not page.inside("correction", place) and not any(
                page.inside(name, place) for name in NAMING):
            return None
        place += 1
    return following
