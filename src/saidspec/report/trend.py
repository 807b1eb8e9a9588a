"""Trends: measurements of one thing over distance or time, a robust line, and when the sheet's limit is reached.

A projection is an estimate from the record's own points and is worded as one; the part is to be measured before
anybody relies on it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from saidspec.model import Specification
from saidspec.record.entries import Entry
from saidspec.reference.units import convert, convertible
from saidspec.report.distance import Driving, OdometerReading, driving, in_order, reading_on, readings
from saidspec.report.lines import line
from saidspec.report.parts import is_about, may_be, same_quantity, touches, without, words
from saidspec.report.robust import FEWEST, Line, theil_sen
from saidspec.report.trend_values import Limit, Renewal, Span, Trend, TrendPoint, Trends, named
from saidspec.report.trend_words import sentences
from saidspec.report.wording import quantity

RENEWS = frozenset({"replace", "install"})


def trends(
    vehicle: str, entries: Sequence[Entry], specifications: Sequence[Specification], unit: str | None, today: date,
    part: str = "",
) -> Trends:  # fmt: skip
    """The trends of the parts that `part` names (of all that were measured more than once where it is empty).

    `entries` are the measurements, operations and odometer readings of one vehicle in order of what was said.
    """
    unit = unit or next((e.fact.unit for e in reversed(entries) if e.fact.kind == "odometer" and e.fact.unit), None)
    history = in_order(readings(entries, unit)) if unit else []
    drive = driving(history, unit) if unit else None
    everything = measured(entries)
    told = [
        finished(trend(series, entries, history, unit), specifications, drive) for series in everything
        if (any(touches(_title(one), part) for one in series) if part else len(series) > 1)
    ]  # fmt: skip
    return Trends(
        title=f"Trends of {vehicle}" + (f": {part}" if part else ""), day=today, trends=tuple(told),
        method=drive.method if drive else "no odometer reading: over time only", part=part,
        measured=tuple(sorted({_title(max(series, key=_length)) for series in everything})),
    )  # fmt: skip


def measured(entries: Iterable[Entry]) -> list[list[Entry]]:
    """The measurements of each thing, in order: same part and same quantity, in units that convert.

    "left inner pad" is the front one where no other is measured.
    """
    told: dict[tuple[frozenset[str], str], list[Entry]] = defaultdict(list)
    order: dict[int, int] = {}
    for at, entry in enumerate(entries):
        fact = entry.fact
        if fact.kind == "measurement" and entry.stands and entry.day and fact.component and fact.value is not None:
            order[fact.id] = at
            if fact.unit:
                told[words(fact.component), fact.role or ""].append(entry)
    alike = ([one for one in some if convertible(one.fact.unit, some[-1].fact.unit)] for some in _joined(told))
    told_in_order = (sorted(some, key=lambda one: order[one.fact.id]) for some in alike)
    return sorted(told_in_order, key=lambda some: (some[-1].fact.component or "", some[-1].fact.role or ""))


def _joined(told: Mapping[tuple[frozenset[str], str], list[Entry]]) -> list[list[Entry]]:
    """Series whose words say less, each with the only one that may be of the same part and says more."""
    kept = {key: list(some) for key, some in told.items()}
    for key in sorted(told, key=lambda key: len(key[0])):
        name = told[key][0].fact.component or ""
        fuller = [other for other in kept if other[1] == key[1] and key[0] < other[0]
                  and may_be(name, told[other][0].fact.component or "", "measurement")]  # fmt: skip
        if len(fuller) == 1:
            kept[fuller[0]] += kept.pop(key)
    return list(kept.values())


def _title(entry: Entry) -> str:
    """What an entry measures: "front left pad thickness"."""
    return named(entry.fact.component or "", entry.fact.role or "")


def _length(entry: Entry) -> int:
    return len(entry.fact.component or "")


def trend(
    series: Sequence[Entry], entries: Sequence[Entry], history: Sequence[OdometerReading], unit: str | None
) -> Trend:
    """The points of one thing, put on an axis, with the replacements between them and the line of the present part."""
    last = series[-1].fact
    component, to = max(series, key=_length).fact.component or "", last.unit or ""
    order = {entry.fact.id: position for position, entry in enumerate(entries)}
    renewing = [
        entry for entry in entries
        if entry.fact.kind == "operation" and entry.stands and entry.day and entry.fact.action in RENEWS
        and entry.fact.component and is_about(component, entry.fact.component)
    ]  # fmt: skip
    points = []
    for entry in series:
        life = sum(order[other.fact.id] < order[entry.fact.id] for other in renewing)
        points.append(_point(entry, to, history, life))
    renewals = tuple(_renewal(entry, history) for entry in renewing)
    present = [point for point in points if point.life == len(renewing)]
    counted = present or points
    known = sum(point.reading is not None for point in counted)
    by_distance = bool(unit) and (known == len(counted) or known >= FEWEST)
    made = Trend(series[0].vehicle, component, last.role or "", to, (unit or "") if by_distance else "day",
                 min(point.day for point in points), tuple(points), renewals)  # fmt: skip
    return replace(made, line=_line(made, present))


def finished(made: Trend, specifications: Iterable[Specification], drive: Driving | None) -> Trend:
    """The trend with the sheet's limit, where the line meets it, and what that says in words."""
    made = replace(made, limit=limit_of(made, specifications))
    if made.line is not None and made.limit is not None:
        made = replace(made, meets=meets(made.line, float(made.limit.value), made.limit.bound))
    return replace(made, says=sentences(made, drive))


