"""Which words of work are verbs: "check the level", not "the drain"; and verbs that are split by their object."""

from __future__ import annotations

from collections.abc import Container, Iterator

from saidspec.extract.grammar import ARTICLES, PRONOUNS
from saidspec.extract.passage import Found
from saidspec.extract.surroundings import Surroundings

SMALL = frozenset({"off", "out", "up", "down", "in", "on", "back", "of", "all", "some", "new", "old", "two", "for",
                   "around", "again", "three", "four", "over", "under", "'s", "at", "through", "both", "each", "whole",
                   "same", "bit", "inside", "round", "to", "with", "really"})
# a base form is a verb behind one of these, else where something that can be its object follows
LEADS = frozenset({"did", "didn't", "do", "don't", "does", "doesn't", "'ll", "will", "won't", "must", "should", "can",
                   "could", "couldn't", "can't", "to", "let", "not", "never", "i", "we", "gonna", "please", "just",
                   "then", "would", "might", "always", "again", "you", "they", "next", "had", "help", "may"})
OPENERS = frozenset({"", "\n", ".", ",", ";", ":", "!", "?", "and", "or", "so", "now", "-", "–", "—", "okay", "ok",
                     "right", "first", "*", ">", "but", "]", "today", "it", "them", "that", "there"})
# a noun of work behind one of these is a time or a thing: "since the last service"
NOUN_BEFORE = frozenset({"next", "last", "since", "before", "after", "until", "till", "at", "for", "every", "per",
                         "the", "each", "this", "due"})
ONE_FORM = ("reset", "fit", "put", "cut")  # verbs whose past is their base form
SPLIT_REACH = 8  # tokens from a verb to its particle
FRESH = ("new", "old", "fresh")
ENDING = ("and", "then", "to", "while", "so", "i", "we", "but", "because")
HAVING, OVER_HAVING = frozenset({"has", "had", "have", "'s", "just", "only", "again", "then", "soon"}), 4
GOING_IN = ("went", "gone", "goes")
RUNNING = frozenset({"run", "ran", "running"})


def verbal(around: Surroundings, found: Found) -> bool:
    """Whether a word of work tells that something was or is done."""
    form, before = found.term.detail, around.page.word(found.start - 1)
    if form == "base":
        return _base(around, found)
    if form == "ing":
        where = before == "is" and around.page.word(found.start - 2) == "where"
        return before not in ("the", "'s", "a") and not where
    if form == "past" and (before in ("a", "an") or _poured(around, found) or _sank(around, found)):
        return False  # "a rebuilt carburettor"
    return form != "noun" or before not in NOUN_BEFORE


def _poured(around: Surroundings, found: Found) -> bool:
    """"Five litres went in", "four litres of 5W-30 went in": told by the role of the volume, and no part is put in."""
    page, before = around.page, found.start - 1
    return found.term.id == "install" and page.word(found.start) in GOING_IN and before > 0 and (
        page.word(before) in page.classes.poured_by or page.lexemes[before].form == "viscosity")


def _sank(around: Surroundings, found: Found) -> bool:
    """"The level dropped half a litre", "pressure's dropped": a reading falls, and nothing is taken off."""
    page, at = around.page, found.start - 1
    if found.term.id != "remove" or page.word(found.start) != "dropped":
        return False
    while page.word(at) in HAVING and found.start - at < OVER_HAVING:
        at -= 1
    return page.word(at) == "level" or page.word(at) in page.classes.measured


def _base(around: Surroundings, found: Found) -> bool:
    """A base form is a verb in "check the level", "I'll clean it", not in "the drain", "clean threads", "new set"."""
    page, before, after = around.page, around.page.word(found.start - 1), around.page.word(found.end)
    if before in LEADS or (page.word(found.start) in ONE_FORM and before not in ARTICLES):
        return True
    phrasal = found.end - found.start > 1
    if phrasal and before not in ARTICLES:
        return True
    object_next = phrasal or after in ARTICLES or after in PRONOUNS or found.end in around.near.by_start or (
        after in SMALL and page.word(found.end + 1) in ARTICLES)
    return object_next and before in OPENERS


def split_verbs(around: Surroundings) -> Iterator[tuple[Found, int]]:
    """"Took the wheel off", "gave the cap a clean": a verb whose particle stands behind its object, and its place."""
    page, verbs = around.page, around.lexicon.split_verbs
    for at, word in enumerate(page.norm):
        if word not in verbs or page.inside("not:action", at) or _said_whole(around, at):
            continue
        place = _particle(around, at, verbs[word])
        if place is not None:
            yield Found(at, at + 1, verbs[word][page.norm[place]]), place


def _said_whole(around: Surroundings, at: int) -> bool:
    """Several words of work are said in one piece ("put a new"), which no word behind their object completes.

    Those that end in a part do not: "ran the engine" is no whole in "ran the engine oil off".
    """
    page = around.page
    whole = page.starting("action", at)
    if whole is None:
        return page.inside("action", at)
    parted = any(place in around.near.by_start and page.word(place) not in FRESH for place in range(at + 1, whole.end))
    return whole.end - at > 1 and not parted


def _particle(around: Surroundings, at: int, particles: Container[str]) -> int | None:
    """The particle of a verb at token `at`, behind its object."""
    page = around.page
    if at + 1 < len(page) and page.lexemes[at + 1].kind == "mark":
        return None
    for place in range(at + 2, min(at + SPLIT_REACH, page.sentence_end(at))):
        word = page.norm[place]
        if word in particles and page.word(place + 1) not in ("the", "a", "my", "this") and (
                _has_object(around, at + 1, place)) and not _level(around, at, place):
            return place
        if page.lexemes[place].kind == "mark" or word in ENDING:
            return None
    return None


def _level(around: Surroundings, at: int, place: int) -> bool:
    """"Running, cranks down to 9.8": what a reading fell to, where no fastener is run down."""
    page = around.page
    falls = page.word(at) in RUNNING and page.words(place, place + 2) == ["down", "to"]
    return falls and not any(
        item.fastener for first in range(at + 1, place) if (item := around.near.by_start.get(first)))


def _has_object(around: Surroundings, first: int, last: int) -> bool:
    """A part or a pronoun stands between the verb and its particle: "got the seal out", not "got 900 out"."""
    return any(at in around.near.by_start or around.page.word(at) in PRONOUNS for at in range(first, last))
