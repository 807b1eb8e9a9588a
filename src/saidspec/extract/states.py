"""What was done, told by where a part is now: "wheel is off", "cap back on", "new washer on", "new copper washer"."""

from __future__ import annotations

from saidspec.extract.days import WEEKDAYS
from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage

OFF = frozenset({"off", "out"})
ON = frozenset({"on", "in", "fitted"})
BETWEEN = frozenset({"is", "'s", "are", "was", "were", "all", "now", "both", "back", "then", "have", "came", "come",
                     "comes", "went", "goes", "already", "straight", "never", "has", "not", "it"})
PIECES = frozenset({"", "\n", ".", ",", "piece", "place", "part", "half", "bit", "size"})  # "in two", "in three pieces"
BEFORE_PART = ARTICLES | {"new", "old", "fresh"}
VERB = 4  # tokens of a verb
REACH = 4  # tokens between a part and where it is


def state(page: Passage, mention: Mention, full: Mention) -> Draft | None:
    """The operation of a part that is off, out, on or in; `full` is the mention completed."""
    if mention.kind == "position" or mention.head in page.classes.switched:
        return None
    at = mention.end
    while page.word(at) in BETWEEN:
        at += 1
        if at - mention.end > REACH:
            return None
    if at >= len(page) or not page.same_sentence(mention.start, at) or not _is_state(page, at) or (
            at == mention.end and _of_a_verb(page, mention.start)):
        return None
    draft = Draft("operation", mention.start, at + 1, at, full, action=_action(page, mention, at),
                  rule=f"state.{page.word(at)}", confidence=0.8)
    if not {"never", "not"}.isdisjoint(page.words(mention.end, at)):
        draft.assertion, draft.cue = "negated", "negated-forward"
    return draft


def _of_a_verb(page: Passage, start: int) -> bool:
    """"Put a new seal in", "locked the nut off": what stands behind the part is the particle of the verb before it."""
    end = start
    while page.word(end - 1) in BEFORE_PART:
        end -= 1
    return any((verb := page.starting("action", at)) is not None and end <= verb.end <= start + 1
               and verb.term.detail != "noun" for at in range(max(end - VERB, 0), end))


def _is_state(page: Passage, at: int) -> bool:
    """"On" or "off" as where a part is, and not the preposition of what follows: "on the hub", "in 4 mm"."""
    word, after = page.word(at), page.word(at + 1)
    if (word not in OFF and word not in ON) or after in page.classes.no_state_before or after in WEEKDAYS:
        return False
    figure = at + 1 < len(page) and page.lexemes[at + 1].kind == "number"
    return not (word in ON and figure and (page.word(at + 2) in page.classes.figures_of or page.word(at + 2) in PIECES))


def _action(page: Passage, mention: Mention, at: int) -> str:
    off = page.word(at) in OFF
    if mention.head in page.classes.fluids or mention.head in page.classes.fuels:
        return "drain" if off else "fill"
    return "remove" if off else "install"


def renewed(page: Passage, mention: Mention, full: Mention) -> Draft | None:
    """A new part in a statement of what was done is a replacement; one that is wanted or bought is none."""
    before = page.word(mention.start - 1)
    new = mention.is_new or before == "new" or (before == "the" and page.word(mention.start) == "new")
    if not new or mention.kind == "position" or before in page.classes.wanting:
        return None
    start = mention.start - 1 if before == "new" else mention.start
    if page.word(start - 1) in page.classes.wanting:
        return None
    return Draft("operation", start, mention.end, mention.start, full, action="replace", rule="state.new",
                 confidence=0.75)
