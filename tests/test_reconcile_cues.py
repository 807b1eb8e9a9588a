"""The cues of the reconciler: each finds its examples and nothing in the words near them."""

from __future__ import annotations

from typing import Any

import pytest

from saidspec.patterns import rule_set
from saidspec.reconcile.cues import cue, cues

ENTRIES = rule_set().entries("reconcile/cues", "cue")


def texts(which: str) -> list[Any]:
    """(id, text) of what all cues find, or leave."""
    return [pytest.param(entry["id"], text, id=f"{entry['id']}: {text}") for entry in ENTRIES for text in entry[which]]


@pytest.mark.parametrize(("name", "text"), texts("finds"))
def test_a_cue_finds_its_examples(name: str, text: str) -> None:
    assert cue(name).search(text)


@pytest.mark.parametrize(("name", "text"), texts("leaves"))
def test_a_cue_leaves_what_is_near_it(name: str, text: str) -> None:
    assert not cue(name).search(text)


def test_every_cue_has_a_single_id_and_both_kinds_of_texts() -> None:
    assert len(cues()) == len(ENTRIES) > 25
    assert all(entry["finds"] and entry["leaves"] for entry in ENTRIES)
