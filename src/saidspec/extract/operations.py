"""What was done: an action with the part it was done to, told by a verb, by a noun, or by where the part is now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES, MANY, ONE
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.surroundings import Surroundings

BE = {
    "is",
    "was",
    "were",
    "are",
    "been",
    "got",
    "get",
    "gets",
    "being",
    "'s",
    "be",
    "had",
    "has",
    "have",
    "getting",
    "'re",
    "both",
    "all",
    "now",
    "already",
}
SMALL = {
    "off",
    "out",
    "up",
    "down",
    "in",
    "on",
    "back",
    "of",
    "all",
    "some",
    "new",
    "old",
    "two",
    "for",
    "around",
    "again",
    "three",
    "four",
    "over",
    "under",
    "'s",
    "at",
    "through",
    "both",
    "each",
    "whole",
    "same",
    "bit",
    "inside",
    "round",
    "to",
    "with",
    "really",
}
# a base form is a verb behind one of these, else where something that can be its object follows
LEADS = {
    "did",
    "didn't",
    "do",
    "don't",
    "does",
    "doesn't",
    "'ll",
    "will",
    "won't",
    "must",
    "should",
    "can",
    "could",
    "couldn't",
    "can't",
    "to",
    "let",
    "not",
    "never",
    "i",
    "we",
    "gonna",
    "please",
    "just",
    "then",
    "would",
    "might",
    "always",
    "again",
    "you",
    "they",
    "next",
    "had",
    "help",
    "may",
}
OPENERS = {
    "",
    "\n",
    ".",
    ",",
    ";",
    ":",
    "!",
    "?",
    "and",
    "or",
    "so",
    "now",
    "-",
    "–",
    "—",
    "okay",
    "ok",
    "right",
    "first",
    "*",
    ">",
    "but",
    "]",
    "today",
}
NOUN_BEFORE = {
    "next",
    "last",
    "since",
    "before",
    "after",
    "until",
    "till",
    "at",
    "for",
    "every",
    "per",
    "the",
    "each",
    "this",
    "due",
}
FLUID_ACTIONS = {"drain", "fill"}
WHOLE_ACTIONS = {"drain", "fill", "flush", "bleed"}
FLUIDS = {"oil", "fluid", "coolant", "antifreeze", "water", "fuel", "petrol", "diesel", "concentrate"}
ONE_FORM = {"reset", "fit", "put", "cut"}  # verbs whose past is their base form
TURNS = {"and", "then", "so", "but", "after"}


def operation(around: Surroundings, found: Found) -> Draft | None:
    """The operation of a verb: with what follows it, else with what stands before it, else with what is meant."""
    page = around.page
    if (found.term.detail == "base" and not _verbal(around, found)) or (
        found.term.detail == "ing"
        and (
            page.word(found.start - 1) in ("the", "'s", "a")
            or (page.word(found.start - 1) == "is" and page.word(found.start - 2) in ("where",))
        )
    ):
        return None
    if found.term.detail == "noun" and page.word(found.start - 1) in NOUN_BEFORE:
        return None
    inner = next(
        (
            around.near.by_start[at]
            for at in range(found.start + (found.term.detail != "noun"), found.end)
            if at in around.near.by_start
        ),
        None,
    )
    after = inner or _object(around, found.end)
    mention, end, manner = _about(around, found, after)
    if found.term.id in WHOLE_ACTIONS:
        mention = _whole(around, found.term.id, mention, manner)
    return Draft(
        "operation",
        found.start,
        max(found.end, end),
        found.start,
        mention,
        action=found.term.id,
        rule=f"action.{found.term.id}",
        confidence=0.85 if manner != "focus" else 0.65,
        manner=found.term.detail,
    )


def _about(around: Surroundings, found: Found, after: Mention | None) -> tuple[Mention | None, int, str]:
    """(part, end of the words, how it was found) of a verb."""
    page = around.page
    prior = [item for item in around.near.before(found.start, 10) if item.words]
    usual = around.lexicon.told.get((found.term.id, "usual"), ())
    passive = found.term.detail == "past" and bool(prior) and _passive(page, found, prior[0])
    if after and not passive:
        return around.attention.completed(after), after.end, "object"
    word, place = _pronoun(page, found)
    if word and not passive:
        return around.meant(found.start, word, usual), place + 1, "pronoun"
    if passive or (prior and page.word(prior[0].end) in ("i", "we", "'s", "is")):
        return prior[0], found.end, "topic"
    meant = around.meant(found.start, "", usual)
    return (meant if usual or not prior else prior[0]) or (prior[0] if prior else None), found.end, "focus"


def _passive(page: Passage, found: Found, prior: Mention) -> bool:
    """ "Bolts tightened", "the cover was cleaned": the part stands before; "caliper, then cleaned the bracket"
    is active.
    """
    between = page.words(prior.end, found.start)
    return (
        not between
        or (page.word(found.start - 1) in BE and not set(between) & (TURNS | {"i", "we", ","}))
        or (between[0] in BE and len(between) <= 3 and not set(between) & (TURNS | {"i", "we", ","}))
    )


def _pronoun(page: Passage, found: Found) -> tuple[str, int]:
    """The pronoun inside or right behind a verb and its particle, and its place."""
    for at in (*range(found.start + 1, found.end), found.end, found.end + 1):
        if (
            page.word(at) in ONE | MANY
            and page.word(at + 1) not in ("one", "side", "end")
            and (at <= found.end or page.word(found.end) in SMALL)
        ):
            return page.word(at), at
    return "", found.end


def _object(around: Surroundings, end: int) -> Mention | None:
    """The component phrase behind a verb: over articles, adjectives, small words and a value."""
    page, at, by_start = around.page, end, around.near.by_start
    while at < len(page) and at - end < 8 and page.same_sentence(end - 1, at):
        if at in by_start:
            item = by_start[at]
            return item if item.words or page.word(item.end - 1) != "back" else None
        named = page.starting("system", at) or (page.inside("doubtful", at) and page.starting("part", at)) or None
        if named:
            return Mention(at, named.end, tuple(page.words(at, named.end)), (), "part", named.term.system, False)
        if (
            page.word(at) not in ARTICLES | SMALL
            and page.lexemes[at].kind != "number"
            and not page.inside("finding", at)
            and not page.inside("material", at)
        ):
            return None
        at += 1
    return None


def _whole(around: Surroundings, action: str, mention: Mention | None, manner: str) -> Mention | None:
    """What is drained or filled is the fluid or its vessel, not the plug that was named last."""
    vessel = mention is not None and manner in ("object", "topic") and not mention.fastener and bool(mention.words)
    if mention is not None and (
        mention.head in FLUIDS or (vessel and (action not in FLUID_ACTIONS or manner == "object"))
    ):
        return mention
    fluid = around.fluid()
    if fluid is None:
        return mention
    return replace(fluid, words=fluid.words[:1]) if action == "bleed" and len(fluid.words) > 1 else fluid


def _verbal(around: Surroundings, found: Found) -> bool:
    """Whether a base form is a verb here: "check the level", "I'll clean it", not "the drain", "clean threads",
    "new set".
    """
    page, before, after = around.page, around.page.word(found.start - 1), around.page.word(found.end)
    if page.word(found.start) in ONE_FORM and before not in ARTICLES:
        return True
    object_next = (
        after in ARTICLES
        or after in ONE | MANY
        or found.end in around.near.by_start
        or found.end - found.start > 1
        or (after in SMALL and page.word(found.end + 1) in ARTICLES)
    )
    return before in LEADS or (
        object_next
        and (
            before in OPENERS | {"it", "them", "that", "there"}
            or (before not in ARTICLES and found.end - found.start > 1)
        )
    )


def split_verbs(around: Surroundings) -> Iterator[Found]:
    """ "Took the wheel off", "put the cap back on": a verb whose particle stands behind its object."""
    page = around.page
    starts: dict[str, list[str]] = {}
    for verb, particle in around.lexicon.split_verbs:
        starts.setdefault(verb, []).append(particle)
    for at in range(len(page)):
        particles = starts.get(page.norm[at])
        if (
            not particles
            or (page.inside("action", at) and page.starting("action", at) is None)
            or page.inside("not:action", at)
        ):
            continue
        for place in range(at + 2, min(at + 7, page.sentence_end(at))):
            if (
                page.norm[place] in particles
                and page.word(place + 1) not in ("the", "a", "my", "this")
                and _has_object(around, at + 1, place)
            ):
                yield Found(at, at + 1, around.lexicon.split_verbs[(page.norm[at], page.norm[place])])
                break
            if page.lexemes[place].kind == "mark" or page.norm[place] in ("and", "then", "to", "while"):
                break


def _has_object(around: Surroundings, first: int, last: int) -> bool:
    """A part or a pronoun stands between the verb and its particle: "got the seal out", not "got 900 out"."""
    return any(at in around.near.by_start or around.page.word(at) in ONE | MANY for at in range(first, last))
