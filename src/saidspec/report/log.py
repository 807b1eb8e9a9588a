"""The clean log: for each job what was done, with which values, what was found, what is still to do, what disagrees."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from saidspec.model import Kind
from saidspec.record.entries import Entry, FlagEntry, JobEntries
from saidspec.report.lines import FlagLine, Line, flag_line, line, lines
from saidspec.report.wording import clock, distance

# The sections of what is true of the job, in the order in which a reader wants them.
SECTIONS: tuple[tuple[str, frozenset[Kind]], ...] = (
    ("Done, in this order", frozenset({"operation", "duration"})),
    ("Torques", frozenset({"torque"})),
    ("Quantities and measurements", frozenset({"volume", "measurement"})),
    ("Sizes needed", frozenset({"size"})),
    ("Parts, fluids and materials", frozenset({"part_number", "fluid", "material", "count", "cost"})),
    ("Findings", frozenset({"observation", "trouble_code"})),
    ("Also said", frozenset({"odometer", "date", "interval", "follow_up"})),
)
# What is not true of the job, kept apart, each group under a title that says what it is.
APART = (
    ("quoted", "Only quoted", "from a book, manual, label or another person: not measured or done on this job"),
    ("planned", "Only planned", "not done yet"),
    ("possible", "Not sure", "the speaker was guessing"),
    ("historical", "From earlier", "true of earlier work or of the past"),
    ("negated", "Said not to be so", "or not to have been done"),
    ("retracted", "Taken back", "corrected in the same note"),
)
SEVERITIES = ("danger", "wrong", "look")


@dataclass(frozen=True, slots=True)
class Group:
    """Lines under one title, with a note on what they are."""

    title: str
    lines: tuple[Line, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Leftover:
    """A number of a note that no rule understood."""

    quote: str
    note: str
    time: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class JobLog:
    """One job of the log.  `odometer` is `reading` in words, empty where none was said."""

    id: int | None
    vehicle: str
    title: str
    day: date | None
    odometer: str
    reading: Decimal | None
    reading_unit: str | None
    notes: tuple[str, ...]
    sections: tuple[Group, ...]
    to_do: tuple[Line, ...]
    flags: tuple[FlagLine, ...]
    apart: tuple[Group, ...]
    rejected: tuple[Line, ...]
    leftovers: tuple[Leftover, ...]


@dataclass(frozen=True, slots=True)
class Log:
    """The log of one or more vehicles, jobs in order of time; `day` is when it was written."""

    title: str
    day: date
    jobs: tuple[JobLog, ...]


def log(jobs: Sequence[JobEntries], title: str, day: date) -> Log:
    """The log of `jobs`: in order of time, those without a day last."""
    ordered = sorted(jobs, key=lambda job: (job.day is None, job.day or date.min, job.vehicle, job.id or 0))
    return Log(title, day, tuple(job_log(job) for job in ordered))


def job_log(job: JobEntries) -> JobLog:
    """One job: each entry stands in exactly one place of it."""
    rejected = [entry for entry in job.entries if entry.rejected]
    todo = [entry for entry in job.entries if not entry.rejected and is_to_do(entry)]
    rest = [entry for entry in job.entries if not entry.rejected and not is_to_do(entry)]
    true = [entry for entry in rest if holds(entry)]
    groups = ((title, [entry for entry in true if entry.fact.kind in kinds]) for title, kinds in SECTIONS)
    weak = [entry for entry in rest if not holds(entry)]
    apart = ((title, [entry for entry in weak if entry.fact.assertion == name], note) for name, title, note in APART)
    return JobLog(
        id=job.id, vehicle=job.vehicle, title=system_name(job.system), day=job.day,
        odometer=_odometer(job), reading=job.odometer, reading_unit=job.odometer_unit,
        notes=tuple(dict.fromkeys([*(entry.note for entry in job.entries), *(note for note, _ in job.unclaimed)])),
        sections=tuple(Group(title, lines(some)) for title, some in groups if some),
        to_do=lines(todo), flags=_flag_lines(job.flags),
        apart=tuple(Group(title, _with_successor(some, job.entries), note) for title, some, note in apart if some),
        rejected=lines(rejected),
        leftovers=tuple(Leftover(n.quote, note, clock(n.time), n.start, n.end) for note, n in job.unclaimed),
    )  # fmt: skip


def holds(entry: Entry) -> bool:
    """Whether it belongs to what is true of the job; a finding's absence ("no leaks") is a finding too."""
    return entry.fact.assertion == "stated" or (entry.fact.kind == "observation" and entry.fact.assertion == "negated")


def is_to_do(entry: Entry) -> bool:
    """Whether it is something still to do, or until when."""
    fact = entry.fact
    if fact.kind == "follow_up":
        return fact.assertion in ("stated", "planned", "possible", "quoted")
    return fact.kind == "interval" and fact.role == "until" and fact.assertion in ("stated", "planned")


def system_name(system: str) -> str:
    """The English name of a system of the vocabulary."""
    return "other work" if system == "other" else system.replace("_", " ").replace("-", " ")


def _odometer(job: JobEntries) -> str:
    if job.odometer is None:
        return ""
    return distance(job.odometer, job.odometer_unit) if job.odometer_unit else f"{job.odometer} (unit not said)"


def _flag_lines(flags: Sequence[FlagEntry]) -> tuple[FlagLine, ...]:
    told = [flag_line(flag) for flag in flags]
    return tuple(sorted(told, key=lambda flag: (flag.accepted, SEVERITIES.index(flag.severity))))


def _with_successor(entries: Sequence[Entry], everything: Sequence[Entry]) -> tuple[Line, ...]:
    """Lines; that of a retracted entry says what it was corrected to."""
    by_id = {entry.fact.id: entry for entry in everything}
    told = []
    for entry in entries:
        made = line(entry)
        new = by_id.get(entry.fact.replaced_by) if entry.fact.replaced_by is not None else None
        if new is not None:
            mark = f"corrected to {line(new).text}"
            made = Line(made.id, made.about, made.says, made.fact, made.words, (*made.marks, mark), made.reviewed)
        told.append(made)
    return tuple(told)
