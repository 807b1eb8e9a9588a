"""What was looked for is not what was found: "checked the hose for leaks", "felt the hub for play, none"."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import LOOKING
from saidspec.extract.observations import observation
from saidspec.extract.passage import Found, Passage
from saidspec.extract.surroundings import Surroundings

BESIDE = frozenset({"any", "a", "an", "the", "sign", "of", "and", "or", ",", "excessive", "obvious", "possible"})
NONE = frozenset({"none", "nothing", "nil", "nowt"})
ABSENT = frozenset({"aren't", "isn't", "wasn't", "weren't"})
UNABLE = frozenset({"couldn't", "didn't", "can't"})
SENSED = frozenset({"find", "see", "feel", "hear", "spot"})
SOME = frozenset({"some", "plenty", "lot", "load", "bit", "touch", "little"})  # "there's some"
AFTER_SOME = frozenset({"", "in", "at", "on", "there", "but"})
BEFORE_ANSWER = frozenset({",", ".", ";", ":", "-", "\n", "and", "but", "or", "there", "i", "we", "was", "were", "is",
                           "'s", "found", "saw", "felt", "heard", "so", "any", "sign", "of", "a", "just"})
LIST, REACH, PLACE, ANSWER = 8, 9, 6, 12  # tokens: back to "for", on to the verb; of a place, of what came of it


def unless_sought(around: Surroundings, found: Found) -> Draft | None:
    """A finding as an observation; one that was only looked for is none, and not there where the answer is no."""
    page = around.page
    purpose = _purpose(page, found.start)
    if purpose is None or not _looked(around, purpose):
        return observation(around, found)
    answer = _answer(page, found.end)
    if answer == "open":
        return None
    draft = observation(around, found)
    if answer == "none":
        draft.assertion, draft.cue = "negated", "negated-backward"
    return draft


def _purpose(page: Passage, start: int) -> int | None:
    """The "for" that a finding or a list of findings hangs on."""
    for at in range(start - 1, max(start - LIST, -1), -1):
        if page.word(at) == "for":
            return at
        if page.word(at) not in BESIDE and not page.inside("finding", at):
            return None
    return None


def _looked(around: Surroundings, purpose: int) -> bool:
    """A verb of looking governs the "for": "felt for", "checked the bearing for"."""
    page, splits = around.page, around.lexicon.split_verbs
    by_start = page.at.get("action", {})
    for at in range(purpose, max(purpose - REACH, -1), -1):
        if not page.same_sentence(at, purpose) or page.word(at) in (",", ";"):
            return False
        if at in by_start:
            return by_start[at].term.id in LOOKING
        if "for" in splits.get(page.word(at), ()):
            return True
    return False


def _answer(page: Passage, end: int) -> str:
    """What came of looking: "found", "none", or "open" where nothing is said of it."""
    mark = next((at for at in range(end, min(end + PLACE, len(page)))
                 if page.lexemes[at].kind == "mark" or page.word(at) in ("and", "but")), None)
    if mark is None:
        return "open"
    for at in range(mark, min(mark + ANSWER, len(page))):
        word = page.word(at)
        if word in NONE or word in ABSENT or (word in UNABLE and page.word(at + 1) in SENSED):
            return "none"
        if word in SOME and (page.word(at + 1) in AFTER_SOME or page.lexemes[at + 1].kind == "mark"):
            return "found"
        if word not in BEFORE_ANSWER and not page.inside("finding", at):
            return "found" if page.word(at - 1) == "found" else "open"
    return "open"
