"""The sentence and the utterance that each token of a note stands in."""

from __future__ import annotations

from saidspec.model import Note
from saidspec.normalise.aligned import Aligned
from saidspec.normalise.lexemes import Lexeme

STOPS = frozenset({".", "!", "?", "\n"})
ABBREVIATED = frozenset({"ft", "lb", "in", "no", "approx", "max", "min", "vs", "st", "mr", "mrs", "dr", "e", "g", "i",
                         "etc", "pt"})


def sentences(lexemes: list[Lexeme], norm: list[str]) -> list[int]:
    """The running number of each token's sentence; a stop belongs to the sentence that it ends."""
    numbers, current, stopped = [], 0, False
    for i, lex in enumerate(lexemes):
        if stopped and lex.text not in STOPS:
            current += 1
            stopped = False
        numbers.append(current)
        if lex.kind == "mark" and lex.text in STOPS and not _abbreviation(lexemes, norm, i):
            stopped = True
    return numbers


def _abbreviation(lexemes: list[Lexeme], norm: list[str], at: int) -> bool:
    """A full stop that ends no sentence: after an abbreviation, with a word in lower case to follow."""
    if lexemes[at].text != "." or at == 0 or at + 1 >= len(lexemes):
        return False
    touching = lexemes[at - 1].end == lexemes[at].start
    return touching and norm[at - 1] in ABBREVIATED and lexemes[at + 1].kind in ("word", "number")


def utterances(note: Note, aligned: Aligned, lexemes: list[Lexeme]) -> list[int]:
    """The index of the utterance that each token was said in."""
    starts = [utterance.start for utterance in note.utterances]
    found, at = [], 0
    for begin in aligned.begins([lex.start for lex in lexemes]):
        while at + 1 < len(starts) and starts[at + 1] <= begin:
            at += 1
        found.append(at)
    return found
