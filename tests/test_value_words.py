"""patterns/value_words.toml: a set for each field, in normal forms, and examples that hold a word and a value."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import pytest

from saidspec.extract.passage import passage
from saidspec.extract.quantities import quantities
from saidspec.extract.rules import load_rules
from saidspec.extract.value_words import ValueWords, value_words
from saidspec.patterns import listed, rule_set
from tests.normalise_samples import figures, note_of

ENTRIES = rule_set().entries("value_words", "words")


def test_each_set_of_the_file_is_one_that_the_code_reads() -> None:
    names = [each.name.replace("_", "-") for each in fields(ValueWords)]
    assert sorted(entry["id"] for entry in ENTRIES) == sorted(names)


def test_a_set_that_no_file_has_is_named() -> None:
    with pytest.raises(KeyError, match="tightening"):
        value_words(entry for entry in ENTRIES if entry["id"] != "tightening")


def test_entries_of_one_id_are_joined() -> None:
    more = value_words([*ENTRIES, {"id": "strokes", "says": "Honks, grunt"}])
    assert more.strokes == load_rules().value_words.strokes | {"honk", "grunt"}


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry["id"])
def test_an_example_holds_a_word_of_its_set_and_a_value(entry: dict[str, Any]) -> None:
    rules = load_rules()
    page = passage(note_of(entry["example"]), *figures(entry["example"]), rules.terms)
    said = f" {' '.join(page.norm)} "
    forms = getattr(rules.value_words, entry["id"].replace("-", "_"))
    assert any(f" {form} " in said for form in forms)
    coded = any(lex.kind == "code" for lex in page.lexemes)
    assert coded or quantities(page, rules.units)


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry["id"])
def test_no_form_is_given_twice(entry: dict[str, Any]) -> None:
    forms = listed(entry["says"])
    assert len(forms) == len(set(forms)) == len(getattr(load_rules().value_words, entry["id"].replace("-", "_")))
