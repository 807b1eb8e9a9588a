"""Words said while thinking are left out, and only where they mean nothing."""

from __future__ import annotations

import pytest

from saidspec.extract.rules import load_rules
from saidspec.model import Note, Source, Utterance
from saidspec.normalise.lexemes import normalised
from saidspec.normalise.speech import speech
from saidspec.pipeline import read

GONE = [
    ("the uh bracket bolt", "the bracket bolt"),
    ("Um, the drain plug is 17", "the drain plug is 17"),
    ("looks um good", "looks good"),
    ("it was, you know, quite tight", "it was, quite tight"),
    ("the fuel uh filter", "the fuel filter"),
    ("pump er bolts", "pump bolts"),
    ("on the um uh other side", "on the other side"),
    ("one and a half um newton metres", "1.5 newton metres"),
]
KEPT = ["let me you know what he said", "I'll let you know on Monday", "uh no the other one", "12, uh, 13 foot pounds",
        "part number um-2175", "on the backing plate um hub nut", "84 kilometers, uh, miles"]


def note(text: str) -> Note:
    return Note(Source("a.txt", "0" * 64, "plain"), text, (Utterance(0, len(text)),))


def said(text: str) -> str:
    return normalised(speech(note(text)), load_rules().numbers)[0].text


@pytest.mark.parametrize(("text", "left"), GONE, ids=[text for text, _ in GONE])
def test_a_filler_is_left_out(text: str, left: str) -> None:
    """The words around it stand side by side, with the blanks and marks that were there."""
    assert said(text) == left


@pytest.mark.parametrize("text", KEPT)
def test_what_means_something_stays(text: str) -> None:
    """Corrections, codes, boundaries of names, and the same words meant as they stand."""
    assert [word for word in ("uh", "um", "you know") if word in said(text).lower()]


def test_the_quote_holds_the_filler() -> None:
    """A fact across a filler quotes the words as they were said."""
    text = "drain plug is twenty um five newton metres and the um sump bolts twelve uh newton metres"
    facts = [fact for fact in read(note(text)).facts if fact.kind == "torque"]
    assert "twelve uh newton metres" in [fact.provenance.quote for fact in facts]
    assert all(fact.provenance.quote == text[fact.provenance.start : fact.provenance.end] for fact in facts)
