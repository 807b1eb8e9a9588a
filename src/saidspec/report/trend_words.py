"""What a trend says in words: the rate with its range, where the limit is reached, or why that cannot be told."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal

from saidspec.report.distance import FARTHEST, Driving
from saidspec.report.robust import FEWEST
from saidspec.report.trend_values import Span, Trend, TrendPoint
from saidspec.report.wording import amount, number

ROUGH = 5  # points below which even all slopes give no range of 95 % coverage
STEP = {"km": Decimal(1000), "mi": Decimal(1000), "hour": Decimal(100), "day": Decimal(365)}


def sentences(made: Trend, drive: Driving | None) -> tuple[str, ...]:
    """The sentences of a trend, most needed first."""
    present = [point for point in made.points if point.life == len(made.renewals)]
    told = []
    if made.renewals:
        last = made.renewals[-1]
        told.append(f"{last.what} on {last.day.isoformat()}: only what was measured after it counts")
    if made.line is None:
        told.append(f"too few points to project: {_have(made, present)}")
        return (*_limit_now(made), *told)
    line = made.line
    step = STEP.get(made.axis, Decimal(1))
    per = "year" if made.axis == "day" else f"{number(step)} {made.axis}"
    rate, low, high = (_short(abs(slope) * float(step)) for slope in (line.slope, line.low, line.high))
    way = "loses" if line.slope < 0 else "gains"
    mixed = line.low < 0 < line.high
    span = f"{min(low, high)} to {max(low, high)}" if not mixed else "its direction is not certain"
    told.append(f"{way} about {number(rate)} {made.unit} per {per} ({span}; median of all slopes, range of "
                f"{line.coverage:.0%} coverage, {line.points} points)")  # fmt: skip
    if line.points < ROUGH:
        told.append(f"with {line.points} points this is rough")
    return (*_limit_now(made), *_projection(made, drive), *told)


def _have(made: Trend, present: Sequence[TrendPoint]) -> str:
    """How many points there are, and what is needed: points of one day, or of one reading, tell no slope."""
    have = f"{len(present) or 'no'} {'point' if len(present) == 1 else 'points'} of the present part"
    if len(present) < FEWEST:
        return f"{have}, at least {FEWEST} are needed"
    places = len({place for point in present if (place := made.at(point)) is not None})
    what = "day" if made.axis == "day" else "odometer reading"
    told = f"{places or 'no'} {what}{'' if places == 1 else 's'}"
    return f"{have}, but of {told} only; points of at least {FEWEST} different {what}s are needed"


def _limit_now(made: Trend) -> tuple[str, ...]:
    """Whether the last measurement of the present part is beyond the limit already."""
    present = [point for point in made.points if point.life == len(made.renewals)]
    if made.limit is None:
        return ("the sheet has no limit for it",)
    if not present:
        return ()
    last, limit = present[-1], made.limit
    beyond = last.value < limit.value if limit.bound == "min" else last.value > limit.value
    if not beyond:
        return ()
    return (f"BEYOND ITS LIMIT: {last.said} on {last.day.isoformat()}, the limit is {limit.bound}imum "
            f"{amount(limit.value, None, made.unit)} ({limit.source})",)  # fmt: skip


def _projection(made: Trend, drive: Driving | None) -> tuple[str, ...]:
    if made.limit is None or made.meets is None:
        return ()
    limit = f"the limit of {made.limit.bound}imum {amount(made.limit.value, None, made.unit)} ({made.limit.source})"
    if made.meets.likely is None:
        return (f"not heading for {limit}",)
    where = _places(made, made.meets, drive)
    return (f"reaches {limit} {where}: an estimate, measure before relying on it",)


def _places(made: Trend, span: Span, drive: Driving | None) -> str:
    """Where and when: "at about 103,000 km (98,000 to 112,000), around 2027-03 (2026-11 to 2028-01)"."""
    if made.axis == "day":
        days = [made.origin + timedelta(days=x) if x is not None and x < FARTHEST else None
                for x in (span.likely, span.least, span.most)]  # fmt: skip
        return f"around {_month(days[0])} ({_month(days[1])} to {_month(days[2])})"
    told = [number(_short(x)) if x is not None else "never" for x in (span.likely, span.least, span.most)]
    where = f"at about {told[0]} {made.axis} ({told[1]} to {told[2]})"
    if drive is None or span.likely is None:
        return where
    likely = drive.when(_whole(span.likely))[0]
    first = drive.when(_whole(span.least))[1] if span.least is not None else None
    last = drive.when(_whole(span.most))[2] if span.most is not None else None
    return f"{where}, around {_month(likely)} ({_month(first)} to {_month(last)})"


def _month(day: date | None) -> str:
    return f"{day:%Y-%m}" if day else "not in sight"


def _whole(x: float) -> Decimal:
    return Decimal(round(x))


def _short(x: float) -> Decimal:
    """A worked-out number to three digits, without exponent."""
    if x == 0:
        return Decimal(0)
    value = Decimal(repr(x))
    step = Decimal(10) ** (value.adjusted() - 2)
    return Decimal(f"{(value / step).to_integral_value() * step:f}")
