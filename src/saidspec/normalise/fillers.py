"""Words said while thinking, which mean nothing: left out, so that the words around them stand side by side.

Between two numbers ("twelve, uh, thirteen"), between the names of two parts ("on the backing plate um hub nut") and
beside a word that takes something back ("uh no") they stay: there they part what must not run together, and help to
tell that something was put right.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from saidspec.normalise.aligned import Edit
from saidspec.normalise.tokens import Token, word_at
from saidspec.normalise.words import normal_form

HYPHENS = {"-", "‐", "‑", "dash", "hyphen"}
REACH = 9  # tokens before a filler in which a number may stand that the next one puts right


@dataclass(frozen=True, slots=True)
class Fillers:
    """The words that are fillers, and those around which they are left where they are."""

    said: frozenset[str] = frozenset()
    phrases: frozenset[tuple[str, str]] = frozenset()  # of two words: "you know"
    takes_back: frozenset[str] = frozenset()  # of a correction: "uh no"
    before_phrase: frozenset[str] = frozenset()  # "let you know", "as you know"
    after_phrase: frozenset[str] = frozenset()  # "you know what"
    ends: frozenset[str] = frozenset()  # last words of the names of parts
    begins: frozenset[str] = frozenset()  # ... and first words: between the two one name ends, but for
    pairs: frozenset[tuple[str, str]] = frozenset()  # ... two words that stand side by side in one name
    heads: frozenset[str] = frozenset()  # ... and what ends the name of a fastener: "pump, um, bolts"


def without_fillers(text: str, toks: list[Token], fillers: Fillers, is_number: Callable[[str], bool],
                    is_unit: Callable[[str], bool]) -> list[Edit]:
    """The edits that leave out the fillers of a text, in order; the blanks around one become the wider of them."""
    edits: list[Edit] = []
    last = 0
    starts = fillers.said | {form[0] for form in fillers.phrases}
    for at in [at for at, token in enumerate(toks) if token.lower in starts]:
        after = _after(toks, at, fillers)
        if at < last or after == at or _kept(toks, at, after, fillers, is_number, is_unit):
            continue
        last = after + 1 if word_at(toks, after) == "," else after
        start = toks[at - 1].end if at else 0
        end = toks[last].start if last < len(toks) else len(text)
        if edits and edits[-1].end > start:  # "um, uh": one edit
            start = edits.pop().start
        edits.append(Edit(start, end, _gap(text[start:end]) if start else "", "filler"))
    return edits


def _after(toks: list[Token], at: int, fillers: Fillers) -> int:
    """The place after the filler that begins at a token; the token's own where none does."""
    if toks[at].lower in fillers.said:
        return at + 1
    if (toks[at].lower, word_at(toks, at + 1)) in fillers.phrases and not (
            word_at(toks, at - 1) in fillers.before_phrase or word_at(toks, at + 2) in fillers.after_phrase):
        return at + 2
    return at


def _kept(toks: list[Token], at: int, after: int, fillers: Fillers, is_number: Callable[[str], bool],
          is_unit: Callable[[str], bool]) -> bool:
    before = word_at(toks, at - 1 - (word_at(toks, at - 1) == ","))
    following = word_at(toks, after + (word_at(toks, after) == ","))
    if not following or {before, following} & (fillers.takes_back | HYPHENS):
        return True
    pair = (normal_form(before), normal_form(following))
    one_name = pair in fillers.pairs or pair[1] in fillers.heads
    if pair[0] in fillers.ends and pair[1] in fillers.begins and not one_name:
        return True
    if is_unit(following) and is_unit(before):  # "kilometers, uh, miles"
        return True
    return is_number(following) and any(is_number(token.lower) for token in toks[max(0, at - REACH) : at])


def _gap(between: str) -> str:
    """Two blanks stay two: a pause."""
    return "  " if "  " in between else " " if between[:1].isspace() or between[-1:].isspace() else ""
