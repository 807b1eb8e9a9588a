"""The values of the due list."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from saidspec.report.lines import Words

Status = Literal["overdue", "soon", "later", "unknown", "looks done"]
TITLES: dict[Status, str] = {
    "overdue": "Overdue", "soon": "Due within 30 days", "later": "Later", "unknown": "When it is due is not known",
    "looks done": "Looks done: confirm or correct",
}  # fmt: skip
ORDER: tuple[Status, ...] = ("overdue", "soon", "later", "unknown", "looks done")


@dataclass(frozen=True, slots=True)
class LastDone:
    """When something was last done, at which odometer reading, and on whose words."""

    day: date
    reading: Decimal | None
    estimated: bool
    words: Words
    what: str
    action: str


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
    marks: tuple[str, ...] = ()

    @property
    def first(self) -> date | None:
        """The day on which it is likely due: by date or by distance, whichever comes first."""
        return min((day for day in (self.day, self.by_distance[0]) if day), default=None)


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
