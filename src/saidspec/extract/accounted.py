"""Where each number of a note went: into a fact, to what no rule claims, or to what a rule knows to be no fact.

No number can be lost: what no fact carries and no rule knows is unclaimed.  A number is a figure, a code, or a word of
patterns/numbers.toml; `word_rule` names the words among them that are none where the grammar of numbers left them.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from itertools import accumulate

from saidspec.extract.days import Day
from saidspec.extract.draft import Draft
from saidspec.extract.facts import utterance_of
from saidspec.extract.passage import Passage
from saidspec.extract.reader import Read
from saidspec.model import Known, Unclaimed
from saidspec.normalise.number_words import NumberWords
from saidspec.normalise.tokens import tokens

ORDINALS = frozenset({"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"})
# Facts that are words: a number in their quote is carried by a fact of its own, or by none.
STATEMENTS = frozenset({"operation", "observation", "follow_up"})
# Facts that quote what was said before or elsewhere: they carry the numbers in their words that are their value.
QUOTING = ("carried.", "correction.", "plan.")


def accounted(found: Read, kept: list[Draft], words: NumberWords) -> tuple[tuple[Unclaimed, ...], tuple[Known, ...]]:
    """The numbers that no rule claims and those known as no fact; `kept` are the drafts that became facts."""
    page = found.page
    carried = {at for draft in kept for at in _carried(page, draft, found.days)}
    rules = _rules_of(found, kept)
    left: list[Unclaimed] = []
    known = list(_put_right(page, words))
    for at in range(len(page)):
        if at in carried or not is_number(page, at, words):
            continue
        start, end = page.origin(at, at + 1)
        said, quote = utterance_of(page, at), page.note.text[start:end]
        time = said.time if said else None
        rule = rules.get(at) or word_rule(page, at)
        if rule:
            known.append(Known(quote, start, end, rule, time))
        else:
            left.append(Unclaimed(quote, start, end, time))
    return tuple(left), tuple(sorted(known, key=lambda each: each.start))


def is_number(page: Passage, at: int, words: NumberWords) -> bool:
    """Whether a token is a number, a code, or a word that means a number wherever it stands."""
    lex = page.lexemes[at]
    if lex.kind in ("number", "code"):
        return True
    return lex.kind == "word" and words.means_number(lex.text)


def word_rule(page: Passage, at: int) -> str | None:
    """The rule by which a word that can be a number is none here: the pronoun "one", "the 2nd", "half worn"."""
    lex = page.lexemes[at]
    if lex.kind != "word":
        return None
    if lex.text[:1].isdigit():
        return "word.ordinal"
    if page.word(at) == "one":
        return "word.one"
    behind = page.lower(at + 2 if page.word(at + 1) == "-" else at + 1)
    if behind in ORDINALS and page.lower(at).endswith("ty"):
        return "word.ordinal"
    told = page.word(at) in ("half", "third", "quarter", "tenth", "eighth")
    return "word.part" if told and page.word(at - 1) not in ("a", "an", "another") else None


def _carried(page: Passage, draft: Draft, days: list[Day]) -> Iterator[int]:
    """The number tokens that a fact carries: those of its value; of a statement the day that it is due."""
    if draft.kind in STATEMENTS:
        due = [day for day in days if day.code == draft.code] if draft.code else []
        yield from (at for day in due for at in range(day.start, day.end) if draft.start <= at < draft.end)
        return
    quoting = draft.rule.startswith(QUOTING)
    for at in range(draft.start, draft.end):
        value = page.lexemes[at].value
        if not quoting or value is None or value in (draft.value, draft.high, draft.angle):
            yield at


def _rules_of(found: Read, kept: list[Draft]) -> dict[int, str]:
    """The rules that know numbers to be no fact, by token; a draft that became none tells why."""
    rules: dict[int, str] = {}
    facts = {id(draft) for draft in kept}
    for draft in found.drafts:
        if id(draft) not in facts and draft.kind not in STATEMENTS:
            why = f"other-vehicle.{draft.cue}" if draft.dropped else "repeated"
            rules.update(dict.fromkeys(range(draft.start, draft.end), why))
    return rules | found.claimed


def _put_right(page: Passage, words: NumberWords) -> Iterator[Known]:
    """The figures that a recogniser wrote for words of the trade: "4 coil" for "fork oil"."""
    heard = [piece for piece in page.aligned.pieces if piece.rule and piece.rule.startswith("mishearing.")]
    told = [lex for lex in page.lexemes if lex.kind in ("number", "code")] if heard else []
    numbers = sorted({page.aligned.origin(lex.start, lex.end) for lex in told})
    starts, ends = [start for start, _ in numbers], [*accumulate((end for _, end in numbers), max)]
    for piece in heard:
        text = page.note.text[piece.begin : piece.finish]
        before = bisect_right(starts, piece.begin)  # numbers that begin where the piece does or before
        if before and piece.finish <= ends[before - 1]:
            continue  # what is right is a number too
        for token in tokens(text):
            if token.kind == "figure" or words.means_number(token.lower):
                start, end = piece.begin + token.start, piece.begin + token.end
                yield Known(page.note.text[start:end], start, end, piece.rule or "")
