"""What the tests of extract and discourse share: a sentence or two read as a note, and rows that are not right yet."""

from __future__ import annotations

from decimal import Decimal

import pytest

from saidspec.extract.passage import Passage, passage
from saidspec.extract.rules import load_rules
from saidspec.model import Fact, Kind, Reading
from saidspec.normalise.lexemes import normalised
from saidspec.normalise.speech import speech
from saidspec.pipeline import read
from tests.normalise_samples import DAY, note_of


def reading(text: str) -> Reading:
    """All that a text says, spoken on Saturday 9 May 2026."""
    return read(note_of(text), DAY)


def facts(text: str, *kinds: Kind) -> list[Fact]:
    """The facts of a text, of some kinds or of all."""
    return [fact for fact in reading(text).facts if not kinds or fact.kind in kinds]


def page_of(text: str) -> Passage:
    """A text as the rules see it, before anything is read from it."""
    rules = load_rules()
    note = note_of(text)
    return passage(note, *normalised(speech(note), rules.numbers), rules.terms)


def number(value: Decimal | None) -> str:
    """A number in plain figures: "30", "0.05", "" for none."""
    return "" if value is None else f"{value.normalize():f}"


def amount(fact: Fact) -> str:
    """Value and unit of a fact, or its code: "30 N*m", "30 to 35 N*m", "30 N*m + 90", "M8x1.25"."""
    high = f" to {number(fact.value_high)}" if fact.value_high is not None else ""
    turn = f" + {number(fact.angle)}" if fact.angle is not None else ""
    said = f"{number(fact.value)}{high} {fact.unit or ''}".strip() + turn
    return " ".join(filter(None, [said.strip(), fact.code or ""]))


def on_part(fact: Fact) -> str:
    """A fact's amount and its component: "30 N*m drain plug"."""
    return f"{amount(fact)} {fact.component or '-'}"


def wrong(reason: str, *row: object) -> object:
    """A row of a table that the tool does not get right yet: the test must fail until it does."""
    return pytest.param(*row, marks=pytest.mark.xfail(reason=reason, strict=True))
