"""Pauses between words, and what a badly heard word is worth."""

from __future__ import annotations

import json

import pytest

from saidspec.model import Fact, Note, Provenance
from saidspec.sources.hearing import as_heard, pauses
from saidspec.sources.read import read_text


def transcript(*words: tuple[str, float, float, float | None]) -> Note:
    """A transcript of words with start, end and probability."""
    told = [{"word": f" {word}", "start": start, "end": end, "probability": sure} for word, start, end, sure in words]
    text = "".join(word["word"] for word in told)
    segments = {"segments": [{"start": words[0][1], "end": words[-1][2], "text": text, "words": told}]}
    return read_text(json.dumps(segments).encode(), "memo.json")


def fact(note: Note, quote: str, kind: str = "torque", **fields: str) -> Fact:
    start = note.text.index(quote)
    return Fact(1, kind, Provenance(quote, start, start + len(quote), confidence=0.9), **fields)  # type: ignore[arg-type]


def test_a_pause_is_where_the_next_word_begins_late() -> None:
    note = transcript(("twenty", 1.0, 1.4, 0.9), ("five", 2.6, 2.9, 0.9), ("of", 3.0, 3.1, 0.9))
    assert pauses(note) == {note.text.index("five")}


@pytest.mark.parametrize(("sure", "confidence"), [(1.0, 0.9), (0.5, 0.72), (0.0, 0.54), (None, 0.9)])
def test_the_word_heard_worst_lowers_the_confidence(sure: float | None, confidence: float) -> None:
    note = transcript(("torque", 0.0, 0.5, 0.01), ("34", 0.5, 1.0, sure), ("newton", 1.0, 1.5, 1.0))
    [told], problems = as_heard(note, (fact(note, "34 newton"),))
    assert told.provenance.confidence == confidence
    assert problems == ()


def test_a_part_number_that_was_only_heard_is_unverified() -> None:
    note = transcript(("number", 0.0, 0.5, 1.0), ("S1987", 0.5, 1.0, 1.0))
    [told], [problem] = as_heard(note, (fact(note, "S1987", "part_number", code="S1987"),))
    assert told.provenance.confidence == 0.5
    assert "S1987 was only heard" in problem.message
    assert note.text[problem.start : problem.end] == "S1987"


def test_what_was_written_stays_as_it_is() -> None:
    note = read_text(b"number S1987\n", "note.txt")
    facts = (fact(note, "S1987", "part_number", code="S1987"),)
    assert as_heard(note, facts) == (facts, ())
