"""The values of a trend: measurements of one thing, the line through them, and where it meets the limit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from saidspec.report.lines import Words
from saidspec.report.robust import Line


def named(component: str, role: str) -> str:
    """What is measured: "front brake pad thickness", "chain slack"."""
    return component if component.endswith(role) else f"{component} {role}"


@dataclass(frozen=True, slots=True)
class TrendPoint:
    """One measurement in the unit of the trend.  `reading` is the odometer on that day, estimated where said so."""

    id: int
    day: date
    value: Decimal
    said: str
    reading: Decimal | None
    estimated: bool
    life: int  # 0 for the first part measured, one more after each replacement
    words: Words


@dataclass(frozen=True, slots=True)
class Limit:
    """The service limit of the sheet, in the unit of the trend."""

    value: Decimal
    bound: Literal["min", "max"]
    source: str


@dataclass(frozen=True, slots=True)
class Renewal:
    """A replacement of the part: what was measured before says nothing of the new one."""

    day: date
    what: str
    reading: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Span:
    """Where the line meets the limit, and the least and the most that the range of the slope allows (None: never)."""

    likely: float | None
    least: float | None
    most: float | None


@dataclass(frozen=True, slots=True)
class Trend:
    """Measurements of one part over distance (`axis` is the odometer's unit) or over time (`axis` is "day").

    `line` and `meets` are of the present part alone, counted on the axis: odometer readings, or days since `origin`.
    """

    vehicle: str
    component: str
    role: str
    unit: str
    axis: str
    origin: date
    points: tuple[TrendPoint, ...]
    renewals: tuple[Renewal, ...] = ()
    line: Line | None = None
    limit: Limit | None = None
    meets: Span | None = None
    says: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """What is measured: "front brake pad thickness"."""
        return named(self.component, self.role)

    def at(self, point: TrendPoint) -> float | None:
        """Where a point lies on the axis, None where its odometer reading is not known."""
        if self.axis == "day":
            return float((point.day - self.origin).days)
        return float(point.reading) if point.reading is not None else None


@dataclass(frozen=True, slots=True)
class Trends:
    """The trends of a vehicle that were asked for; `method` says how distances were estimated."""

    title: str
    day: date
    trends: tuple[Trend, ...]
    method: str
    part: str = ""  # what was asked for
    measured: tuple[str, ...] = ()  # everything that was measured on the vehicle, by name
