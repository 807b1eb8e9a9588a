"""Consumables that were used: thread locker, grease, sealant, cleaner, with the part they went on."""

from __future__ import annotations

from dataclasses import replace

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import BE
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.surroundings import Surroundings

READY_MIXED = ("petrol",)  # "premix" is of the fuel or of the coolant, as is spoken of
TOPPING = frozenset({"topped", "filled", "top", "fill", "refilled"})
COMPOUND = ("part", "fastener", "short", "head")
FOUND_ON = BE | {"looks", "looked", "had", "has", "came", "left"}  # "the grease is milky": a finding about a part
REACH = 14  # tokens from a part to the consumable behind it


def claim_materials(page: Passage) -> None:
    """Decide which words are a consumable and which a component, once for the passage, before components are read.

    "Silicone grease on the slide pins" is a consumable, "grease nipple" a component, "the grease is milky" a finding
    about a component.  The words of a consumable are shielded from the reading of components.
    """
    kept = [found for found in page.found.get("material", ()) if not _component(page, found)]
    page.found["material"] = kept
    page.at["material"] = {found.start: found for found in kept}
    shield = page.covered.setdefault("shield", set())
    for found in kept:
        shield.update(range(_with_qualifiers(page, found), found.end))


def _component(page: Passage, found: Found) -> bool:
    """The words name a part: as the first word of a longer one, or as what a finding is about."""
    for at in range(found.start, found.end):
        longer = any((term := page.starting(name, at)) and term.end > found.end for name in COMPOUND)
        if longer:
            return True
    single = found.end - found.start == 1
    if single and any(page.starting(name, found.end) for name in COMPOUND) and not _plural_said(page, found.end):
        return True
    asked = page.word(found.start - 1) in ("the", "old", "its") and page.word(found.end) in FOUND_ON
    return single and asked


def _plural_said(page: Passage, at: int) -> bool:
    """The word has another form than its singular one: "grease the nipples"."""
    return at < len(page) and page.lexemes[at].text.lower() != page.norm[at]


def _with_qualifiers(page: Passage, found: Found) -> int:
    """The first token of a consumable with the words that qualify it: "high temperature silicone grease"."""
    start = found.start
    while start and page.inside("qualifier", start - 1) and page.same_sentence(start - 1, found.start):
        start -= 1
    return start


def material(around: Surroundings, found: Found) -> Draft:
    """A consumable, with the words that qualify it, on the part it was used on."""
    page = around.page
    start = _with_qualifiers(page, found)
    name = " ".join(page.lower(i) for i in range(start, found.end))
    draft = Draft("material", start, found.end, found.start, code=name, rule=f"material.{found.term.id}",
                  confidence=0.9)
    item = around.governed(found.end)
    if item and item.words:
        draft.mention, draft.manner = around.attention.completed(item), "for"
        return draft
    topped = _topped_with(around, start) if found.term.id in READY_MIXED else None
    if topped is not None:
        draft.mention, draft.manner = topped, "for"
        return draft
    prior = [item for item in around.near.before(found.start, REACH) if item.words]
    nearest = next((item for item in prior if not (item.fastener and item.head == "nut")), prior[0] if prior else None)
    draft.mention = nearest or around.meant(found.start, "")
    if draft.mention is not None and draft.mention.head in page.classes.measured and len(draft.mention.words) > 1:
        draft.mention = replace(draft.mention, words=draft.mention.words[:-1])  # "chain slack ... paraffin": the chain
    draft.manner, draft.confidence = ("topic", 0.85) if prior else ("focus", 0.6)
    return draft


def _topped_with(around: Surroundings, start: int) -> Mention | None:
    """"Topped up with the premix": of the fluid that was topped up, and of no part named before it."""
    before = around.page.words(start - 5, start)
    return around.fluid() if "with" in before and not TOPPING.isdisjoint(before) else None
