"""How far a vehicle has been driven: from the record's own odometer readings, with method and spread stated.

An odometer is never guessed for the record; what is worked out here is an estimate and is printed as one.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from math import ceil

from saidspec.record.entries import Entry
from saidspec.reference.units import convert, convertible
from saidspec.report.robust import theil_sen
from saidspec.report.wording import distance, number

DAYS_A_YEAR = Decimal("365.25")
ONE_READING = "only one reading"
FARTHEST = 365 * 30  # days: what lies beyond is no date that helps anybody


@dataclass(frozen=True, slots=True)
class OdometerReading:
    """A reading of the odometer, as said, in the unit of the vehicle."""

    day: date
    value: Decimal
    entry: int | None = None


@dataclass(frozen=True, slots=True)
class Driving:
    """How far a day: the middle rate and the lowest and highest that the readings allow, from the last reading on."""

    last: OdometerReading
    unit: str
    rate: Decimal | None  # a day
    low: Decimal | None
    high: Decimal | None
    method: str  # in words, with the spread

    def on(self, day: date) -> tuple[Decimal, Decimal, Decimal] | None:
        """The odometer on `day` from the last reading on: middle, lowest and highest estimate."""
        if self.rate is None or self.low is None or self.high is None:
            return (self.last.value,) * 3 if day == self.last.day else None
        days = max((day - self.last.day).days, 0)
        return tuple(self.last.value + rate * days for rate in (self.rate, self.low, self.high))  # type: ignore[return-value]

    def when(self, value: Decimal) -> tuple[date | None, date | None, date | None]:
        """The days on which the odometer reaches `value`: likely, earliest, latest; None where never in sight."""
        return _reached(self.last, value, self.rate), _reached(self.last, value, self.high), _reached(
            self.last, value, self.low)  # fmt: skip


def readings(entries: Iterable[Entry], unit: str) -> list[OdometerReading]:
    """The odometer readings said of a vehicle, in `unit`, one a day (the highest), in order of time."""
    highest: dict[date, OdometerReading] = {}
    for entry in entries:
        fact = entry.fact
        if fact.kind != "odometer" or not entry.stands or entry.day is None or fact.value is None:
            continue
        if fact.unit and not convertible(fact.unit, unit):
            continue
        value = convert(fact.value, fact.unit, unit) if fact.unit else fact.value
        if entry.day not in highest or value > highest[entry.day].value:
            highest[entry.day] = OdometerReading(entry.day, value, fact.id)
    return [highest[day] for day in sorted(highest)]


def in_order(history: Sequence[OdometerReading]) -> list[OdometerReading]:
    """The longest run of readings that never goes backwards: one that was misheard does not spoil the others."""
    tops: list[int] = []  # tops[n]: position of the lowest last reading of a run of n + 1
    before: list[int | None] = []
    for position, reading in enumerate(history):
        at = bisect_right(tops, reading.value, key=lambda top: history[top].value)
        before.append(tops[at - 1] if at else None)
        tops[at:at + 1] = [position]  # fmt: skip
    kept = []
    here = tops[-1] if tops else None
    while here is not None:
        kept.append(history[here])
        here = before[here]
    return kept[::-1]


def reading_on(history: Sequence[OdometerReading], day: date) -> tuple[Decimal, bool] | None:
    """The odometer on a past day and whether it is an estimate (a straight line between the readings around it)."""
    after = bisect_right(history, day, key=lambda reading: reading.day)
    if after and history[after - 1].day == day:
        return history[after - 1].value, False
    if not 0 < after < len(history):
        return None
    early, late = history[after - 1], history[after]
    share = Decimal((day - early.day).days) / (late.day - early.day).days
    return early.value + (late.value - early.value) * share, True


def driving(told: Sequence[OdometerReading], unit: str) -> Driving | None:
    """How far a vehicle is driven a day; None where no reading is known.

    From three readings on: the median of the rates between all pairs of readings (Theil-Sen), with Sen's range.  With
    two: the rate between them, and as spread half to double of it (common practice: a guess, and said to be one).
    """
    history = in_order(told)
    if not history:
        return None
    first, last = history[0], history[-1]
    if len(history) == 1:
        return Driving(last, unit, None, None, None, f"{ONE_READING}, {_told(last, unit)}: no rate can be estimated")
    line = theil_sen([((reading.day - first.day).days, float(reading.value)) for reading in history])
    if line is None:
        rate = (last.value - first.value) / (last.day - first.day).days
        rate, low, high = max(rate, Decimal(0)), max(rate / 2, Decimal(0)), max(rate * 2, Decimal(0))
        spread = "two readings only; the spread of half to double is a guess"
    else:
        rate, low, high = (max(Decimal(str(slope)), Decimal(0)) for slope in (line.slope, line.low, line.high))
        spread = f"median of the rates between all {len(history)} readings, range of {line.coverage:.0%} coverage"
    method = (
        f"about {_yearly(rate)} {unit} a year ({_yearly(low)} to {_yearly(high)}): {spread}; "
        f"counted on from the last reading, {_told(last, unit)}"
    )
    if len(told) > len(history):
        method += f"; {len(told) - len(history)} of the readings go backwards and are left out"
    return Driving(last, unit, rate, low, high, method)


def _reached(last: OdometerReading, value: Decimal, rate: Decimal | None) -> date | None:
    if value <= last.value:
        return last.day
    if not rate:
        return None
    days = ceil((value - last.value) / rate)
    return last.day + timedelta(days=days) if days <= FARTHEST else None


def _told(reading: OdometerReading, unit: str) -> str:
    return f"{distance(reading.value, unit)} on {reading.day.isoformat()}"


def _yearly(rate: Decimal) -> str:
    """A daily rate as one of a year, to two digits: 14,000."""
    year = rate * DAYS_A_YEAR
    step = Decimal(10) ** max(year.adjusted() - 1, 0)
    return number(Decimal(int((year / step).to_integral_value() * step)))