def limit_of(made: Trend, specifications: Iterable[Specification]) -> Limit | None:
    """The limit of the sheet for this part and quantity; of several the one whose component says most.

    A part whose words say less ("left pad") takes the limit of the only one it may be.
    """
    fits = [
        spec for spec in specifications
        if spec.kind == "measurement" and spec.bound and spec.value is not None and spec.unit
        and convertible(spec.unit, made.unit) and same_quantity(spec, made.role)
        and may_be(made.component, without(spec.component, made.role), "measurement")
    ]  # fmt: skip
    sure = [spec for spec in fits if is_about(made.component, without(spec.component, made.role), "measurement")]
    if not fits or (not sure and len({(spec.value, spec.unit, spec.bound) for spec in fits}) > 1):
        return None
    fits = sure or fits
    best = max(fits, key=lambda spec: len(words(spec.component)))
    assert best.value is not None
    assert best.unit is not None
    assert best.bound is not None
    return Limit(convert(best.value, best.unit, made.unit), best.bound, best.source)


def meets(line: Line, limit: float, bound: str) -> Span:
    """Where the line, and the lines of the lowest and highest slope through its middle, meet the limit.

    The middle is the point of the line at the median of x, around which Sen's range turns.
    """
    def where(slope: float) -> float | None:
        towards = -slope if bound == "min" else slope
        return line.middle + (limit - line.at(line.middle)) / slope if towards > 0 else None

    fast, slow = (line.low, line.high) if bound == "min" else (line.high, line.low)
    return Span(where(line.slope), where(fast), where(slow))


def _point(entry: Entry, unit: str, history: Sequence[OdometerReading], life: int) -> TrendPoint:
    fact = entry.fact
    assert fact.value is not None
    assert fact.unit is not None
    assert entry.day is not None
    value = fact.value if fact.value_high is None else (fact.value + fact.value_high) / 2
    at = reading_on(history, entry.day)
    return TrendPoint(fact.id, entry.day, convert(value, fact.unit, unit), quantity(fact), at[0] if at else None,
                      bool(at and at[1]), life, line(entry).words)  # fmt: skip


def _renewal(entry: Entry, history: Sequence[OdometerReading]) -> Renewal:
    assert entry.day is not None
    at = reading_on(history, entry.day)
    return Renewal(entry.day, line(entry).text, at[0] if at else None)


def _line(made: Trend, present: Sequence[TrendPoint]) -> Line | None:
    placed = [(made.at(point), float(point.value)) for point in present]
    return theil_sen([(x, y) for x, y in placed if x is not None])
