"""Whether a part number is of what came off, of what was bought, or of what was put on: by the words around it."""

from __future__ import annotations

from saidspec.extract.passage import Passage
from saidspec.extract.word_classes import WordClasses

NOT_DONE = frozenset({"don't", "not", "haven't", "hasn't", "didn't", "isn't"})
PUT = frozenset({"fit", "fitted", "install", "installed", "put", "gone", "on", "in", "been"})
RETURNED = 10  # tokens behind a part number in which it is told that it was the wrong one
BACK, AHEAD = 10, 6  # tokens before and behind a part number that tell of it
LIKE_FOR = frozenset({"with", "for", "by"})  # "swapped the KB-1180 for a KB-1190"

IT = frozenset({"it", "that", "them", "those", "this"})


def part_role(page: Passage, words: WordClasses, at: int, old: bool) -> str:
    """The role of the part number at a token; `old`: the part that it is of is called old."""
    before, after = _around(page, at)
    if after[:1] and after[0] in words.put_on and after[1:2] and after[1] in IT and after[0] not in ("in", "on", "new"):
        return "installed"  # "got KB-1190, fitted that"
    role = _told_role(page, words, at, old, (_but_returned(before), after))
    return "bought" if role == "installed" and _given_back(page, words, at) else role


def _told_role(page: Passage, words: WordClasses, at: int, old: bool, around: tuple[list[str], list[str]]) -> str:
    """The role by the words before (nearest first) and behind."""
    before, after = around
    if old and words.put_on.isdisjoint(word for word in before if word not in ("in", "on")):
        return "removed"
    exchanged = not words.exchanged.isdisjoint(page.words(max(page.sentence_start(at), at - BACK), at))
    if exchanged and before[:1] and not LIKE_FOR.isdisjoint(before[:4]):
        return "installed"
    if _said(before[:5], words.in_place_of) or (exchanged and _like_for_follows(page, at)):
        return "removed"
    behind = _behind(after, words)
    if behind is not None:
        return behind
    telling = words.came_off | words.put_on | words.getting
    near = next((word for word in before if word in telling), "")
    if near in words.came_off or _said(before, words.was_there):
        return "removed"
    return "bought" if near in words.getting or not words.getting.isdisjoint(before) else "installed"


def _around(page: Passage, at: int) -> tuple[list[str], list[str]]:
    """(the words before, nearest first; the words behind) up to the next code on either side, within the sentence."""
    first, last = max(page.sentence_start(at), at - BACK), min(page.sentence_end(at), at + 1 + AHEAD)
    before: list[str] = []
    for place in range(at - 1, first - 1, -1):
        if page.lexemes[place].kind == "code" and page.lexemes[place].form == "part":
            break
        before.append(page.norm[place])
    after: list[str] = []
    for place in range(at + 1, last):
        if page.lexemes[place].kind == "code" or page.norm[place] in (",", ";", ".", "and"):
            break
        after.append(page.norm[place])
    return before, after


def _given_back(page: Passage, words: WordClasses, at: int) -> bool:
    """"Shop gave me KB-1180, wrong one, took it back": bought, and never fitted; told before the next code."""
    last = next((place for place in range(at + 1, min(at + 1 + RETURNED, len(page)))
                 if page.lexemes[place].kind == "code"), min(at + 1 + RETURNED, len(page)))
    behind = page.words(at + 1, last)
    text = f" {' '.join(behind)} "
    return any(f" {phrase} " in text for phrase in words.given_back) or any(
        word in NOT_DONE and not PUT.isdisjoint(behind[place + 1 : place + 4]) and (
            "yet" in behind[place + 2 : place + 7] or word in ("haven't", "hasn't"))
        for place, word in enumerate(behind))  # "don't fit it yet", "haven't put it on"


def _but_returned(before: list[str]) -> list[str]:
    """The words before, nearest first, without "took it back": that was to the shop, and not off the vehicle."""
    for place, word in enumerate(before):
        if word in ("took", "taken", "sent") and "back" in before[max(0, place - 3) : place]:
            return before[:place]
    return before


def _said(nearest_first: list[str], phrases: frozenset[str]) -> bool:
    """One of the phrases stands among the words."""
    text = f" {' '.join(reversed(nearest_first))} "
    return any(f" {phrase} " in text for phrase in phrases)


def _like_for_follows(page: Passage, at: int) -> bool:
    """"Replaced filter KB-1180 with": what follows took its place."""
    return not LIKE_FOR.isdisjoint(page.words(at + 1, min(page.sentence_end(at), at + 4)))


def _behind(after: list[str], words: WordClasses) -> str | None:
    """"KB-1180 came out", "KB-1190 went in", "KB-1190 is on order"."""
    text = f" {' '.join(after)} "
    if any(f" {phrase} " in text for phrase in words.on_order):
        return "bought"
    for place, word in enumerate(after[:4]):
        if word in ("off", "out") and not (place and after[place - 1].isdigit()):  # not "four off"
            return "removed"
        if word in ("on", "in", "went"):
            return "installed"
    return None
