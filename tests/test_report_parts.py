"""Which components are the same part for grouping."""

from __future__ import annotations

import pytest

from saidspec.report.parts import is_about, same_place, touches, words


@pytest.mark.parametrize(("said", "wanted"), [
    ("engine oil", "oil"), ("front left brake pad", "brake pad"), ("front brake pads", "front brake pad"),
    ("front rotor", "front brake disc"), ("engine oil drain plug", "drain plug"), ("brake fluid", "brake fluid"),
    ("caliper mounting bolt", "caliper bolt"), ("rear tire", "tyre"),
])  # fmt: skip
def test_one_part_by_its_names(said: str, wanted: str) -> None:
    assert is_about(said, wanted)


@pytest.mark.parametrize(("said", "wanted"), [
    ("oil filter", "oil"), ("caliper bracket bolt", "caliper bolt"), ("rear brake pad", "front brake pad"),
    ("brake pad", "front brake pad"), ("gearbox oil", "engine oil"), (None, "oil"), ("", "oil"), ("oil", ""),
    ("gearbox drain plug", "engine oil drain plug"),
])  # fmt: skip
def test_other_parts(said: str | None, wanted: str) -> None:
    assert not is_about(said, wanted)


def test_places_that_exclude_each_other() -> None:
    assert same_place("front brake pad", "front brakes")
    assert same_place("brake fluid", "front brakes")
    assert same_place("left pad", "front brakes")
    assert not same_place("rear brake pad", "front brakes")


def test_touching_is_having_all_words() -> None:
    assert touches("front caliper bracket bolt", "caliper")
    assert not touches("front caliper bracket bolt", "rear caliper")
    assert not touches(None, "caliper")
    assert not touches("caliper", "")


def test_words_are_one_spelling() -> None:
    assert words("front brake rotors") == words("front brake disc")
