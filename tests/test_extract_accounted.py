"""Each number of a note is within a fact that carries it, or unclaimed, or known as no fact."""

from __future__ import annotations

from dataclasses import replace

import pytest

from saidspec.model import Known, Reading
from saidspec.pipeline import read
from saidspec.sources.read import read_text
from tests.calibration import FOLDERS
from tests.gold_notes import load, reading
from tests.number_places import places, wrongly_accounted
from tests.phrase_corpus import DAY
from tests.phrase_corpus import load as load_phrases


def of_phrase(text: str) -> Reading:
    return read(read_text(text.encode(), "phrase.txt", day=DAY), DAY)


def known(text: str) -> list[tuple[str, str]]:
    return [(each.quote, each.rule) for each in of_phrase(text).known]


def unclaimed(text: str) -> list[str]:
    return [each.quote for each in of_phrase(text).unclaimed]


@pytest.mark.parametrize("folder", FOLDERS)
def test_each_number_of_the_notes_is_accounted_for(folder: str) -> None:
    notes = load(folder)
    assert sum(len(list(places(reading(note)))) for note in notes) > 300
    assert {note.path.name: wrong for note in notes if (wrong := wrongly_accounted(reading(note)))} == {}


def test_each_number_of_the_phrases_is_accounted_for() -> None:
    texts = [phrase.text for phrase in load_phrases()]
    assert {text: wrong for text in texts if (wrong := wrongly_accounted(of_phrase(text)))} == {}


def test_what_is_in_none_or_in_two_is_seen() -> None:
    found = of_phrase("drain plug got 30 newton metres. Painted 9044 on it")
    assert wrongly_accounted(found) == []
    assert wrongly_accounted(replace(found, unclaimed=())) == ["9044 at 41 is in none"]
    assert wrongly_accounted(replace(found, facts=())) == ["30 at 15 is in none"]
    both = Known("9044", 41, 45, "some.rule")
    assert wrongly_accounted(replace(found, known=(both,))) == ["9044 at 41 is unclaimed and known"]


@pytest.mark.parametrize(("text", "told"), [
    ("ring him on 555 0142 about the van", [("555", "distractor.telephone"), ("0142", "distractor.telephone")]),
    ("home at 5:40", [("5", "distractor.clock"), ("40", "distractor.clock")]),
    ("my brother's van takes 8.5 quarts", [("8.5", "other-vehicle.other-vehicle")]),
    ("the plug on cylinder 3 is wet", [("3", "component.name")]),
    ("this one is loose and half worn", [("one", "word.one"), ("half", "word.part")]),
    ("drained the old 4 coil", [("4", "mishearing.fork-oil")]),
])  # fmt: skip
def test_what_is_known_names_its_rule(text: str, told: list[tuple[str, str]]) -> None:
    assert known(text) == told
    assert unclaimed(text) == []


@pytest.mark.parametrize(("text", "left"), [
    ("replaced 44 on the bench", ["44"]),
    ("tightened the bolt, the one marked 44", ["44"]),
])
def test_a_number_in_the_words_of_a_statement_is_asked_about(text: str, left: list[str]) -> None:
    assert unclaimed(text) == left
