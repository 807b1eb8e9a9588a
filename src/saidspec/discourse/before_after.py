"""Values that are history though no second one is told beside them, and those told in one breath with such a value."""

from __future__ import annotations

from itertools import pairwise

from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage

BEFORE_IT = "before-adjustment"  # the cue of a value measured before the part was put right
LENGTHS_AND_GAPS = frozenset({"gap", "clearance", "length", "thickness", "depth", "height", "level", "width", "play"})
ENDS = frozenset({"", ".", ",", "\n", ";", "so", "and", "now", "but", ")"})
BEFORE = frozenset({"before", "beforehand", "previously"})
WAS = frozenset({"was", "were", "had", "is", "are"})
NEAR = 14  # tokens between a value told as that of before and the other one
BROUGHT = frozenset({"to", "now", ">", "→", "set", "then"})  # right before a value: what the part was brought to
LISTING = frozenset({"/", ",", "and", "the", "at", "on", "top", "bottom", "left", "right", "front", "rear", "inner",
                     "outer", "mm", "psi", "bar", "one", "side", "in", "above", "below", "only", "just", "was", "is"})


def said_before(page: Passage, measured: list[Draft]) -> None:
    """"It was 31 before.", "38 psi idling before, and 44 with the new filter": the word itself tells it is past."""
    for index, draft in enumerate(measured):
        if draft.assertion != "stated":
            continue
        at = draft.end if page.word(draft.end) in BEFORE else draft.end + 1
        if page.word(at) not in BEFORE or page.word(at + 1) not in ENDS or page.lexemes[draft.end].kind == "mark":
            continue
        beside = [other for other in measured[max(0, index - 1) : index + 2] if other is not draft and (
            other.unit == draft.unit and abs(other.start - draft.start) <= NEAR)]
        if beside or not {"was", "were"}.isdisjoint(page.words(draft.start - 4, draft.start)):
            draft.assertion, draft.cue = "historical", BEFORE_IT


def left_at_quoted(page: Passage, measured: list[Draft]) -> None:
    """"They were 52 psi, plate says 65, so that's what they've got": brought to what is asked for."""
    for early, asked in pairwise(measured):
        if early.assertion != "stated" or asked.assertion != "quoted" or early.unit != asked.unit or (
                asked.start - early.end > NEAR or early.value == asked.value):
            continue
        alike = early.role == asked.role or {early.role, asked.role} <= LENGTHS_AND_GAPS
        told = f" {' '.join(page.words(asked.end, asked.end + NEAR))} "
        if alike and any(f" {phrase} " in told for phrase in page.classes.left_at_quoted):
            early.assertion, early.cue = "historical", BEFORE_IT


def listed_with(page: Passage, earlier: list[Draft], outdated: Draft) -> None:
    """"8/6", "9 mm at the top and 3 mm at the bottom": what is told in one list with an outdated value is so too."""
    for one, other in pairwise(earlier):
        if outdated not in (one, other):
            continue
        twin = one if other is outdated else other
        alike = one.role == other.role or {one.role, other.role} <= LENGTHS_AND_GAPS
        if not BROUGHT.isdisjoint(page.words(twin.start - 2, twin.start)):
            continue
        if twin.assertion == "stated" and alike and one.unit == other.unit and (
                LISTING.issuperset(page.words(one.end, other.start))):
            twin.assertion, twin.cue = "historical", BEFORE_IT
