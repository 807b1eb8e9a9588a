"""The values of the due list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from saidspec.model import Specification
from saidspec.record.entries import Entry
from saidspec.report.distance import ONE_READING, OdometerReading
from saidspec.report.lines import Words
from saidspec.report.wording import day_shown

Status = Literal["overdue", "soon", "later", "at reading", "never", "unknown", "looks done"]
TITLES: dict[Status, str] = {
    "overdue": "Overdue", "soon": "Due within 30 days", "later": "Later",
    "at reading": "At a reading: compare with the odometer",
    "never": "No record of it being done: when it is due is not known",
    "unknown": "Still to do, without a date", "looks done": "Looks done: confirm with `saidspec decide done NUMBER`",
}  # fmt: skip
ORDER: tuple[Status, ...] = tuple(TITLES)


@dataclass(frozen=True, slots=True)
class Known:
    """What the record and the sheet tell of one vehicle, entries in order of time; `unit` is that of its odometer."""

    entries: Sequence[Entry]
    specifications: Sequence[Specification]
    history: Sequence[OdometerReading]
    unit: str | None


@dataclass(frozen=True, slots=True)
class LastDone:
    """When something was last done, at which odometer reading, and on whose words."""

    day: date
    reading: Decimal | None
    estimated: bool
    words: Words
    what: str
    action: str
    marks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Due:
    """One thing that is due.  `by_distance` are the likely, earliest and latest day at which `reading` is reached."""

    vehicle: str
    what: str
    basis: str
    source: str
    status: Status = "unknown"
    state: str = ""
    day: date | None = None
    reading: Decimal | None = None
    unit: str | None = None
    by_distance: tuple[date | None, date | None, date | None] = (None, None, None)
    last: LastDone | None = None
    words: Words | None = None
    fact: int | None = None
    component: str | None = None
    marks: tuple[str, ...] = ()

    @property
    def first(self) -> date | None:
        """The day on which it is likely due: by date or by distance, whichever comes first."""
        return min((day for day in (self.day, self.by_distance[0]) if day), default=None)

    @property
    def headline(self) -> str:
        """The day to look at first: the likely one, or from when on it may be due where that is soon."""
        earliest = self.by_distance[1]
        if self.first is None:
            return ""
        if self.status == "soon" and earliest is not None and earliest < self.first:
            return f"from {day_shown(earliest)} on"
        return day_shown(self.first)


@dataclass(frozen=True, slots=True)
class DueList:
    """The due list of one or more vehicles on `day`; `methods` say how each vehicle's distance was estimated."""

    title: str
    day: date
    items: tuple[Due, ...]
    methods: tuple[tuple[str, str], ...]

    def groups(self) -> list[tuple[Status, list[Due]]]:
        """The things of each status, overdue first."""
        told = [(status, [item for item in self.items if item.status == status]) for status in ORDER]
        return [(status, items) for status, items in told if items]

    def estimates(self) -> list[tuple[str, str]]:
        """(vehicle, how its distance was estimated), for the vehicles of which something is due by distance.

        Of many vehicles those with one reading only are told together.
        """
        if len(self.methods) == 1 and self.items:
            return list(self.methods)
        counted = {item.vehicle for item in self.items if item.reading is not None}
        told = [(vehicle, how) for vehicle, how in self.methods if vehicle in counted]
        single = [vehicle for vehicle, how in told if how.startswith(ONE_READING)]
        if len(single) < 2:
            return told
        rest = [(vehicle, how) for vehicle, how in told if vehicle not in single]
        return [*rest, (", ".join(single), f"{ONE_READING} each: no rate can be estimated")]
