"""The forms of verbs."""

from __future__ import annotations

import pytest

from saidspec.extract.inflection import inflected, irregular_pasts
from saidspec.patterns import listed, rule_set


@pytest.mark.parametrize(("verb", "forms"), [
    ("drain off", "drain off, drained off, draining off"), ("let out", "let out, let out, letting out"),
    ("unclip", "unclip, unclipped, unclipping"), ("strip", "strip, stripped, stripping"),
    ("re-pin", "re-pin, re-pinned, re-pinning"), ("refit", "refit, refitted, refitting"),
    ("rebuild", "rebuild, rebuilt, rebuilding"), ("test-ride", "test-ride, test-rode, test-ridden, test-riding"),
    ("withdraw", "withdraw, withdrew, withdrawn, withdrawing"), ("clean", "clean, cleaned, cleaning"),
    ("pry", "pry, pried, prying"), ("lever", "lever, levered, levering"), ("free", "free, freed, freeing"),
    ("squeeze", "squeeze, squeezed, squeezing"), ("repair", "repair, repaired, repairing"),
    ("bleed", "bleed, bled, bleeding"), ("reset", "reset, reset, resetting"),
])  # fmt: skip
def test_forms(verb: str, forms: str) -> None:
    assert [form for form, _ in inflected(verb)] == forms.split(", ")


def test_no_verb_of_the_rules_has_a_regular_past_where_it_is_irregular() -> None:
    verbs = {verb.split()[0] for entry in rule_set().entries("actions", "action") for verb in listed(entry["verbs"])}
    wrong = {form for verb in verbs & irregular_pasts().keys() for form, tense in inflected(verb)
             if tense == "past" and form.endswith("ed") and form not in irregular_pasts()[verb]}  # fmt: skip
    assert wrong == set()
