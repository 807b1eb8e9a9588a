"""Where a note names the part of a figure, and where another part: right before it, since it, in its clause."""

from __future__ import annotations

import re

from saidspec.model import Fact
from saidspec.reconcile.case import Case
from saidspec.reconcile.context import Context
from saidspec.reconcile.phrase import Phrase, words_of

SHORT = 90  # characters before a figure in which the name of its part is looked for
LATELY = 80  # characters around a figure in which a neighbour that it may be meant for is named
HERE = 25  # characters before a figure in which a word is right before it


def last_said(phrase: Phrase, end: int, context: Context) -> int | None:
    """Where the least recent of a part's words was last said before an offset; None where its head was not said."""
    if phrase.head is None or context.last_spoken(phrase.head, end) is None:
        return None
    said = [at for word in phrase.core if (at := context.last_spoken(word, end)) is not None]
    return min(said) if len(said) >= min(2, len(phrase.core)) else None


def clause_end(case: Case, fact: Fact) -> int:
    """Where the clause of a fact ends: its part may be named after the figure ("twenty-one's the idler")."""
    text, end = case.reading.note.text, fact.provenance.end
    return end + len(re.split(r"[.,;!?\n]", text[end:end + 30])[0])


def named_since(own: frozenset[str], other: frozenset[str], fact: Fact, context: Context) -> bool:
    """Whether the words that tell another part from a fact's own were said after those that tell its own from it."""
    end = fact.provenance.end
    mine = [at if (at := context.last_spoken(word, end)) is not None else -1 for word in own - other]
    theirs = [context.last_spoken(word, end) for word in other - own]
    return bool(mine) and bool(theirs) and all(at is not None and at > max(mine) for at in theirs)


def called_here(case: Case, fact: Fact, own: frozenset[str], other: frozenset[str]) -> bool:
    """Whether a word that tells a fact's part from another stands right before its figure, and none of the other's
    after it: "pinch bolt 38" is the pinch bolt's, whatever was spoken of before."""
    start = fact.provenance.start
    spot = [at for word in own if (at := case.context.last_spoken(word, start)) is not None]
    since = [at for word in other if (at := case.context.last_spoken(word, start)) is not None]
    return bool(spot) and start - max(spot) <= HERE and max(since, default=-1) < max(spot)


def said_since(case: Case, words: frozenset[str], since: int) -> bool:
    """Whether one of some words was said from an offset on, not far behind it."""
    said = (case.context.last_spoken(word, since + 2 * LATELY) for word in words)
    return any(at is not None and at >= since for at in said)


def named_here(case: Case, fact: Fact) -> bool:
    """Whether the words that name a fact's part are said in its own sentence, shortly before it."""
    text = case.reading.note.text[max(0, fact.provenance.start - SHORT):fact.provenance.end]
    said = {word for _, word in words_of(re.split(r"[.!?]\s|\n", text)[-1], case.context.vocabulary)}
    return case.phrase(fact).core <= said


def placed(case: Case, fact: Fact) -> bool:
    """Whether the place of a fact, and no other, is said right beside its figure: "the front tyres to 2.6 bar"."""
    where, text = fact.provenance, case.reading.note.text
    known = case.context.vocabulary.positions
    before, after = ({known[word,] for _, word in words_of(beside, case.context.vocabulary) if (word,) in known}
                     for beside in (text[max(0, where.start - 30):where.start], text[where.end:where.end + 12]))
    return bool(before) and before <= case.phrase(fact).positions and not after - before
