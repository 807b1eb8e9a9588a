"""Numbers that are known to be no fact of the vehicle are neither facts nor left unclaimed; others are asked about."""

from __future__ import annotations

import pytest

from saidspec.model import KINDS
from tests.sentences import facts, reading

COUNTED = tuple(kind for kind in KINDS if kind not in ("operation", "observation", "follow_up", "material"))


@pytest.mark.parametrize("text", [
    "call the shop on 555 0142", "the parts counter is on 555-0142", "started at half past four",
    "it was 5:30 when I gave up", "be there at ten past eight", "it has 4 wheel drive", "one more time",
    "give it a 50/50 mix", "on the one hand it's fine", "the two litre diesel was a good engine",
    "my dog is 7 years old",
    "the parts counter is on 555-0142 extension 12",
    "there were 3 chairs in the garage", "I listened to channel 4", "page 112 of the manual",
    "plate is KX 12 ABC", "my brother's takes 8.5 quarts", "the neighbour's car has 140,000 miles on it",
    "back to square one", "the number one reason is rust",
])  # fmt: skip
def test_known_as_no_fact(text: str) -> None:
    read = reading(text)
    assert [fact for fact in read.facts if fact.kind in COUNTED] == []
    assert [left.quote for left in read.unclaimed] == []


@pytest.mark.parametrize(("text", "quote"), [("the whatsit said 77", "77"), ("something about 431 in there", "431")])
def test_a_number_that_no_rule_knows_is_unclaimed(text: str, quote: str) -> None:
    read = reading(text)
    assert [fact for fact in read.facts if fact.kind in COUNTED] == []
    assert [left.quote for left in read.unclaimed] == [quote]


@pytest.mark.parametrize(("text", "value"), [
    ("wheel nuts ninety foot pounds in a star", 90), ("fill plug is 12 and the drain plug 10 newton metres", 12),
    ("wheel nuts ninety foot pounds star pattern", 90),
    ("drain plug should be 60 newton metres mate", 60),
    ("charged the battery overnight, 12.8 V in the morning", 12.8),
    ("drum is 203.6 cylinder on the left is dry", 203.6),
    ("fill plug 12 and drain plug 10 newton metres", 12),
])  # fmt: skip
def test_a_value_is_a_fact_or_asked_about_whatever_stands_behind_it(text: str, value: float) -> None:
    read = reading(text)
    told = [float(fact.value) for fact in read.facts if fact.value is not None]
    assert value in told or [left.quote for left in read.unclaimed] == [str(value)]


@pytest.mark.parametrize("text", [
    "my brother's takes 8.5 quarts. This one takes 5 quarts of oil.",
    "my brother's takes 8.5 quarts. Mine takes 5 quarts of oil.",
    "rang 555 0142, then put in 5 quarts of oil",
    "at half past four I put in 5 quarts of oil",
])  # fmt: skip
def test_a_fact_beside_a_distractor_is_found(text: str) -> None:
    assert [fact.value for fact in facts(text, *COUNTED)] == [5]
