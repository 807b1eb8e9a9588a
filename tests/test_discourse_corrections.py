"""What takes a value back and what does not; corrections of the part, the unit, and of something said long before."""

from __future__ import annotations

import pytest

from tests.sentences import amount, facts, on_part


@pytest.mark.parametrize("text", [
    "drain plug got 30 newton metres, no wait, 35 newton metres",
    "drain plug got 30, no, 35 newton metres",
    "drain plug got 30 newton metres, scratch that, 35",
    "drain plug got 30 newton metres. Sorry, 35.",
    "drain plug got 30 newton metres, I mean 35",
    "drain plug got 30 newton metres, make that 35",
    "drain plug got 30 newton metres no weight 35",
    "drain plug got 30 newton metres. Correction, it's 35.",
    "drain plug got 30 newton metres, my mistake, 35 newton metres",
])  # fmt: skip
def test_a_correction_takes_the_value_before_it_back(text: str) -> None:
    old, new = facts(text, "torque")
    assert [(amount(old), old.assertion), (amount(new), new.assertion)] == [("30 N*m", "retracted"),
    ("35 N*m", "stated")]
    assert old.replaced_by == new.id
    assert old.component == new.component == "drain plug"


@pytest.mark.parametrize("text", [
    "cover bolts are 10 mm. No, the two at the back are 8 mm.",
    "drain plug is 30 newton metres, no leaks, fill plug is 35 newton metres",
    "drain plug is 30 newton metres. Sorry about the noise. Fill plug is 35 newton metres.",
    "drain plug is 30 newton metres. Wait ten minutes. Fill plug is 35 newton metres.",
    "drain plug is 30 newton metres, no problem, and the fill plug is 35 newton metres",
    "drain plug is 30 newton metres, no washer on it, the old one was 2 mm thick",
    "number two plug gap is 0.8 mm, no sign of oil, number three is 0.9 mm",
    "hold on to the pulley while you do the bolt, 30 newton metres, then 35 newton metres for the nut",
])  # fmt: skip
def test_what_takes_nothing_back(text: str) -> None:
    told = facts(text, "torque", "size", "measurement")
    assert len(told) == 2
    assert [fact.assertion for fact in told if fact.assertion == "retracted"] == []


@pytest.mark.parametrize(("text", "retracted", "stated"), [
    ("Drain plug 25 newton metres. Sorry, I mean the fill plug.", "25 N*m drain plug", "25 N*m fill plug"),
    ("Lower arm bolt 70 newton metres, no, that was the upper arm bolt.", "70 N*m lower arm bolt",
     "70 N*m upper arm bolt"),
    ("Left caliper bolt 30 newton metres, sorry, the right.", "30 N*m left caliper bolt", "30 N*m right caliper bolt"),
    ("Sump plug 80 foot pounds, no, newton metres.", "80 lbf*ft sump plug", "80 N*m sump plug"),
    ("Tyre is at 2.2 psi, I mean bar.", "2.2 psi tyre", "2.2 bar tyre"),
    ("Drain plug 30 newton metres. Fill plug 12. Earlier I said the drain plug, that was the oil filter cap.",
     "30 N*m drain plug", "30 N*m oil filter cap"),
])  # fmt: skip
def test_a_correction_of_the_part_or_the_unit(text: str, retracted: str, stated: str) -> None:
    told = facts(text, "torque", "measurement")
    old = next(fact for fact in told if fact.assertion == "retracted")
    assert on_part(old) == retracted
    assert on_part(next(fact for fact in told if fact.id == old.replaced_by)) == stated


@pytest.mark.parametrize(("text", "kind", "told"), [
    ("the fill plug takes a 12 mm, no, a 13 mm socket", "size", ["12 mm retracted", "13 mm stated"]),
    ("needs a 12, no, 13 mm socket on the fill plug", "size", ["12 mm retracted", "13 mm stated"]),
    ("put in 4.2 litres of oil, no sorry, 4.6 litres", "volume", ["4.2 L retracted", "4.6 L stated"]),
    ("odometer is 84,200 miles, correction, 84,300 miles", "odometer", ["84200 mi retracted", "84300 mi stated"]),
    ("part number KD-4410, no wait, KD-4401", "part_number", ["KD-4410 retracted", "KD-4401 stated"]),
    ("it cost 30 dollars, no, 35 dollars", "cost", ["30 USD retracted", "35 USD stated"]),
])  # fmt: skip
def test_values_of_each_kind_are_taken_back(text: str, kind: str, told: list[str]) -> None:
    assert [f"{amount(fact)} {fact.assertion}" for fact in facts(text) if fact.kind == kind] == told


def test_a_material_that_was_not_used_after_all() -> None:
    (used,) = facts("Put anti-seize on the hub face.", "material")
    (taken_back,) = facts("A dab of anti-seize on the threads, no wait, I left it off.", "material")
    assert (used.assertion, taken_back.assertion) == ("stated", "retracted")


def test_different_parts_have_different_values() -> None:
    text = "drain plug is 30 newton metres, actually the fill plug is 35 newton metres"
    assert [(on_part(fact), fact.assertion) for fact in facts(text, "torque")] == [
        ("30 N*m drain plug", "stated"), ("35 N*m fill plug", "stated")]  # fmt: skip
