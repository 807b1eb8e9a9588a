"""What was left alone: "did not do the fuel filter", "never touched the carb", "clamps I never touched"."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES, PRONOUNS
from saidspec.extract.mention import Mention
from saidspec.extract.surroundings import Surroundings

NO = frozenset({"didn't", "not", "never", "haven't", "hasn't", "n't", "wouldn't", "don't"})
DONE = {"do": "replace", "done": "replace", "touch": "remove", "touched": "remove", "disturb": "remove",
        "disturbed": "remove"}  # verbs that name no work, and what certainly was not done
OVER = ARTICLES | {"of", "with", "any", "front", "rear"}
REACH, NO_REACH = 5, 2  # tokens from the verb to its object, and from the "no" to the verb


def untouched(around: Surroundings, at: int) -> Draft | None:
    """The operation that was not done, by the verb at a token; None where it names no part."""
    page = around.page
    no = next((place for place in range(at - 1, at - 1 - NO_REACH, -1) if page.word(place) in NO), None)
    if no is None or any(page.starting("action", place) for place in range(at, at + REACH)):
        return None
    mention, end = _object(around, at)
    if mention is None:
        return None
    return Draft("operation", no, end, at, mention, action=DONE[page.norm[at]], assertion="negated",
                 cue="left-alone", rule="action.left-alone", confidence=0.6, manner="base")


def _object(around: Surroundings, at: int) -> tuple[Mention | None, int]:
    """(part, end of the words): behind the verb, a pronoun of what was touched, or the part before "I never"."""
    page, by_start = around.page, around.near.by_start
    for place in range(at + 1, min(at + REACH, page.sentence_end(at))):
        if place in by_start:
            item = by_start[place]
            return (around.attention.completed(item), item.end) if item.words else (None, at)
        if page.word(place) in PRONOUNS and page.word(place) not in ARTICLES:
            said = page.word(at).startswith(("touch", "disturb"))
            return (around.meant(at, page.word(place)) if said else None), place + 1
        if page.word(place) not in OVER:
            break
    prior = around.near.before(at, REACH)
    if prior and prior[0].words and page.word(prior[0].end) in ("i", "we", "is", "was", "were", "are", "'s"):
        return prior[0], at + 1
    return None, at
