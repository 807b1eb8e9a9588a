"""Vehicles that are called by a number: "the Stannick 60", "this is the hobden 45"."""

from __future__ import annotations

from collections.abc import Iterable

from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity

OPENING = 40  # tokens of a note in which its vehicle is named
LEADS = {"the", "this", "my", "our", "a", "old", "that", "her", "his"}
AFTER = {"half", "full",
         "is", "'s", "today", "again", "up", "on", "in", "and", "has", "was", "so", "with", "here", "next", "at", "for",
         "which", "the", "needs", "um", "uh", "er", "came", "got", "diesel", "tractor", "van", "pickup", "back", "went",
         "this", "old", "now", "or", "gets", "takes", "holds", "wants", "uses", "had", "first"}


def vehicle_names(page: Passage, numbers: dict[int, Quantity], known: frozenset[str]) -> set[int]:
    """The number tokens that belong to a vehicle's name: a word of no vocabulary before them, near the note's start.

    `known`: words that are no name, such as function words and tools.
    """
    names = {(page.norm[item.number - 1], item.value) for item in numbers.values() if _is_name(page, item, known)}
    return {item.number for item in numbers.values() if _is_age(page, item, known) or ((page.word(item.number - 1),
        item.value) in names and not item.dimension)}


def _is_name(page: Passage, item: Quantity, known: frozenset[str]) -> bool:
    at = item.number - 1
    if at < 0 or at > OPENING or item.dimension or item.high is not None or item.form not in ("words", "figure",
        "chain", "scaled") or (
            item.value != item.value.to_integral_value() or not 1 <= item.value <= 9999):
        return False
    if page.norm[at] == "the" and page.word(at - 1) == "," and at > 1 and item.value >= 50 and (
            page.word(item.end) in (".", ",", "\n")):
        at -= 2  # "the Pipit, the 600."
    elif page.norm[at] == "'s" and page.word(item.end) in ("takes", "holds", "has", "needs", "wants", "took", "uses"):
        at -= 1  # "Walt's 54 takes 64 ounces"
    word, lex = page.norm[at], page.lexemes[at]
    if lex.kind != "word" or len(word) < 3 or not word.isalpha() or word in known or _in_vocabulary(page, at):
        return False
    after = page.word(item.end)
    if _listed(page, item):
        return False
    if after not in AFTER and after not in ("", ".", ",", "\n", ":", ";", "-", "–", "—", "!"):
        return False
    said = page.note.text[slice(*page.origin(at, at + 1))]
    capital = said[:1].isupper() and not said.isupper()
    first = page.sentence_start(at)
    return page.word(at - 1) in LEADS or (capital and (at - first > 0 or at <= 12))


def _listed(page: Passage, item: Quantity) -> bool:
    """"Compression 180, 175, 178 and 140 psi": the first of several values."""
    at = item.end
    return page.word(at) == "," and at + 2 < len(page) and page.lexemes[at + 1].kind == "number" and (
        page.word(at + 2) in (",", "and", "psi", "bar"))


def _is_age(page: Passage, item: Quantity, known: frozenset[str]) -> bool:
    """"Theo, 17, from next door": the age of a person, set off by commas behind a name."""
    at = item.number - 2
    if at < 1 or item.dimension or page.word(at + 1) != "," or page.word(item.end) != "," or not 3 <= item.value <= 99:
        return False
    word = page.norm[at]
    return page.note.text[page.origin(at, at + 1)[0]].isupper() and word.isalpha() and len(word) > 1 and (
        word not in known and not _in_vocabulary(page, at))


def _in_vocabulary(page: Passage, at: int) -> bool:
    return any(at in tokens for tokens in page.covered.values())


def no_names(words: Iterable[str]) -> frozenset[str]:
    """The words that are no name: those given and the function words of English."""
    from spacy.lang.en.stop_words import STOP_WORDS

    return frozenset(STOP_WORDS) | frozenset(words)
