"""patterns/word_classes.toml: each class has a field of its own, and its examples hold one of its words."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from saidspec.extract.word_classes import WordClasses, word_classes
from saidspec.model import KINDS
from saidspec.normalise.words import normal_form
from saidspec.patterns import RuleFile, RuleSet, listed, rule_set

CLASSES: list[dict[str, Any]] = rule_set().entries("word_classes", "class")


def said(text: str) -> str:
    """A text with blanks around its words, marks and suffixes, in normal form."""
    for mark in (",", ":", ";", "'"):
        text = text.replace(mark, f" {mark}" if mark == "'" else f" {mark} ")
    return " " + " ".join(normal_form(word) for word in text.lower().split()) + " "


def test_every_class_is_one_that_the_reading_knows_and_is_told_once() -> None:
    names = [entry["id"].replace("-", "_") for entry in CLASSES]
    assert sorted(names) == sorted(field.name for field in fields(WordClasses) if field.name != "same_kind")


def test_every_class_has_words() -> None:
    made = word_classes(rule_set())
    assert not [field.name for field in fields(WordClasses) if not getattr(made, field.name)]
    assert set(made.same_kind.values()) <= set(KINDS)


@pytest.mark.parametrize("entry", CLASSES, ids=lambda entry: entry["id"])
def test_the_words_of_a_class_are_told_once(entry: dict[str, Any]) -> None:
    words = listed(entry["says"])
    assert len(words) == len(set(words))
    assert all(word == word.lower() for word in words)


@pytest.mark.parametrize("entry", CLASSES, ids=lambda entry: entry["id"])
def test_an_example_holds_a_word_of_its_class(entry: dict[str, Any]) -> None:
    words = [*listed(entry["says"]), *entry.get("marks", "").split()]
    for example in entry["examples"]:
        assert any(f" {word} " in said(example) for word in words), example


def test_a_word_that_is_not_in_its_normal_form_is_told() -> None:
    entry = {"id": "strokes", "says": "strokes"}
    spoilt = RuleSet((RuleFile("word_classes", {"class": [entry]}, Path("word_classes.toml")),))
    with pytest.raises(ValueError, match="'strokes' never matches, write 'stroke'"):
        word_classes(spoilt)
