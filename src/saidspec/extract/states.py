"""What was done, told by where a part is now: "wheel is off", "cap back on", "new washer on", "new copper washer"."""

from __future__ import annotations

from saidspec.extract.days import WEEKDAYS
from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage

OFF = {"off", "out"}
ON = {"on", "in", "fitted"}
BETWEEN = {
    "is",
    "'s",
    "are",
    "was",
    "were",
    "all",
    "now",
    "both",
    "back",
    "then",
    "have",
    "came",
    "come",
    "comes",
    "went",
    "goes",
    "already",
    "straight",
    "never",
    "has",
    "not",
    "it",
}
NO_STATE_BEFORE = {
    "the",
    "a",
    "an",
    "my",
    "this",
    "it",
    "that",
    "there",
    "of",
    "place",
    "its",
    "top",
    "both",
    "each",
    "them",
    "these",
    "those",
    "here",
    "one",
    "front",
    "stock",
    "order",
    "to",
    "spec",
    "good",
    "pretty",
    "there's",
    "centre",
    "warm",
    "while",
    "easy",
    "total",
    "hot",
    "cold",
    "fully",
    *WEEKDAYS,
}
# "fan came on" is no work
SWITCHED = {
    "light",
    "lamp",
    "fan",
    "engine",
    "ignition",
    "heater",
    "radio",
    "motor",
    "key",
    "tread",
    "toe",
    "camber",
    "caster",
    "bulb",
}
FLUIDS = {"oil", "coolant", "water", "fluid", "fuel", "antifreeze", "petrol", "diesel"}
QUANTITIES = {"mm", "mil", "psi", "bar", "good", "hour", "mile", "km", "cylinder"}
PLANS = {
    "need",
    "needs",
    "a",
    "order",
    "get",
    "buy",
    "want",
    "wants",
    "with",
    "to",
    "ordered",
    "no",
    "bought",
    "always",
}


def state(page: Passage, mention: Mention, full: Mention) -> Draft | None:
    """The operation of a part that is off, out, on or in."""
    at = mention.end
    if mention.kind == "position" or mention.head in SWITCHED:
        return None
    while page.word(at) in BETWEEN:
        at += 1
        if at - mention.end > 4:
            return None
    word, after = page.word(at), page.word(at + 1)
    if at >= len(page) or not page.same_sentence(mention.start, at) or word not in OFF | ON or after in NO_STATE_BEFORE:
        return None
    if word in ON and at + 1 < len(page) and page.lexemes[at + 1].kind == "number" and page.word(at + 2) in QUANTITIES:
        return None
    if mention.head in FLUIDS:
        action = "drain" if word in OFF else "fill"
    else:
        action = "remove" if word in OFF else "replace" if mention.is_new else "install"
    draft = Draft("operation", mention.start, at + 1, at, full, action=action, rule=f"state.{word}", confidence=0.8)
    if {"never", "not"} & {*page.words(mention.end, at)}:
        draft.assertion, draft.cue = "negated", "negated-forward"
    return draft


def renewed(page: Passage, mention: Mention, full: Mention) -> Draft | None:
    """A new part in a statement of what was done is a replacement."""
    before = page.word(mention.start - 1)
    new = mention.is_new or before == "new" or (before in ("a", "the") and page.word(mention.start) == "new")
    if not new or mention.kind == "position" or before in PLANS:
        return None
    start = mention.start - 1 if before == "new" else mention.start
    if page.word(start - 1) in PLANS:
        return None
    return Draft(
        "operation", start, mention.end, mention.start, full, action="replace", rule="state.new", confidence=0.75
    )
