"""Situations of a note in words and a sheet, of varied trades: what is flagged, and that nothing else is."""

from __future__ import annotations

from collections import Counter
from typing import get_args

import pytest

from saidspec.model import Cause, Check
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
