"""The vocabulary files under patterns/: their keys, clashes between entries, and examples that hold what they show."""

from __future__ import annotations

import tomllib
from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest

from saidspec.extract.inflection import inflected
from saidspec.extract.lexicon import PARTICLES, phrase_of, spellings
from saidspec.model import ACTIONS
from saidspec.patterns import listed

Phrase = tuple[str, ...]
PATTERNS = Path(__file__).parents[1] / "patterns"
COMPONENTS = sorted((PATTERNS / "components").glob("*.toml"))
EVERYDAY = PATTERNS / "components" / "everyday.toml"  # words of many systems, some of them in the systems' files too
TABLES = ("parts", "fasteners")
SYSTEM_KEYS = {"system", "name", "says", "sided", "fluid", "parts", "fasteners", "short", "measures", "example",
               "central", "not"}
GENERAL_KEYS = SYSTEM_KEYS | {"modifiers", "heads"}
ROLES = {
    "thickness", "gap", "clearance", "play", "slack", "deflection", "depth", "pressure", "voltage", "resistance",
    "current", "temperature", "runout", "toe", "diameter", "compression", "travel", "length", "height", "weight",
    "speed", "density",
}  # fmt: skip
AXES = {"side", "end", "height", "depth", "order", "stage"}
ENTRY_KEYS = {
    "action": {"id", "usual", "verbs", "irregular", "irregular_base", "split", "nouns", "not", "example"},
    "finding": {"id", "severity", "watch_on", "act_on", "said", "phrases", "not", "example"},
    "material": {"id", "said", "qualifiers", "not", "example"},
    "fluid": {"id", "code", "component", "said", "not", "example"},
    "position": {"id", "said", "axis", "not"},
}
FORM_KEYS = {
    "action": ("verbs", "irregular", "irregular_base", "nouns"),
    "finding": ("said", "phrases"),
    "material": ("said",),
    "fluid": ("said",),
    "position": ("said",),
}


def read(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text("utf-8"))


def entries(name: str) -> list[dict[str, Any]]:
    return list(read(PATTERNS / f"{name}s.toml")[name])


