"""The hand-over: a vehicle's whole history for its next keeper, in one file, with the words behind each entry."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from saidspec.model import Kind, Specification, Vehicle
from saidspec.record.entries import Entry, JobEntries
from saidspec.report.due import due_list, due_of_vehicle
from saidspec.report.due_values import DueList
from saidspec.report.lines import Line, line
from saidspec.report.log import JobLog, log
from saidspec.report.parts import is_about
from saidspec.report.passages import NotePassages, passages
from saidspec.report.trend import trends
from saidspec.report.trend_values import Trends

FITTED: tuple[Kind, ...] = ("part_number", "fluid")
MENDS = frozenset({"replace", "repair", "install", "adjust", "clean", "lubricate", "tighten", "flush", "bleed", "drain",
                   "fill"})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Dated:
    """A line with the day and the odometer reading of its job."""

    day: date | None
    job: str  # anchor of its job in the page
    line: Line


@dataclass(frozen=True, slots=True)
class Count:
    """How far the record can be trusted: entries, those a person confirmed or corrected, open disagreements."""

    jobs: int
    notes: int
    entries: int
    reviewed: int
    disagreements: int


@dataclass(frozen=True, slots=True)
class HandOver:
    """Everything on record of one vehicle, as of a day."""

    title: str
    vehicle: Vehicle
    day: date
    odometer: str
    count: Count
    jobs: tuple[JobLog, ...]
    parts: tuple[Dated, ...]
    findings: tuple[Dated, ...]
    due: DueList
    trends: Trends
    notes: tuple[NotePassages, ...]  # the words behind the entries


def hand_over(
    vehicle: Vehicle, jobs: Sequence[JobEntries], specifications: Sequence[Specification], day: date
) -> HandOver:
    """The hand-over of a vehicle from all its jobs."""
    made = log(jobs, vehicle.name, day)
    entries = sorted((entry for job in jobs for entry in job.entries), key=_time)
    anchors = {line.id: f"job-{number}" for number, job in enumerate(made.jobs, 1) for line in _all_lines(job)}
    due, method = due_of_vehicle(vehicle.name, entries, specifications, vehicle.odometer_unit, day)
    odometer = next((job.odometer for job in reversed(made.jobs) if job.odometer), "")
    return HandOver(
        title=f"History of {vehicle.name}", vehicle=vehicle, day=day, odometer=odometer,
        count=Count(
            jobs=len(made.jobs), notes=len({entry.note_id for entry in entries}), entries=len(entries),
            reviewed=sum(entry.decision is not None for entry in entries),
            disagreements=sum(not flag.accepted for job in made.jobs for flag in job.flags),
        ),
        jobs=made.jobs, parts=_dated((e for e in entries if e.stands and _fitted(e)), anchors),
        findings=_dated(open_findings(entries), anchors),
        due=due_list(f"Due on {vehicle.name}", day, [(vehicle.name, due, method)]),
        trends=trends(vehicle.name, entries, specifications, vehicle.odometer_unit, day),
        notes=passages(entries),
    )  # fmt: skip


def open_findings(entries: Sequence[Entry]) -> list[Entry]:
    """Findings to watch or to act on after which no work on the same part is on record."""
    told = []
    for number, entry in enumerate(entries):
        fact = entry.fact
        bad = fact.kind == "observation" and entry.stands and not entry.done and fact.role in ("watch", "act")
        if bad and not any(_mended(fact.component, later) for later in entries[number + 1 :]):
            told.append(entry)
    return told


def _mended(component: str | None, later: Entry) -> bool:
    fact = later.fact
    work = fact.kind == "operation" and later.stands and fact.action in MENDS and component is not None
    return work and fact.component is not None and (
        is_about(fact.component, component or "") or is_about(component, fact.component))  # fmt: skip


def _fitted(entry: Entry) -> bool:
    return entry.fact.kind in FITTED and entry.fact.role in ("installed", None)


def _dated(entries: Iterable[Entry], anchors: dict[int, str]) -> tuple[Dated, ...]:
    return tuple(Dated(entry.day, anchors.get(entry.fact.id, ""), line(entry)) for entry in entries)


def _all_lines(job: JobLog) -> list[Line]:
    groups = (*job.sections, *job.apart)
    return [*(line for group in groups for line in group.lines), *job.to_do, *job.rejected]


def _time(entry: Entry) -> tuple[bool, date, int, int]:
    return entry.day is None, entry.day or date.min, entry.note_id, entry.fact.id
