"""The robust line: against an independent implementation, against counts by hand, and by its invariances."""

from __future__ import annotations

from itertools import permutations
from math import factorial, isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.report.robust import MOST, inversions, order_statistics, theil_sen, thinned

XS = (12000, 24500, 31000, 42000, 55500, 63000, 78000)
YS = (10.2, 8.9, 8.1, 7.4, 5.6, 6.3, 4.1)


def test_agrees_with_scipy() -> None:
    # Source: scipy 1.17.1, scipy.stats.theilslopes(YS, XS, 0.95, method="joint"): slope, intercept and Sen's range.
    line = theil_sen(list(zip(XS, YS, strict=True)))
    assert line is not None
    assert isclose(line.slope, -9.166666666666668e-05)
    assert isclose(line.intercept, 11.25)
    assert isclose(line.low, -0.00011052631578947366)
    assert isclose(line.high, -6.363636363636357e-05)


@pytest.mark.parametrize("points", [2, 3, 4, 5, 6])
def test_inversions_are_those_of_all_orders(points: int) -> None:
    counted = [0] * (points * (points - 1) // 2 + 1)
    for order in permutations(range(points)):
        counted[sum(a > b for n, a in enumerate(order) for b in order[n + 1 :])] += 1
    assert inversions(points) == counted
    assert sum(counted) == factorial(points)


@pytest.mark.parametrize(("points", "cut", "coverage"), [
    (3, 0, 1 - 2 / 6), (4, 0, 1 - 2 / 24), (5, 0, 1 - 2 / 120), (6, 1, 1 - 2 * (1 + 5) / 720),
])  # fmt: skip
def test_coverage_is_stated_as_it_is(points: int, cut: int, coverage: float) -> None:
    assert order_statistics(points, 0.95) == (cut, pytest.approx(coverage))


def test_one_wild_point_moves_nothing_much() -> None:
    straight = [(float(x), 10 - x / 10) for x in range(9)]
    wild = [*straight[:4], (4.0, 80.0), *straight[5:]]
    line = theil_sen(wild)
    assert line is not None
    assert line.slope == pytest.approx(-0.1, abs=0.03)


@pytest.mark.parametrize("points", [[], [(1, 2)], [(1, 2), (2, 1)], [(1, 2), (1, 3), (2, 1), (2, 4)]])
def test_no_line_without_three_places(points: list[tuple[float, float]]) -> None:
    assert theil_sen(points) is None


def test_equal_places_leave_the_range_in_order() -> None:
    line = theil_sen([(1, 5), (1, 5.2), (2, 4), (2, 4.1), (3, 3), (3, 3.3)])
    assert line is not None
    assert line.low <= line.slope <= line.high


@settings(deadline=None)
@given(st.lists(st.tuples(st.integers(0, 1000), st.integers(-1000, 1000)), min_size=3, max_size=15,
                unique_by=lambda point: point[0]), st.integers(-50, 50), st.integers(-50, 50))  # fmt: skip
def test_adding_a_line_adds_its_slope(points: list[tuple[int, int]], slope: int, shift: int) -> None:
    before, after = theil_sen(points), theil_sen([(x, y + slope * x + shift) for x, y in points])
    assert before is not None
    assert after is not None
    assert after.slope == pytest.approx(before.slope + slope, abs=1e-6)
    assert (after.low, after.high) == pytest.approx((before.low + slope, before.high + slope), abs=1e-6)


def test_thinning_keeps_the_ends() -> None:
    many = [(float(n), 0.0) for n in range(5000)]
    few = thinned(many)
    assert len(few) == MOST
    assert (few[0], few[-1]) == (many[0], many[-1])
