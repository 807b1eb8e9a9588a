"""Counts before a size ("three little eight mil bolts"), and pieces that a length is measured along."""

from __future__ import annotations

from saidspec.extract.bare_counts import handled
from saidspec.extract.passage import Passage
from saidspec.extract.place import MOST_COUNTED, Place
from saidspec.extract.sorts import Sort

FEWEST_ALONG, ALONG_REACH = 5, 5  # pieces of a chain; tokens from them to the verb of measuring
ALONG = frozenset({"over", "across", "along"})
SPANNING = frozenset({"measure", "measured", "measuring", "measures", "span", "spans", "spanned", "came"})
ADJECTIVES = 2  # between a count and the size of what is counted
MILLIMETRES = frozenset({"mil", "mm", "millimetre"})


def counted_sized(place: Place) -> Sort | None:
    """"Three little eight mil bolts", "four short M6 screws": an adjective between the count and the size."""
    item = place.item
    if not item.whole or item.high is not None or not 2 <= item.value <= MOST_COUNTED or place.led_by_a_fastener():
        return None
    named = sized_fastener(place.page, item.end)
    return Sort("count", handled(place, "used"), None, "count.pieces") if named and place.page.lexemes[
        item.end].kind == "word" else None


def sized_fastener(page: Passage, end: int) -> int | None:
    """The token of the plural fastener behind a count that ends at `end`, perhaps an adjective, and a size."""
    sized = end
    while sized - end < ADJECTIVES and page.word(sized) in page.classes.value_adjectives - {"of", "more"}:
        sized += 1
    if sized >= len(page) or page.lexemes[sized].kind not in ("number", "code"):
        return None
    named = sized + 2 if page.word(sized + 1) in MILLIMETRES else sized + 1
    named += page.word(named) in ("head", "headed")
    for at in range(named, min(named + 3, len(page))):
        if page.lexemes[at].kind != "word":
            return None
        if page.inside("fastener", at) and page.lexemes[at].text.lower().endswith("s"):
            return named
    return None


def measured_along(place: Place) -> Sort | None:
    """"Twenty links measure 321 mm", "over 20 links": along how many pieces of a chain a length is measured."""
    item, page = place.item, place.page
    told = page.word(item.end) in place.scene.words.measured_along and page.lexemes[item.end].text.lower().endswith("s")
    if not told or not item.whole or item.high is not None or item.value < FEWEST_ALONG:
        return None
    behind = range(item.end + 1, min(item.end + 1 + ALONG_REACH, page.sentence_end(item.start)))
    measures = any(page.word(at) in SPANNING and number_near(page, at + 1) for at in behind)
    return Sort(None, rule="count.measured-along", no_fact=True) if measures or place.lead in ALONG else None


def number_near(page: Passage, at: int) -> bool:
    """Whether a number stands at a token, or one or two words further: "measure about 321"."""
    return any(next_at < len(page) and page.lexemes[next_at].kind == "number" for next_at in range(at, at + 3))
