"""Whether the value of a fact can be held against a specification at all: kind, role, unit, and what is measured."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from saidspec.model import Fact, Specification
from saidspec.reconcile.context import Context
from saidspec.reconcile.cues import cue
from saidspec.reconcile.phrase import Phrase, longest, read_phrase
from saidspec.reconcile.vocabulary import folded
from saidspec.reference.units import convert, convertible

SENTENCE = r"[.!?;]\s|\n"
NEXT_CLAUSE = SENTENCE + r"|,\s|\b(?:and|then|but|while)\b"
SMALL = frozenset({"runout", "clearance"})
GUESSED = frozenset({"length", "thickness", "voltage"})  # guesses by the unit, where the note says no more
EXTENTS = frozenset({"diameter", "length", "height", "depth", "thickness"})
NEARLY = Decimal("0.2")  # share by which a length may be off the sheet's and still be a measure of the same
BEFORE, AFTER = 60, 30  # characters around a figure in which what it is of may be said
LARGEST_PLAY = Decimal(10)  # mm (common practice)
# Quantities that a meter reads alike, so that either word may be used for the other.
ALIKE = ({"clearance", "play"}, {"thickness", "depth"}, {"depth", "height"}, {"play", "travel"}, {"length", "height"})


def alike(said: str | None, wanted: str | None) -> bool:
    """Whether two names of what is measured may mean the same."""
    return said is None or wanted is None or said == wanted or any({said, wanted} <= group for group in ALIKE)


def fact_quantity(fact: Fact, phrase: Phrase, context: Context) -> str | None:
    """What a measurement is of: by its role, else by the last words of its component."""
    told = context.vocabulary.quantities.get(tuple((fact.role or "").replace("-", " ").split()))
    if told in SMALL and fact.value is not None and convertible(fact.unit, "mm"):
        large = convert(fact.value, fact.unit or "mm", "mm") > LARGEST_PLAY
        told = None if large else told  # no runout is 200 mm: what was measured was not understood
    return phrase.quantity or spoken_quantity(fact, context) or told if told in GUESSED else told or phrase.quantity


def spoken_quantity(fact: Fact, context: Context) -> str | None:
    """The name of a quantity that was said last before a figure in its sentence, or right after it."""
    start, end = fact.provenance.start, fact.provenance.end
    before = re.split(SENTENCE, context.text[max(0, start - BEFORE):start])[-1]
    before = cue("at-idle").sub("", before.lower())
    after = re.split(NEXT_CLAUSE, context.text[end:end + AFTER])[0]
    known = context.vocabulary.quantities
    for words in (folded(before), folded(after)):
        at, found = 0, None
        while at < len(words):
            length = longest(words, at, known)
            found = known[words[at:at + length]] if length else found
            at += length or 1
        if found:
            return found
    return None


def alike_in_size(fact: Fact, spec: Specification) -> bool:
    """Whether a length is near enough to the sheet's to be a measure of the same: a drum of 203 mm is its diameter."""
    if fact.value is None or spec.value is None or not convertible(fact.unit or spec.unit, spec.unit):
        return False
    said = convert(fact.value, fact.unit or spec.unit or "mm", spec.unit or "mm")
    return abs(said - spec.value) <= spec.value * NEARLY


def comparable(fact: Fact, spec: Specification, said: Phrase, wanted: Phrase, context: Context) -> bool:
    """Whether the value of a fact can be held against a specification at all: kind, role, unit, what is measured."""
    if fact.kind != spec.kind:
        return False
    if fact.kind == "measurement":
        quantity = fact_quantity(fact, said, context)
        if fact.unit and not convertible(fact.unit, spec.unit):
            return False
        if quantity in GUESSED and wanted.quantity in EXTENTS and alike_in_size(fact, spec):
            return True
        if wanted.quantity is None and quantity in ("runout", "play", "temperature", "travel") and spec.bound == "min":
            return False
        return alike(quantity, wanted.quantity)
    if fact.kind == "volume":
        return fact.role not in ("drained", "bought", "left over") and spec.role in (None, "capacity")
    if fact.kind == "size":
        if (fact.code is None) != (spec.code is None):
            return False
        return not (fact.role and spec.role and fact.role != spec.role) and (
            fact.role in (None, "tool", "thread", "tyre") or spec.role == fact.role)
    return True


def by_measure(fact: Fact, phrase: Phrase, context: Context) -> list[Phrase]:
    """What a measure of a part that is only numbered may be called: "cylinder 3" and its compression, or that of a
    cylinder."""
    if not fact.role:
        return []
    made = [read_phrase(f"{fact.component or ''} {fact.role}".strip(), fact.kind, context.vocabulary)]
    if "cylinder" in (fact.component or ""):
        of_one = read_phrase(f"cylinder {fact.role}", fact.kind, context.vocabulary)
        made.append(replace(of_one, positions=phrase.positions))
    return made
