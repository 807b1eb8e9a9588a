"""Grades and types of fluids that are told by a name and not by a number: "ATF", "o a t concentrate", "UTTO".

Only what is said by its designation counts: "trans fluid" names a component, "ATF" the fluid that is in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.values import ValueReader

DESIGNATION = re.compile(r"[A-Z]+\d+|[A-Z]{2,}|\d+|\b[A-Z]\b")
HEADS = ("oil", "fluid", "coolant", "antifreeze", "concentrate", "grease", "lube")
HEDGES = {"quoted", "possible", "historical", "source"}


def named_fluids(page: Passage, phrases: list[Mention]) -> Iterator[Found]:
    """The names of grades in a passage, each once, and once more where it was only quoted the first time."""
    covering = {at: phrase for phrase in phrases for at in range(phrase.start, phrase.end)}
    hedges = {page.sentence[cue.start] for cue in page.found.get("cue", ()) if cue.term.detail in HEDGES}
    seen: dict[str, bool] = {}
    for found in page.found.get("fluid", ()):
        longer = covering.get(found.start)
        if (longer is not None and longer.end > found.end and longer.head not in HEADS) or not _designated(page, found):
            continue
        hedged = page.sentence[found.start] in hedges
        if seen.get(found.term.detail, True):
            seen[found.term.detail] = hedged
            yield found


def _designated(page: Passage, found: Found) -> bool:
    """The designation itself was said, spelled or not; a mixing ratio or a share is no grade."""
    code = found.term.detail
    if ":" in code or "%" in code or found.term.meant == "fuel" or any(page.lexemes[at].kind == "code"
        for at in range(found.start, found.end)):
        return False
    words = page.words(found.start, found.end)
    said = "".join(page.lower(at) for at in range(found.start, found.end))
    if said != "".join(words):
        return False  # "oats" is no OAT
    return any(part.lower() in said if len(part) > 1 else part.lower() in words for part in DESIGNATION.findall(code))


def fluid(values: ValueReader, found: Found) -> Draft:
    """The fact of a named grade; its component is the fluid that stands beside it, else the one it is a grade of."""
    target = values.fitting("fluid", None, values.target(found.start, found.end, length=True), found.start)
    made = Draft("fluid", found.start, found.end, found.start, target.mention, code=found.term.detail,
                 rule=f"fluid.{found.term.id}", manner=target.manner)
    made.confidence = min(0.9, target.confidence)
    beside = target.manner in ("modifier", "for", "copula",
        "topic") and target.mention is not None and target.mention.head in HEADS
    if found.term.meant and not beside:
        made.mention = Mention(0, 0, tuple(found.term.meant.split()), (), "part", target.mention.system
            if target.mention else "", False)
    values.claimed.update(dict.fromkeys(range(found.start, found.end), "fluid.name"))
    return made
