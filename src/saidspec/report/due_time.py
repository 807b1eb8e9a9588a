"""The time arithmetic of the due list: intervals added to a day or a reading, and how things stand today."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from saidspec.reference.units import convert, dimension
from saidspec.report.distance import Driving
from saidspec.report.due_values import Due, LastDone
from saidspec.report.wording import amount, distance, number

SOON = timedelta(days=30)
Placed = Literal["overdue", "soon", "later", "at reading", "never", "unknown"]


def later(day: date, value: Decimal, unit: str | None) -> date | None:
    """The day that is `value` days, weeks, months or years after `day`; None for another unit.

    A month ends on its last day: one month after 31 January is 28 February.
    """
    if unit in ("day", "week"):
        return day + timedelta(days=int(value * (7 if unit == "week" else 1)))
    if unit not in ("month", "year"):
        return None
    months = day.month - 1 + int(value * (12 if unit == "year" else 1))
    year, month = day.year + months // 12, months % 12 + 1
    return date(year, month, min(day.day, monthrange(year, month)[1])) if year <= date.max.year else None


def of_interval(item: Due, last: LastDone | None, sides: Iterable[tuple[Decimal | None, str | None]]) -> Due:
    """The item with the day and the reading at which an interval since `last` ends."""
    if last is None:
        return item
    item = replace(item, last=last, marks=(*item.marks, *last.marks))
    if last.action == "install":
        item = replace(item, marks=(*item.marks, "whether a new one was installed is not said"))
    for value, unit in sides:
        if value is None:
            continue
        if counts_up(unit, item.unit):
            if last.reading is not None and unit and item.unit:
                item = replace(item, reading=last.reading + convert(value, unit, item.unit))
            else:
                item = replace(item, marks=(*item.marks, "the reading when it was last done is not known"))
        else:
            item = replace(item, day=later(last.day, value, unit))
    return item


def counts_up(unit: str | None, odometer_unit: str | None) -> bool:
    """Whether an interval in `unit` is counted on the odometer: a distance, or hours on an hour meter."""
    return dimension(unit) == "distance" or (unit == "hour" and odometer_unit == "hour")


def state(item: Due, drive: Driving | None, today: date) -> tuple[Placed, str]:
    """The status of an item as of today, and in words by how much."""
    told: list[str] = []
    placed: list[Placed] = []
    if item.day is not None:
        placed.append(_status(item.day, item.day, today))
        told.append(_by_day(item.day, today))
    if item.reading is not None and drive is not None and item.unit:
        here = drive.on(max(today, drive.last.day))
        status, words = _by_reading(item, here, drive, today)
        placed.append(status)
        told.append(words)
    if not placed:
        return "unknown", ""
    return min(placed, key=("overdue", "soon", "later", "at reading", "unknown").index), "; ".join(told)


def _status(likely: date | None, earliest: date | None, today: date) -> Placed:
    if likely is not None and likely < today:
        return "overdue"
    return "soon" if earliest is not None and earliest <= today + SOON else "later"


def _by_day(day: date, today: date) -> str:
    days = (day - today).days
    if days < 0:
        return f"was due on {day.isoformat()}, {_span(-days)} ago"
    return f"due today, {day.isoformat()}" if days == 0 else f"due on {day.isoformat()}, in {_span(days)}"


def _by_reading(
    item: Due, here: tuple[Decimal, Decimal, Decimal] | None, drive: Driving, today: date
) -> tuple[Placed, str]:
    assert item.reading is not None
    assert item.unit is not None
    target = distance(item.reading, item.unit)
    if item.reading <= drive.last.value:
        return "overdue", f"was due at {target}; the last reading is {distance(drive.last.value, item.unit)}"
    if here is None:
        gap = amount((item.reading - drive.last.value).quantize(Decimal(1)), None, item.unit)
        return "at reading", f"due at {target}, {gap} after the last reading; no rate to estimate the day from"
    likely, earliest, latest = item.by_distance
    if here[0] >= item.reading:
        span = f"{_whole(here[1])} to {_whole(here[2])}"
        return "overdue", (f"was due at {target}; the odometer is estimated at {distance(here[0], item.unit)} today"
                           f" (between {span})")  # fmt: skip
    doubt = "may be due already: " if here[2] >= item.reading else ""
    span = f"{_or_never(earliest)} and {_or_never(latest)}"
    told = f"{doubt}due at {target}, estimated about {_or_never(likely)} (between {span})"
    return _status(likely, earliest, today), told


def _whole(reading: Decimal) -> str:
    return number(reading.quantize(Decimal(1)))


def _or_never(day: date | None) -> str:
    return day.isoformat() if day else "not in sight"


def _span(days: int) -> str:
    """A number of days as a person says it: 5 days, 7 weeks, 14 months."""
    if days < 21:
        return f"{days} day{'' if days == 1 else 's'}"
    return f"{days // 7} weeks" if days < 92 else f"{round(days / 30.44)} months"
