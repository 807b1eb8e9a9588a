"""Numbers and units against the published tests of two libraries; the disagreements are data, with who is right."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from saidspec.extract.passage import passage
from saidspec.extract.quantities import quantities
from saidspec.extract.rules import load_rules
from tests.normalise_samples import figures, note_of, numbers, plain

FOLDER = Path(__file__).parent / "corpus" / "published"


def cases(name: str) -> list[dict[str, Any]]:
    return list(tomllib.loads((FOLDER / f"{name}.toml").read_text("utf-8"))["case"])


def units(text: str) -> list[str]:
    """The values with units of a text: "30 to 35 N*m"."""
    rules = load_rules()
    aligned, lexemes = figures(text)
    page = passage(note_of(text), aligned, lexemes, rules.terms)
    return [f"{plain(f'{item.value:f}')}{f' to {plain(str(item.high))}' if item.high is not None else ''} {item.unit}"
            for item in quantities(page, rules.units) if item.unit]


@pytest.mark.parametrize("case", cases("text2num") + cases("quantulum3-numbers"), ids=lambda case: case["said"][:60])
def test_numbers_in_words(case: dict[str, Any]) -> None:
    assert numbers(case["said"]) == case.get("ours", case["theirs"])


@pytest.mark.parametrize("case", cases("quantulum3-units"), ids=lambda case: case["said"][:60])
def test_values_with_units(case: dict[str, Any]) -> None:
    assert units(case["said"]) == case.get("ours", case["theirs"])


@pytest.mark.parametrize("name", ["text2num", "quantulum3-numbers", "quantulum3-units"])
def test_each_disagreement_says_who_is_right(name: str) -> None:
    data = tomllib.loads((FOLDER / f"{name}.toml").read_text("utf-8"))
    assert data["package"]
    assert data["version"]
    assert data["file"]
    assert data["licence"]
    differing = [case for case in data["case"] if "ours" in case]
    assert all(case["right"] in ("ours", "theirs") and case["why"] and case["ours"] != case["theirs"]
        for case in differing)
    assert len(differing) < len(data["case"]) / 2
