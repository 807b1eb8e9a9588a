"""Lengths without a unit that the words behind them tell: "springs are 396 long", "level at 140 from the top"."""

from __future__ import annotations

from saidspec.extract.lengths import ENDS_OF_A_TUBE, SPANNED, from_an_edge
from saidspec.extract.place import Place
from saidspec.extract.sorts import Sort

LEVELS = frozenset({"level", "height", "gap"})  # what is told from the top of a tube
LEVEL_REACH = 8  # tokens from "level" to its figure
EDGE_REACH = 4  # tokens from a figure to "top" in "down from the top"
LASTING = frozenset({"how", "too", "so", "take", "took", "for"})  # "took two long hours" is no length


def spanned(place: Place) -> Sort | None:
    """A figure that a word of its direction or an edge behind it makes a length, where it is usual for the part."""
    item = place.item
    if item.form in ("year", "plural") or place.counts_things() or place.article:
        return None
    if from_an_edge(place.page, item):
        return _level(place) if not ENDS_OF_A_TUBE.isdisjoint(place.after(EDGE_REACH)) else None
    role = SPANNED.get(place.page.word(item.end))  # not "high": "34 low and 210 high" are pressures
    if role in (None, "height") or place.mention is None or place.fastened or place.lead in LASTING:
        return None
    unit = place.unsaid(role)
    return Sort("measurement", role, unit, "measurement.spanned") if unit else None


def _level(place: Place) -> Sort | None:
    """"Set the level at 140 from the top": how far below the edge a fluid stands."""
    item, page = place.item, place.page
    first = max(page.sentence_start(item.start), item.start - LEVEL_REACH)
    if LEVELS.isdisjoint(page.words(first, item.start)):
        return None
    unit = place.unsaid("height")
    return Sort("measurement", "height", unit, "measurement.level") if unit else None
