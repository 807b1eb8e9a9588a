"""The preparation sheet: what one needs to know and to have before the next job, from the last time and the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from saidspec.model import Kind, Specification
from saidspec.record.entries import Entry, FlagEntry, VehicleEntry
from saidspec.report.due import due_of_vehicle
from saidspec.report.due_values import Due
from saidspec.report.lines import FlagLine, flag_line, line, lines
from saidspec.report.log import system_name
from saidspec.report.parts import same_place, without_places
from saidspec.report.prep_needs import Shelf, needed
from saidspec.report.prep_rows import compared, rows_of, with_musts
from saidspec.report.prep_values import JobKnowledge, Prep, Table
from saidspec.report.topic import Topic, topic
from saidspec.report.wording import distance, phrase

TABLES: tuple[tuple[str, Kind], ...] = (
    ("Sizes", "size"), ("Torques, in order of need", "torque"), ("Quantities", "volume"), ("Parts", "part_number"),
    ("Fluids", "fluid"), ("Measurements and limits", "measurement"),
)  # fmt: skip
MOST_INSTEAD = 12  # parts that are named where nothing is known of what was asked for


def prep(
    about: VehicleEntry, job: str, entries: Sequence[Entry], specifications: Sequence[Specification],
    found: tuple[Sequence[FlagEntry], Mapping[int, str]], shelf: Shelf, known: JobKnowledge | None, day: date,
) -> Prep:  # fmt: skip
    """The sheet for a `job` on the vehicle `about`.  `entries` are all of the vehicle in order of time.

    `found` are its flags, and the specification that each fact agreed with; `shelf` gives the stock of all vehicles of
    the things that it is asked for by name or part number.
    """
    what = topic(job, known, entries)
    specs = [spec for spec in specifications if what.holds(spec.component)]
    agreed = tuple(f"{spec.component}: " for spec in specs)  # what agreed with a value of the job belongs to it
    own = [entry for entry in entries if not entry.rejected
           and (what.has(entry) or found[1].get(entry.fact.id, "").startswith(agreed))]  # fmt: skip
    worked = [entry.day for entry in own if entry.fact.kind == "operation" and entry.stands and entry.day]
    last_day = max(worked, default=None)
    last = [entry for entry in own if entry.day == last_day] if last_day else []
    musts = known.musts if known else ()
    sheet = ([spec for spec in specifications if same_place(spec.component, job)], specs)
    outcome = compared(found[1], found[0])
    values = [(title, with_musts(kind, rows_of(kind, own, sheet, last_day, outcome), musts)) for title, kind in TABLES]
    tables = tuple(Table(title, rows) for title, rows in values if rows)
    due, _ = due_of_vehicle(about.name, entries, specifications, about.vehicle.odometer_unit, day)
    return Prep(
        title=f"Preparation: {job}", vehicle=about.name, about=job, job=known.name if known else "",
        day=day, last_day=last_day,
        odometer=_odometer(last), cautions=known.cautions if known else (), steps=_steps(last), tables=tables,
        needed=needed(own, last, specs, shelf),
        findings=lines(once([entry for entry in last if entry.stands and _tells(entry)])),
        to_do=_to_do(due, what, own), flags=_open_flags(found[0], what, own, tables),
        unconfirmed=sum(row.trust == "unconfirmed" for table in tables for row in table.rows),
        instead=() if own or specs else _instead(entries, specifications),
    )  # fmt: skip


def _instead(entries: Iterable[Entry], specifications: Iterable[Specification]) -> tuple[str, ...]:
    """What a sheet can be asked for where nothing is known of a job: systems worked on, and parts of the sheet."""
    systems = {system_name(entry.system) for entry in entries if entry.system != "other"}
    parts = dict.fromkeys(without_places(spec.component) for spec in specifications)
    return (*sorted(systems), *list(parts)[:MOST_INSTEAD])


def _to_do(due: Iterable[Due], what: Topic, own: Iterable[Entry]) -> tuple[Due, ...]:
    """What is due of the job's parts, and what was left to do on it."""
    ids = {entry.fact.id for entry in own}
    return tuple(item for item in due if item.status != "looks done" and (
        item.fact in ids if item.basis == "follow-up" else what.holds(item.component)))  # fmt: skip


def _open_flags(
    flags: Iterable[FlagEntry], what: Topic, own: Iterable[Entry], tables: Iterable[Table],
) -> tuple[FlagLine, ...]:  # fmt: skip
    """The flags that nobody accepted, without those on values that were said again since and are right now."""
    ids = {entry.fact.id for entry in own}
    put_right = {fact for table in tables for row in table.rows if row.last and not row.differs for fact in row.before}
    told = [flag_line(flag) for flag in flags if flag.flag.fact in ids or what.holds(flag.flag.component)]
    return tuple(flag for flag in told if not flag.accepted and flag.fact not in put_right)


def _tells(entry: Entry) -> bool:
    """Whether a finding of the last time is worth knowing before the next one; what was well is not."""
    fact = entry.fact
    return fact.kind in ("trouble_code", "duration") or (fact.kind == "observation" and fact.role != "ok")


def once(entries: Iterable[Entry]) -> list[Entry]:
    """Of entries that say the same of the same part the first."""
    told = {(entry.fact.component, entry.fact.finding, phrase(entry.fact)): entry for entry in reversed(list(entries))}
    return list(reversed(told.values()))


def _steps(last: Sequence[Entry]) -> tuple[str, ...]:
    """What was done the last time, in its order, each step once."""
    done = (line(entry).text for entry in last if entry.fact.kind == "operation" and entry.stands)
    return tuple(dict.fromkeys(done))


def _odometer(last: Sequence[Entry]) -> str:
    told = next((entry for entry in last if entry.odometer is not None), None)
    if told is None or told.odometer is None or not told.odometer_unit:
        return ""
    return distance(told.odometer, told.odometer_unit)
