"""Back references that carry a value over, lists of values with lists of parts, and values that are outdated."""

from __future__ import annotations

import pytest

from tests.sentences import amount, facts, on_part, wrong


def words(told: list[str]) -> list[list[str]]:
    return [sorted(each.split()) for each in told]


@pytest.mark.parametrize(("text", "told"), [
    ("Left caliper bolts got 30 newton metres. Same on the right.", ["30 N*m left caliper bolt",
     "30 N*m right caliper bolt"]),
    ("Left strut nut got 55 newton metres. Same again on the other side.", ["55 N*m left strut nut",
     "55 N*m right strut nut"]),
    ("Left hub nut 180 newton metres. Ditto on the right.", ["180 N*m left hub nut", "180 N*m right hub nut"]),
])  # fmt: skip
def test_a_back_reference_is_a_fact_of_its_own(text: str, told: list[str]) -> None:
    found = facts(text, "torque")
    assert words([on_part(fact) for fact in found]) == words(told)
    assert found[1].provenance.quote.lower().startswith(("same", "ditto"))
    assert found[1].provenance.confidence < found[0].provenance.confidence


@pytest.mark.parametrize("text", [
    "Left caliper bolts got 30 newton metres. Same day I did the shopping.",
    "Left caliper bolts got 30 newton metres. At the same time I looked at the hose.",
    "Same again on the other side.",
])  # fmt: skip
def test_same_that_carries_nothing(text: str) -> None:
    assert len(facts(text, "torque")) == text.count("30")


def test_a_value_that_is_said_after_all_is_not_carried() -> None:
    text = "Left hub nut 180 newton metres. Same on the right, 180 newton metres."
    assert [amount(fact) for fact in facts(text, "torque")] == ["180 N*m", "180 N*m"]


@pytest.mark.parametrize(("text", "told"), [
    ("the drain plug and the fill plug got 12 and 10 newton metres", ["12 N*m drain plug", "10 N*m fill plug"]),
    ("drain plug and fill plug 12 and 10 newton metres respectively", ["12 N*m drain plug", "10 N*m fill plug"]),
    ("upper and lower arm bolts are 45 and 60 newton metres", ["45 N*m upper arm bolt", "60 N*m lower arm bolt"]),
    ("bracket and caliper bolts got 105 and 30 newton metres", ["105 N*m bracket bolt", "30 N*m caliper bolt"]),
    ("inner and outer ring are 2 and 4 mm", ["2 mm inner ring", "4 mm outer ring"]),
    wrong("a place of another axis is added to the last one's", "inner, middle and outer ring are 2, 3 and 4 mm",
          ["2 mm inner ring", "3 mm middle ring", "4 mm outer ring"]),
])  # fmt: skip
def test_a_list_of_values_goes_with_the_list_of_parts(text: str, told: list[str]) -> None:
    assert words([on_part(fact) for fact in facts(text, "torque", "measurement")]) == words(told)


def test_lists_of_unlike_length_are_not_paired() -> None:
    text = "the drain plug, the fill plug and the cover are back on, 12 and 10 newton metres"
    assert [fact for fact in facts(text, "torque") if fact.component == "drain plug"] == []


@pytest.mark.parametrize(("text", "told"), [
    ("Chain slack was 45 mm. Adjusted it, now the chain slack is 30 mm.", [("45 mm", "historical"),
    ("30 mm", "stated")]),
    ("Left front tyre pressure is 24 psi. Pumped it up, left front tyre pressure is 33 psi.",
     [("24 psi", "historical"), ("33 psi", "stated")]),
    ("Plug gap was 1.1 mm, closed the plug gap to 0.8 mm.", [("1.1 mm", "historical"), ("0.8 mm", "stated")]),
])  # fmt: skip
def test_a_value_before_an_adjustment_is_history(text: str, told: list[tuple[str, str]]) -> None:
    assert [(amount(fact), fact.assertion) for fact in facts(text, "measurement")] == told


def test_values_of_different_parts_outdate_nothing() -> None:
    text = "Left front tyre pressure is 24 psi. Right front tyre pressure is 33 psi."
    assert [fact.assertion for fact in facts(text, "measurement")] == ["stated", "stated"]
