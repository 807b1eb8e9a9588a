"""Which part a value is about: the phrase it stands beside, before or behind it, by the words between them."""

from __future__ import annotations

import pytest

from tests.sentences import facts, on_part, wrong


@pytest.mark.parametrize(("text", "told"), [
    ("took out two 10 mm cover bolts", ["10 mm cover bolt"]),
    ("an 18 mm ball joint nut", ["18 mm ball joint nut"]),
    ("it has 8 mm bleed nipples", ["8 mm bleed nipple"]),
    ("four rusty 13 mm manifold nuts", ["13 mm manifold nut"]),
])  # fmt: skip
def test_a_value_modifies_the_phrase_behind_it(text: str, told: list[str]) -> None:
    assert [on_part(fact) for fact in facts(text, "size")] == told


@pytest.mark.parametrize(("text", "told"), [
    ("35 newton metres on the slide pins", ["35 N*m slide pin"]),
    ("a 14 mm socket for the drain plug", ["14 mm drain plug"]),
    ("30 newton metres for the lower arm bolt and 45 newton metres for the upper arm bolt",
     ["30 N*m lower arm bolt", "45 N*m upper arm bolt"]),
    ("19 mm spanner on the tie rod", ["19 mm tie rod"]),
    wrong("what stands for a place of the part is in the way", "19 mm spanner on the flats of the tie rod",
          ["19 mm tie rod"]),
    ("5 litres of fresh engine oil", ["5 L engine oil"]),
    ("3 thou of end play in the wheel bearing", ["3 thou wheel bearing"]),
])  # fmt: skip
def test_a_preposition_behind_a_value_governs_its_part(text: str, told: list[str]) -> None:
    assert [on_part(fact) for fact in facts(text, "torque", "size", "volume", "measurement")] == told


@pytest.mark.parametrize(("text", "told"), [
    ("the drain plug is 30 newton metres", ["30 N*m drain plug"]),
    ("drain plug 30 newton metres, fill plug 35 newton metres", ["30 N*m drain plug", "35 N*m fill plug"]),
    ("torqued the bracket bolts to 105 newton metres", ["105 N*m bracket bolt"]),
    ("front discs measure 22.4 mm", ["22.4 mm front disc"]),
    ("battery reads 12.6 volts", ["12.6 V battery"]),
    ("wheel nuts all got 110 newton metres", ["110 N*m wheel nut"]),
    ("the drain plug is 30, the fill plug is 35 newton metres", ["30 N*m drain plug", "35 N*m fill plug"]),
])  # fmt: skip
def test_a_copula_joins_a_part_and_its_value(text: str, told: list[str]) -> None:
    assert [on_part(fact) for fact in facts(text, "torque", "measurement")] == told


@pytest.mark.parametrize(("text", "told"), [
    ("96 newton metres. That's the hub bolts.", ["96 N*m hub bolt"]),
    ("21 newton metres is the idler pulley", ["21 N*m idler pulley"]),
    ("34 newton metres was for the fill plug", ["34 N*m fill plug"]),
])  # fmt: skip
def test_a_part_may_be_named_after_its_value(text: str, told: list[str]) -> None:
    assert [on_part(fact) for fact in facts(text, "torque")] == told


@pytest.mark.parametrize(("text", "told"), [
    ("brake pads are 4 mm inner and 5 mm outer", ["4 mm inner brake pad", "5 mm outer brake pad"]),
    ("rear shoes 2 mm on the left and 3 mm on the right", ["2 mm rear left shoe", "3 mm rear right shoe"]),
    ("front pads: inner 4 mm, outer 5 mm", ["4 mm front inner pad", "5 mm front outer pad"]),
])  # fmt: skip
def test_a_place_behind_or_before_a_value(text: str, told: list[str]) -> None:
    def sorted_words(all_told: list[str]) -> list[list[str]]:
        return [sorted(each.split()) for each in all_told]

    assert sorted_words([on_part(fact) for fact in facts(text, "measurement")]) == sorted_words(told)
