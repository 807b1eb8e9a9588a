"""Money: amounts and currencies, what was paid for, each or in total; and figures that are no money."""

from __future__ import annotations

import pytest

from tests.sentences import amount, facts


@pytest.mark.parametrize(("text", "told"), [
    ("pads were $64", "64 USD"), ("pads were 64 dollars", "64 USD"), ("pads were £48", "48 GBP"),
    ("pads were 48 quid", "48 GBP"),
    ("pads were 39 euros", "39 EUR"), ("pads were 19 dollars and 50 cents", "19.5 USD"),
    ("pads were €39.90", "39.9 EUR"),
    ("paid sixty four dollars for the pads", "64 USD"), ("paid fourteen pound ninety nine for the filter", "14.99 GBP"),
    ("pads forty two pounds for the set, slide pin bolts 28 foot pounds", "42 GBP"),
    ("thirty pounds for the lot, and the bolts are 80 foot pounds", "30 GBP"),
    ("the filter was a buck ten", "1.1 USD"),
])  # fmt: skip
def test_amounts(text: str, told: str) -> None:
    assert [amount(fact) for fact in facts(text, "cost")] == [told]


@pytest.mark.parametrize(("text", "told"), [
    ("brake pads were 48 dollars", "brake pad"), ("paid 14 dollars for the oil filter", "oil filter"),
    ("oil filter, 14 dollars", "oil filter"), ("14 dollars for a new thermostat", "thermostat"),
])  # fmt: skip
def test_what_was_paid_for(text: str, told: str) -> None:
    (fact,) = facts(text, "cost")
    assert told in (fact.component or "")


@pytest.mark.parametrize(("text", "told"), [
    ("spark plugs were 9 dollars each", [("9 USD", "each")]),
    ("four spark plugs at 9 dollars each, 36 dollars in total",
     [("9 USD", "each"), ("36 USD", "total")]), ("brake discs 45 euros apiece", [("45 EUR", "each")]),
])  # fmt: skip
def test_each_and_total(text: str, told: list[tuple[str, str]]) -> None:
    assert [(amount(fact), fact.role) for fact in facts(text, "cost")] == told


@pytest.mark.parametrize("text", [
    "drain plug is 22 foot pounds", "the tyre is at 33 pounds", "part number KD-4410", "looked like a million dollars",
    "it's worth its weight in gold", "caliper bolts forty two pounds", "eighty pounds for the wheel nuts",
])  # fmt: skip
def test_what_is_no_money(text: str) -> None:
    assert facts(text, "cost") == []
