"""What "it", "them", "that", "one" stand for: the thing that is talked of, not the tool and not what hangs on it.

A phrase behind a preposition is less likely meant than the subject of its clause; number has to agree where it can.
"""

from __future__ import annotations

from collections.abc import Iterable

from saidspec.extract.grammar import ARTICLES, HANGING, INSTRUMENTAL, MANY, ONE
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage

REACH, FITTING_REACH = 40, 90  # tokens looked back; further for a part the verb usually is about
SENTENCE = 4  # what a sentence between costs, in tokens
FITTING = 30  # what a part gains that the verb usually is about, in tokens


def referent(page: Passage, history: Iterable[Mention], at: int, word: str,
             fitting: tuple[str, ...] = ()) -> Mention | None:
    """The completed mention that a pronoun at token `at` stands for; `history` is the latest first.

    `word` is the pronoun ("" where the object is left out); `fitting` are heads that what is said usually is about.
    """
    best: tuple[int, Mention] | None = None
    sentence = page.sentence[at if at < len(page) else -1]
    for item in history:
        away = at - item.end
        if away < 0 or (item.kind == "position" and not item.words):
            continue
        if away > FITTING_REACH:
            break
        fits = not {*item.words}.isdisjoint(fitting)
        if away > REACH and not fits:
            continue
        cost = away + SENTENCE * (sentence - page.sentence[item.start]) + _unlikely(page, item, word) - FITTING * fits
        if best is None or cost < best[0]:
            best = (cost, item)
    return best[1] if best else None


def _unlikely(page: Passage, item: Mention, word: str) -> int:
    """How unlikely a phrase is meant, in tokens of distance (common practice, tried on the development notes)."""
    cost = 0
    before = item.start - 1
    while before >= 0 and (page.word(before) in ARTICLES or page.word(before) in ("old", "new")):
        before -= 1
    if page.word(before) in INSTRUMENTAL:
        cost += 25
    elif page.word(before) == "of":
        cost += 12
    elif page.word(before) in HANGING and page.word(before - 1) not in ("back", "is", "go", "goes", "went"):
        cost += 10
    if (word in MANY and not item.plural) or (word in ONE and item.plural and word != "one"):
        cost += 12
    return cost + 6 * (item.fastener and word != "one" and not item.plural)
