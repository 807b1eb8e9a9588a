"""The same note in other words reads the same: units short or long, figures as words, fillers between the words.

No gold is needed: the reading of a note is compared with that of the note said otherwise.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from num2words import num2words

from saidspec.model import Fact
from saidspec.pipeline import read
from saidspec.sources.read import read_note
from tests.gold_notes import load
from tests.phrase_corpus import CORPUS

LONG = ((r"\bmm\b", "millimeters"), (r"\bNm\b", "newton meters"), (r"\b(?:ft[- ]lbs?|lb[- ]ft)\b", "foot pounds"),
        (r"\bml\b", "milliliters"))
SHORT = ((r"\bmillimet(?:er|re)s?\b", "mm"), (r"\bnewton met(?:er|re)s?\b", "Nm"), (r"\bfoot pounds?\b", "ft lbs"),
         (r"\blit(?:er|re)s?\b", "l"))
# A figure that stands alone: no part of a code, of a time, of a spaced number or of a fraction.
ALONE = re.compile(r"(?<![\w/.\-:,£$€'] )(?<![\w/.\-:,£$€'])\d{1,6}(?:\.\d+)?"
                   r"(?= (?!\d|oh\b|and \d|dash|by\b|x\b)[a-z])")
NO_FIGURES_AROUND = re.compile(r"\d [\d]|dash|[A-Z] [A-Z]")
FILLERS = ("um ", "uh ", "er ", "you know ")
AFTER = re.compile(r"\b((?:the|was|are|and|but|with|for|that) )(?=([a-z]{3,}))")  # where people think
NUMBERS = {num2words(number) for number in (*range(20), *range(20, 100, 10))} | {
    "half", "quarter", "point", "hundred", "thousand", "oh", "dash"}


def longer(text: str) -> str:
    return _replaced(text, LONG)


def shorter(text: str) -> str:
    return _replaced(text, SHORT)


def _replaced(text: str, pairs: tuple[tuple[str, str], ...]) -> str:
    for said, other in pairs:
        text = re.sub(said, other, text)
    return text


def spelled(text: str) -> str:
    """The figures of a line as words, save in lines in which digits follow digits or letters are spelled."""
    return "\n".join(line if NO_FIGURES_AROUND.search(line) or "-->" in line else ALONE.sub(
        lambda hit: num2words(float(hit[0]) if "." in hit[0] else int(hit[0])).replace(",", ""), line)
        for line in text.split("\n"))


def filled(text: str) -> str:
    """A filler at one in six of the places where people think."""
    chance = random.Random(7)
    return AFTER.sub(lambda hit: hit[0] + (chance.choice(FILLERS) if hit[2] not in NUMBERS and chance.random() < 0.17
                                           else ""), text)


# How it is said otherwise, and the share of facts that are the same: raise it when there are more.
OTHERWISE = [(longer, 0.998), (shorter, 0.997), (spelled, 0.99), (filled, 0.99)]


def told(fact: Fact) -> tuple[object, ...]:
    return (fact.kind, fact.value, fact.value_high, fact.unit, fact.code, fact.angle, fact.role, fact.action,
            fact.assertion, fact.component)


@pytest.mark.parametrize(("otherwise", "share"), OTHERWISE, ids=[way.__name__ for way, _ in OTHERWISE])
def test_said_otherwise_it_reads_the_same(otherwise: Callable[[str], str], share: float, tmp_path: Path) -> None:
    """Of the facts of the development notes that are said otherwise at all, hardly one changes."""
    facts = same = 0
    lost: list[str] = []
    for note in (note for folder in sorted(CORPUS.glob("notes*")) for note in load(folder.name)):
        text = note.path.read_text(encoding="utf-8")
        other = tmp_path / note.path.name
        other.write_text(otherwise(text), encoding="utf-8")
        if other.read_text(encoding="utf-8") == text:
            continue
        one, two = (Counter(map(told, read(read_note(path, day=note.day), note.day).facts))
                    for path in (note.path, other))
        facts += one.total()
        same += (one & two).total()
        lost += [f"{note.path.stem}: {key}" for key in one - two]
    assert facts > 500
    assert same >= share * facts, (facts, same, lost[:40])
