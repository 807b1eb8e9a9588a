"""Words that are parts only in some places: "the blade is 3/16 thick", but "a thin blade of grass"."""

from __future__ import annotations

from saidspec.extract.component_words import plural
from saidspec.extract.grammar import BE
from saidspec.extract.passage import Passage

SEVERAL = frozenset({"set", "pair", "one", "both", "two", "three", "four", "lot"})
OPENERS = frozenset({"", "\n", "*", "-", ">", "#", ".", ";"})
SAID_OF_PARTS = BE | {"draw", "draws", "reads", "measures", "has", "had", "have", "got", "takes", "gets", "came",
                      "come", "went", "looks"}
ASIDE = frozenset({"stuff", "thing", "one", "way", "time", "lot", "box"})  # "the seat box": not the part


def doubtful(page: Passage, at: int, end: int, several: bool, placed: bool) -> bool:
    """A word that is a part only in some places stands where it is none."""
    if end - at != 1 or not page.inside("doubtful", end - 1):
        return False
    counted = at > 1 and page.lexemes[at - 2].kind == "number" and page.inside("finding", at - 1)  # "3 loose spokes"
    if page.word(end) == ":" or (several and at and (counted or page.lexemes[at - 1].kind == "number")) or (
            page.word(at - 1) == "of" and page.word(at - 2) in SEVERAL):
        return False  # "blades: ...", "3 spokes", "a set of blades"
    if _opens_statement(page, at, end):
        return False
    return page.word(at - 1) not in ("the", "new", "old", "both") or page.word(end) in ASIDE or (
        page.word(at - 2) in ("on", "at") and not placed)


def _opens_statement(page: Passage, at: int, end: int) -> bool:
    """"Motor draws 6.5 A", "Wipers.", "brake: air gap": the word opens a sentence, and a verb or a mark follows."""
    if page.word(at - 1) == ",":
        return page.word(end) in BE  # "blade nut 45, blade is 3/16 thick"
    if at and page.same_sentence(at - 1, at) and page.word(at - 1) not in OPENERS:
        return False
    valued = plural(page, at) and end < len(page) and page.lexemes[end].kind == "number"  # "blades 5/8 bolts"
    done = page.starting("action", end)  # "Rail cleaned with brake cleaner"
    told = valued or (done is not None and done.term.detail == "past") or page.word(end) in SAID_OF_PARTS
    return told or page.word(end) in (".", ":", "first", "next", "now")
