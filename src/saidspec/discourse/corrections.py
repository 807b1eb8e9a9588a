"""What a speaker takes back: the old reading becomes retracted and points to the new one.  Nothing is deleted."""

from __future__ import annotations

import itertools

from saidspec.extract.components import Mention
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Found, Passage

STRONG_BEFORE, STRONG_AFTER = 12, 9
WEAK_BEFORE, WEAK_AFTER = 3, 4
NARROWING = {
    "two",
    "other",
    "ones",
    "back",
    "front",
    "others",
    "third",
    "second",
    "first",
    "last",
    "three",
    "four",
    "rest",
    "end",
    "middle",
    "big",
    "small",
    "long",
    "short",
    "left",
    "right",
}
CORRECTABLE = {
    "torque",
    "volume",
    "size",
    "measurement",
    "odometer",
    "cost",
    "count",
    "part_number",
    "fluid",
    "interval",
    "duration",
    "date",
    "trouble_code",
}


def between(page: Passage, first: int, last: int) -> Found | None:
    """The correction that stands in tokens first..last, the strong one first."""
    weak = None
    for at in range(first, last):
        found = page.starting("correction", at)
        if found and found.end <= last and takes_back_at(page, found):
            if found.term.detail == "retract":
                return found
            weak = weak or found
    return weak


def takes_back_at(page: Passage, found: Found) -> bool:
    """ "No" takes back before a mark, a value or "it's"; not in "no leaks" or "sorry about the noise"."""
    after = page.word(found.end)
    said = page.norm[found.start : found.end]
    if said == ["no"] and numbered(page, found.start):
        return False  # "no. 2 is open"
    if said == ["no"]:
        return after in (
            ",",
            ".",
            "...",
            "…",
            "it",
            "that",
            "this",
            "the",
            "they",
            "make",
            "a",
            "an",
            "-",
            "–",
            "not",
            "wait",
            "sorry",
        ) or (found.end < len(page) and page.lexemes[found.end].kind in ("number", "code"))
    if said in (["sorry"], ["wait"], ["pardon"], ["hang", "on"], ["hold", "on"]):
        return after not in ("about", "for", "if", "to", "until", "till", "on", "i", "ten", "let", "while", "time")
    if said in (["actually"], ["in", "fact"]):
        return page.same_sentence(found.start - 1, found.start) if found.start else False
    return True


def numbered(page: Passage, at: int) -> bool:
    """ "No. 3": the full stop touches the "no" and a small whole number without a unit follows."""
    if (
        page.word(at) != "no"
        or page.word(at + 1) != "."
        or at + 2 >= len(page)
        or page.lexemes[at].end != page.lexemes[at + 1].start
    ):
        return False
    value = page.lexemes[at + 2].value
    return (
        page.lexemes[at + 2].kind == "number"
        and value is not None
        and value == int(value)
        and 1 <= value <= 12
        and (
            page.word(at + 3) not in ("mm", "mil", "nm", "n", "ft", "psi", "bar", "litre", "l", ",")
            or page.word(at - 1) in ("the", "on", "of", "for", ",", ":", "*", "\n")
        )
    )


def narrows(page: Passage, first: int, last: int) -> bool:
    """ "No, the two at the back are eights": a subject of its own that is a part of what stood before."""
    words = page.words(first, last)
    return any(
        word in ("the", "these", "those")
        and (words[i + 1] in NARROWING or (words[i + 1].isdigit() and i + 2 < len(words)))
        for i, word in enumerate(words[:-1])
    ) and (any(word in ("is", "are", "'s", "was", "were", "take", "takes", "need") for word in words))


def takes_back(page: Passage, old: Draft, new: Draft) -> Found | None:
    """The correction by which `new` replaces `old`, or None."""
    if old.kind not in CORRECTABLE or new.start <= old.end or new.start - old.end > 24:
        return None
    found = between(page, old.end, new.start)
    if found is None:
        return None
    before, after = found.start - old.end, new.start - found.end
    strong = found.term.detail == "retract"
    if page.sentence[new.start] - page.sentence[old.end - 1] > 2 or found.term.detail == "recall":
        return None
    if (strong and (before > STRONG_BEFORE or after > STRONG_AFTER)) or (
        not strong and (before > WEAK_BEFORE or after > WEAK_AFTER)
    ):
        return None
    if narrows(page, found.end, new.end) or _same_value(old, new) or new.kind != old.kind:
        return None
    named = any(at in page.at.get(name, {}) for name in ("part", "fastener") for at in range(found.end, new.start))
    if strong and before <= 3 and after <= 4 and not named and new.manner != "copula":
        return found  # value for value: the two stand side by side
    return found if _same_thing(old, new, found) else None


def _same_value(old: Draft, new: Draft) -> bool:
    return old.value == new.value and old.code == new.code and old.unit == new.unit and old.angle == new.angle


def _same_thing(old: Draft, new: Draft, found: Found) -> bool:
    """Whether the new value is about the thing of the old one: it names no other part of its own."""
    if old.role and new.role and old.kind in ("measurement",) and old.role != new.role:
        return False
    if (
        new.mention is None
        or old.mention is None
        or (new.mention.start < found.start and new.manner in ("topic", "focus"))
    ):
        return True
    if new.manner == "modifier" and new.mention.general:
        return True
    mine, theirs = {*new.mention.words}, {*old.mention.words}
    return (mine <= theirs or theirs <= mine) and _compatible(new.mention, old.mention)


def _compatible(one: Mention, other: Mention) -> bool:
    mine, theirs = dict(one.positions), dict(other.positions)
    return all(theirs.get(axis, place) == place for axis, place in mine.items())


def retract(page: Passage, drafts: list[Draft]) -> None:
    """Mark the values that are taken back; the value that replaces one takes over what it leaves unsaid."""
    values = [draft for draft in drafts if draft.kind in CORRECTABLE and not draft.back]
    for old, new in itertools.pairwise(values):
        found = takes_back(page, old, new)
        if found is None:
            continue
        old.assertion, old.cue, old.replaced_by = "retracted", f"correction.{found.term.id}", new
        if new.manner in ("focus", "topic", "none") and (new.mention is None or new.mention.start < found.start):
            new.mention = old.mention
        elif new.manner in ("for", "modifier") and new.mention is not None and not new.mention.general:
            old.mention = new.mention
        if new.bare and old.unit:
            new.unit = old.unit
        new.role = new.role or old.role
