"""What a recogniser's words tell beyond their letters: where the speaker paused, and how far a fact can be trusted."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from itertools import pairwise

from saidspec.model import Fact, Note, Problem, Word

HEARD = ("audio", "transcript")  # formats whose text a machine wrote from speech
PAUSE = 0.8  # seconds of silence that part two words: "twenty ... five of them" is not 25
# Of the facts found in the voice benchmark (six notes, four voices, clean and with noise) the share that was right rose
# about evenly with the lowest probability of their words: 0.60 below 0.5, 0.80 from 0.5 to 0.9, 0.86 above.
LEAST = 0.6  # what is left of the confidence where the recogniser had no idea
UNVERIFIED = 0.5  # the most that a part number is worth that was only heard


def pauses(note: Note) -> frozenset[int]:
    """The first characters of words that come after a pause within an utterance: no number goes on across one."""
    return frozenset(
        after.start
        for utterance in note.utterances
        for before, after in pairwise(utterance.words)
        if after.time - before.time_end >= PAUSE
    )


def as_heard(note: Note, facts: tuple[Fact, ...]) -> tuple[tuple[Fact, ...], tuple[Problem, ...]]:
    """The facts with a lower confidence where their words were heard badly, and the part numbers that were only heard.

    Facts of what was written stay as they are.  A high probability proves nothing: many wrong numbers have one.
    """
    if note.source.format not in HEARD:
        return facts, ()
    words = [word for utterance in note.utterances for word in utterance.words]
    starts = [word.start for word in words]
    told: list[Fact] = []
    problems: list[Problem] = []
    for fact in facts:
        said = fact.provenance
        confidence = said.confidence * _share(words, starts, said.start, said.end)
        if fact.kind == "part_number":
            confidence = min(confidence, UNVERIFIED)
            problems.append(Problem(f"part number {fact.code} was only heard: compare it with the part or its box",
                                    said.start, said.end))  # fmt: skip
        told.append(fact.but(provenance=replace(said, confidence=round(confidence, 2))))
    return tuple(told), tuple(problems)


def _share(words: list[Word], starts: list[int], start: int, end: int) -> float:
    """How much of a fact's confidence is left, by the word of its quote that was heard worst."""
    first = max(0, bisect_left(starts, start) - 1)
    heard = words[first : bisect_left(starts, end)]
    sure = [word.probability for word in heard if word.end > start and word.probability is not None]
    return LEAST + (1 - LEAST) * min(sure) if sure else 1.0
