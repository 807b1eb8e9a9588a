"""The examples of the rule files hold what they show: each is read, and says what its entry claims."""

from __future__ import annotations

from typing import Any

import pytest

from saidspec.extract.passage import Passage, passage
from saidspec.extract.quantities import quantities
from saidspec.extract.rules import load_rules
from saidspec.normalise.words import normal_form
from saidspec.patterns import listed, rule_set
from tests.normalise_samples import figures, note_of, numbers, reading

Entry = dict[str, Any]


def examples(name: str, table: str) -> list[Any]:
    """(entry, example) of the entries of a rule file, named by both."""
    found = []
    for entry in rule_set().entries(name, table):
        for text in entry.get("examples", [entry["example"]] if "example" in entry else []):
            found.append(pytest.param(entry, text, id=f"{entry['id']}: {text}"))
    return found


def page_of(text: str) -> Passage:
    rules = load_rules()
    aligned, lexemes = figures(text)
    return passage(note_of(text), aligned, lexemes, rules.terms)


@pytest.mark.parametrize(("entry", "text"), examples("units", "unit"))
def test_units(entry: Entry, text: str) -> None:
    found = quantities(page_of(text), load_rules().units)
    assert [(item.unit, item.dimension) for item in found] == [(entry["unit"], entry["dimension"])]


@pytest.mark.parametrize(("entry", "text"), examples("mishearings", "mishearing"))
def test_mishearings(entry: Entry, text: str) -> None:
    """The words meant stand in the text, the words heard do not, and the edit is that of the entry."""
    aligned, _ = figures(text)
    meant = [normal_form(word) for word in entry["meant"].replace(" 's", "'s").split()]
    said = [normal_form(word) for word in aligned.text.split()]
    assert any(said[at : at + len(meant)] == meant for at in range(len(said))), aligned.text
    assert f"mishearing.{entry['id']}" in aligned.rules(0, len(aligned.text))


@pytest.mark.parametrize(("text", "wanted"), [(each["text"], each["figures"])
    for each in rule_set().named("numbers")[0].data["example"]])
def test_numbers(text: str, wanted: str) -> None:
    assert numbers(text) == listed(wanted)


@pytest.mark.parametrize(("entry", "text"), examples("cues", "cue"))
def test_cues(entry: Entry, text: str) -> None:
    category = "approx" if entry["category"] == "approximate" else "cue"
    assert any(found.term.id == entry["id"] for found in page_of(text).found.get(category, ()))


@pytest.mark.parametrize(("entry", "text"), examples("corrections", "correction"))
def test_corrections(entry: Entry, text: str) -> None:
    found = page_of(text).found.get("correction", ())
    assert any(each.term.id == entry["id"] and each.term.detail == entry["kind"] for each in found)


@pytest.mark.parametrize(("entry", "text"), examples("distractors", "distractor"))
def test_distractors(entry: Entry, text: str) -> None:
    """The numbers are neither a value nor left over."""
    found = reading(text)
    assert [fact for fact in found.facts if fact.value is not None] == [], entry["id"]
    assert found.unclaimed == ()


@pytest.mark.parametrize(("entry", "text"), examples("currencies", "currency"))
def test_currencies(entry: Entry, text: str) -> None:
    costs = [fact for fact in reading(text).facts if fact.kind == "cost"]
    assert [fact.code for fact in costs] == [entry["code"]]
    assert costs[0].provenance.quote.strip() == text


@pytest.mark.parametrize(("entry", "text"), examples("roles", "usual"))
def test_usual_units(entry: Entry, text: str) -> None:
    """The figure has the unit of the entry, though none is said."""
    found = [fact for fact in reading(text).facts if fact.kind == "measurement"]
    assert [(fact.role, fact.unit) for fact in found] == [(entry["role"], entry["unit"])]
