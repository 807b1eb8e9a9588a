"""Situations of a note in words and a sheet, of varied trades: what is flagged, and that nothing else is."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from typing import get_args

import pytest

from saidspec.model import Cause, Check, Specification
from saidspec.reconcile.swaps import swapped
from tests.reconcile_situations import Situation, situations

CASES = [pytest.param(one, id=one.name, marks=[pytest.mark.xfail(strict=True, reason=one.known)] if one.known else [])
         for one in situations()]


@pytest.mark.parametrize("situation", CASES)
def test_a_situation_is_flagged_as_it_must_be_and_not_otherwise(situation: Situation) -> None:
    assert situation.unlike() == []


def test_every_check_and_every_cause_is_raised_by_a_situation() -> None:
    raised = [flag for one in situations() if not one.known for flag in one.outcome()[0]]
    assert {flag.check for flag in raised} == set(get_args(Check))
    assert {flag.likely for flag in raised} == {*get_args(Cause), None}


def test_situations_have_single_names_and_as_many_of_them_must_not_be_flagged_as_must() -> None:
    found = situations()
    assert [name for name, times in Counter(one.name for one in found).items() if times > 1] == []
    quiet = [one for one in found if not one.flags]
    assert len(quiet) >= len(found) / 2 >= 60


def seeded(spec: Specification) -> Specification | None:
    """A specification that a slip got into: a torque a quarter too high, a part number with its last characters
    swapped; None for what is not tried.
    """
    if spec.kind == "torque" and spec.value is not None and spec.value_high is None:
        return replace(spec, value=spec.value * Decimal("1.25"))
    texts = list(swapped(spec.code or "")) if spec.kind == "part_number" else []
    return replace(spec, code=texts[-1]) if texts else None


def test_a_slip_in_the_sheet_is_flagged_and_nothing_else_is() -> None:
    raised, tried = 0, 0
    for one in situations():
        specs = one.specs()
        if one.flags or one.known:
            continue
        agreed = {(told.kind, told.spec) for told in one.outcome()[1]}
        for spec in specs.specifications:
            wrong = seeded(spec)
            if wrong is None or not any(kind == spec.kind and text.startswith(f"{spec.component}: ")
                                        for kind, text in agreed):
                continue
            changed = tuple(wrong if other is spec else other for other in specs.specifications)
            flags = one.against(replace(specs, specifications=changed))[0]
            tried += 1
            raised += any(spec.component in (flag.component or "") or flag.kind == spec.kind for flag in flags)
            assert all(flag.reference and spec.source == flag.reference.source for flag in flags), one.name
            assert {flag.kind for flag in flags} <= {spec.kind}, (one.name, [flag.message for flag in flags])
    assert tried > 80
    assert raised / tried >= 0.9, (raised, tried)