def part_forms(data: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Each surface form of the parts and fasteners of a file with the entry it belongs to."""
    for table in TABLES:
        for key, synonyms in data.get(table, {}).items():
            for form in (key, *listed(synonyms)):
                yield form, key


def forms_of(kind: str, entry: dict[str, Any]) -> list[str]:
    return [form for key in FORM_KEYS[kind] for form in listed(entry.get(key))]


def holds(text: Phrase, form: Phrase) -> bool:
    """Whether the words of `form` stand in `text` side by side."""
    return any(text[at : at + len(form)] == form for at in range(len(text) - len(form) + 1))


def words(text: str) -> Phrase:
    return phrase_of(text.replace(",", " ").replace(".", " ").replace(";", " "))


def said_in(text: str, forms: Iterable[str]) -> bool:
    there = words(text)
    return any(holds(there, spelling) for form in forms for spelling in spellings(form))


def verb_forms(entry: dict[str, Any]) -> list[str]:
    regular = [form for verb in listed(entry["verbs"]) for form, _ in inflected(verb)]
    return regular + [form for key in ("irregular", "irregular_base", "nouns") for form in listed(entry.get(key))]


def does_in(text: str, forms: Iterable[str]) -> bool:
    """Whether one of the verbs stands in the text, a verb with a particle perhaps split by its object."""
    forms = list(forms)
    if said_in(text, forms):
        return True
    there = words(text)
    pairs = [verb for verb in map(phrase_of, forms) if len(verb) == 2 and verb[1] in PARTICLES and verb[0] in there]
    return any(particle in there[there.index(head) + 1 :] for head, particle in pairs)


def terms_of(paths: Iterable[Path]) -> dict[Phrase, set[str]]:
    """Every phrase that may be a piece of a component, with its canonical names."""
    terms: dict[Phrase, set[str]] = defaultdict(set)
    for path in paths:
        data = read(path)
        for form, key in part_forms(data):
            for spelling in spellings(form):
                terms[spelling].add(key)
        for table in ("modifiers", "heads"):
            for form in listed(data.get(table, {}).get("words")):
                terms[phrase_of(form)].add(form)
    for entry in entries("position"):
        for form in listed(entry["said"]):
            for spelling in spellings(form):
                terms[spelling].add(entry["id"])
    for number in ("number", "one", "two", "three", "four"):
        terms[(number,)].add(number)
    return terms


TERMS = terms_of(COMPONENTS)


def pieces(component: str) -> list[Phrase] | None:
    """The known terms that make up a component phrase, the longest first at each place; None if a word is unknown."""
    rest, made = phrase_of(component), []
    while rest:
        size = next((size for size in range(len(rest), 0, -1) if rest[:size] in TERMS), None)
        if size is None:
            return None
        made.append(rest[:size])
        rest = rest[size:]
    return made


@pytest.mark.parametrize("path", COMPONENTS, ids=lambda path: path.stem)
def test_a_system_file_has_the_keys_of_its_format(path: Path) -> None:
    data = read(path)
    general = path.stem in ("general", "everyday")
    assert set(data) <= (GENERAL_KEYS if general else SYSTEM_KEYS)
    assert {"system", "name", "sided", "parts", "example"} <= set(data)
    assert data["system"] == ("general" if general else path.stem)
    assert set(data.get("measures", {})) <= ROLES
    assert all(set(example) == {"text", "component"} for example in data["example"])


@pytest.mark.parametrize("path", COMPONENTS, ids=lambda path: path.stem)
def test_forms_are_lower_case_words_and_not_repeated_in_their_entry(path: Path) -> None:
    data = read(path)
    by_entry: dict[str, list[Phrase]] = defaultdict(list)
    for form, key in part_forms(data):
        assert form == form.lower()
        by_entry[key].append(phrase_of(form))
    repeated = {key: made for key, made in by_entry.items() if len(set(made)) < len(made)}
    assert not repeated


def test_no_form_names_two_parts() -> None:
    general = read(PATTERNS / "components/general.toml")
    narrowing = {word for table in ("modifiers", "heads") for word in listed(general[table]["words"])}
    places = {entry["id"] for entry in entries("position")}
    terms = terms_of(path for path in COMPONENTS if path != EVERYDAY)
    assert not {phrase: names for phrase, names in terms.items() if len(names - narrowing - places) > 1}


@pytest.mark.parametrize("path", COMPONENTS, ids=lambda path: path.stem)
def test_measures_name_entries_that_exist(path: Path) -> None:
    known = {key for other in COMPONENTS for table in TABLES for key in read(other).get(table, {})}
    systems = {form for other in COMPONENTS for form in listed(read(other).get("says"))}
    named = {part for parts in read(path).get("measures", {}).values() for part in listed(parts)}
    assert named <= known | systems


@pytest.mark.parametrize("path", COMPONENTS, ids=lambda path: path.stem)
def test_what_is_said_for_short_stands_for_known_parts(path: Path) -> None:
    for short, meant in read(path).get("short", {}).items():
        assert pieces(meant), f"{short} stands for {meant}, which is no part"


EXAMPLES = [
    (path.stem, example["text"], example["component"]) for path in COMPONENTS for example in read(path)["example"]
]


@pytest.mark.parametrize(("system", "text", "component"), EXAMPLES, ids=[example[2] for example in EXAMPLES])
def test_a_component_example_is_made_of_known_words_that_are_said(system: str, text: str, component: str) -> None:
    made = pieces(component)
    assert made, f"{component}: not all of its words are known"
    assert {word for piece in made for word in piece} <= set(words(text))
    data = read(PATTERNS / f"components/{system}.toml")
    own = {spelling for form, _ in part_forms(data) for spelling in spellings(form)}
    assert own & set(made)


@pytest.mark.parametrize("kind", sorted(ENTRY_KEYS))
def test_entries_have_the_keys_of_their_format_and_ids_of_their_own(kind: str) -> None:
    made = entries(kind)
    assert all(set(entry) <= ENTRY_KEYS[kind] for entry in made)
    ids = [entry["id"] for entry in made]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("kind", sorted(ENTRY_KEYS))
def test_no_form_belongs_to_two_entries(kind: str) -> None:
    owners: dict[Phrase, set[str]] = defaultdict(set)
    for entry in entries(kind):
        for form in forms_of(kind, entry):
            owners[phrase_of(form)].add(entry["id"])
    assert not {phrase: ids for phrase, ids in owners.items() if len(ids) > 1}


@pytest.mark.parametrize("kind", sorted(ENTRY_KEYS))
def test_false_friends_hold_what_they_are_mistaken_for(kind: str) -> None:
    idle = []
    every = {phrase_of(form) for entry in entries(kind) for form in forms_of(kind, entry)}
    for entry in entries(kind):
        forms = verb_forms(entry) if kind == "action" else forms_of(kind, entry)
        own = {spelling for form in forms for spelling in spellings(form)}
        for phrase in map(phrase_of, listed(entry.get("not"))):
            parts = {phrase[at:end] for at in range(len(phrase)) for end in range(at + 1, len(phrase) + 1)}
            if not parts & own or phrase in every:
                idle.append((entry["id"], " ".join(phrase)))
    assert not idle


def test_the_actions_are_those_of_the_contract() -> None:
    assert {entry["id"] for entry in entries("action")} == set(ACTIONS)


def test_findings_and_positions_have_known_severities_and_axes() -> None:
    assert {entry["severity"] for entry in entries("finding")} == {"ok", "watch", "act"}
    assert {entry["axis"] for entry in entries("position")} <= AXES


SHOWN = [
    (kind, entry["id"], example["text"], entry)
    for kind in ("action", "finding", "material", "fluid")
    for entry in entries(kind)
    for example in entry["example"]
]


@pytest.mark.parametrize(("kind", "name", "text", "entry"), SHOWN, ids=[f"{kind}-{name}" for kind, name, _, _ in SHOWN])
def test_an_example_holds_one_of_its_entrys_forms(kind: str, name: str, text: str, entry: dict[str, Any]) -> None:
    there = does_in(text, verb_forms(entry)) if kind == "action" else said_in(text, forms_of(kind, entry))
    assert there, f"{name}: none of its forms is in {text!r}"


def test_the_vocabulary_covers_the_trade() -> None:
    files = [read(path) for path in COMPONENTS]
    assert sum(len(data.get(table, {})) for data in files for table in TABLES) >= 900
    synonyms = [line for data in files for table in TABLES for line in data.get(table, {}).values()]
    assert sum(len(listed(line)) for line in synonyms) >= 2500
    assert len(entries("finding")) >= 150
    assert len(entries("material")) >= 80
    assert len(entries("fluid")) >= 80
