"""A robust straight line through few points, with an honest range for its slope.

The slope is the median of the slopes of all pairs of points and the intercept the median of y - slope * x
(Theil 1950; Sen 1968, "Estimates of the regression coefficient based on Kendall's tau", J. Am. Stat. Assoc. 63:1379).
The range of the slope is Sen's: order statistics of the pair slopes, chosen with the null distribution of Kendall's S.
That distribution is counted exactly here, so the coverage holds for few points and is stated as it comes out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from statistics import median

Point = tuple[float, float]
WANTED = 0.95
FEWEST = 3  # with two points the line is no more than the points
MOST = 150  # beyond it the points are thinned evenly: the pairs grow with their square


@dataclass(frozen=True, slots=True)
class Line:
    """y = intercept + slope * x, the lowest and highest slope, and the share of cases in which that range is right."""

    slope: float
    intercept: float
    low: float
    high: float
    coverage: float
    points: int
    middle: float  # median of x

    def at(self, x: float) -> float:
        """The height of the line at x."""
        return self.intercept + self.slope * x


def theil_sen(points: Sequence[Point], wanted: float = WANTED) -> Line | None:
    """The robust line through `points`, None where fewer than three differ in x."""
    points = thinned(sorted(points))
    if len({x for x, _ in points}) < FEWEST:
        return None
    slopes = sorted((y2 - y1) / (x2 - x1) for (x1, y1), (x2, y2) in combinations(points, 2) if x2 != x1)
    slope = median(slopes)
    cut, coverage = order_statistics(len(points), wanted)
    # Points of equal x make fewer slopes than pairs: cut no more than leaves one at either end.
    cut = min(cut, (len(slopes) - 1) // 2)
    return Line(
        slope=slope, intercept=median(y - slope * x for x, y in points), low=slopes[cut], high=slopes[-1 - cut],
        coverage=coverage, points=len(points), middle=median(x for x, _ in points),
    )  # fmt: skip


def order_statistics(points: int, wanted: float) -> tuple[int, float]:
    """How many slopes to leave out at either end for a range of at least `wanted` coverage, and the coverage it has.

    Where even all slopes do not reach it (fewer than 5 points and 0.95), none is left out.
    """
    pairs = points * (points - 1) // 2
    counts = inversions(points)
    orders = sum(counts)  # of all orders of the points, each equally likely where there is no trend
    cut, below = 0, counts[0]  # orders with at most `cut` pairs against the trend
    while cut + 1 < pairs / 2 and 1 - 2 * (below + counts[cut + 1]) / orders >= wanted:
        cut += 1
        below += counts[cut]
    return cut, 1 - 2 * below / orders


def inversions(points: int) -> list[int]:
    """How many of the orders of n things have 0, 1, 2 ... pairs out of order: the distribution behind Kendall's S."""
    counts: list[int] = [1]
    for n in range(2, points + 1):
        wider = [0] * (len(counts) + n - 1)
        running = 0
        for k in range(len(wider)):
            running += counts[k] if k < len(counts) else 0
            running -= counts[k - n] if 0 <= k - n < len(counts) else 0
            wider[k] = running
        counts = wider
    return counts


def thinned(points: Sequence[Point]) -> list[Point]:
    """At most `MOST` of the points, evenly chosen, the first and last among them."""
    if len(points) <= MOST:
        return list(points)
    step = (len(points) - 1) / (MOST - 1)
    return [points[round(i * step)] for i in range(MOST)]
