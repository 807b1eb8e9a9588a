"""The demo notes: what is read from them stays as it is, and the mistakes put into them are found."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

from saidspec.model import Flag, plain_number
from tests.golden import HERE, flags_of, golden_of, notes, read_demo, told

SEEDS: list[dict[str, str]] = tomllib.loads((HERE / "seeds.toml").read_text("utf-8"))["seed"]


def seeds() -> list[Any]:
    """The seeds as test cases; what is not found yet is expected to fail, and to be told once it is found."""
    return [pytest.param(seed, id=seed["what"], marks=[pytest.mark.xfail(reason=seed["known"], strict=True)]
                         if "known" in seed else []) for seed in SEEDS]  # fmt: skip


def is_seed(flag: Flag, seed: dict[str, str]) -> bool:
    """Whether a flag is the one that a seed must raise."""
    said = flag.said
    amount = f"{plain_number(said.value)} {said.unit}" if said.value is not None else said.code
    return (flag.check == seed["check"] and seed["part"] in f"{flag.component} {flag.message}"
            and amount == seed.get("said", amount) and flag.likely == seed.get("likely", flag.likely))


@pytest.mark.parametrize("note", notes(), ids=lambda note: note.name)
def test_what_is_read_is_as_it_was(note: Path) -> None:
    wanted = json.loads(golden_of(note).read_text("utf-8"))
    found = json.loads(json.dumps(told(note)))
    for part in wanted:
        assert found[part] == wanted[part], f"{part} of {note.name} changed: see tests/golden/__init__.py"


@pytest.mark.parametrize("note", notes(), ids=lambda note: note.name)
def test_every_quote_is_in_its_note(note: Path) -> None:
    reading = read_demo(note)
    assert reading.facts
    assert [fact.provenance.quote for fact in reading.facts] == [
        reading.note.text[fact.provenance.start : fact.provenance.end] for fact in reading.facts]


def test_there_is_a_golden_file_for_each_note_and_none_else() -> None:
    assert {path.name for path in HERE.glob("*.json")} == {golden_of(note).name for note in notes()}


def test_the_notes_are_of_all_forms() -> None:
    forms = {read_demo(note).note.source.format for note in notes()}
    assert forms == {"text", "markdown", "webvtt", "subrip", "chat", "transcript"}


@pytest.mark.parametrize("seed", seeds())
def test_a_mistake_in_the_notes_is_flagged_with_its_cause(seed: dict[str, str]) -> None:
    note = next(note for note in notes() if note.name == seed["note"])
    flags = flags_of(note)
    assert any(is_seed(flag, seed) for flag in flags), [(flag.check, flag.likely, flag.message) for flag in flags]


def test_nothing_else_is_said_to_differ() -> None:
    """No crying wolf: each flag of the checks that the seeds name is one of the seeds."""
    others = [(note.name, flag.message) for note in notes() for flag in flags_of(note)
              if flag.check in ("differs", "over-limit", "outside-limit", "contradiction")
              and not any(seed["note"] == note.name and is_seed(flag, seed) for seed in SEEDS)]  # fmt: skip
    assert others == []
