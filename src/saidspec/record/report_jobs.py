"""Entries, flags and unclaimed numbers put together as jobs."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from saidspec.model import Unclaimed
from saidspec.record.entries import Entry, FlagEntry, JobEntries


@dataclass(frozen=True, slots=True)
class Loose:
    """A number that no rule understood, with its note."""

    note_id: int
    note: str
    day: date | None
    vehicle: str
    number: Unclaimed


def jobs_of(entries: Iterable[Entry], flags: Iterable[FlagEntry], loose: Iterable[Loose]) -> list[JobEntries]:
    """The jobs that entries belong to, in order of their first entry, each with its flags and unclaimed numbers.

    What belongs to no job of the record is one of its own for each vehicle and day.
    """
    together: dict[Any, list[Entry]] = defaultdict(list)
    for entry in entries:
        together[entry.job if entry.job is not None else (entry.vehicle, entry.day)].append(entry)
    return with_loose(with_flags([_job(some) for some in together.values()], flags), loose)


def _job(entries: Sequence[Entry]) -> JobEntries:
    first = entries[0]
    return JobEntries(first.job, first.vehicle, first.system, first.day, first.odometer, first.odometer_unit,
                      tuple(entries))  # fmt: skip


def with_flags(told: Sequence[JobEntries], found: Iterable[FlagEntry]) -> list[JobEntries]:
    """Each flag with the job of its fact, else its own, else the last one of its note, else of its vehicle.

    A flag whose job (or note) is known but is not among those told belongs to none of them: it is of another time.
    """
    places: dict[Any, int] = {}
    for position, job in enumerate(told):
        places |= {("vehicle", job.vehicle): position}
        places |= {key: position for entry in job.entries for key in (("fact", entry.fact.id), ("note", entry.note))}
        places |= {("job", job.id): position} if job.id is not None else {}
    placed: dict[int, list[FlagEntry]] = defaultdict(list)
    for flag in found:
        own = (("job", flag.job), ("note", flag.note), ("vehicle", flag.vehicle))
        known = next((key for key in own if key[1] is not None), None)
        at = places.get(("fact", flag.flag.fact), places.get(known))
        if at is not None:
            placed[at].append(flag)
    return [replace(job, flags=tuple(placed[position])) for position, job in enumerate(told)]


def with_loose(told: Sequence[JobEntries], loose: Iterable[Loose]) -> list[JobEntries]:
    """Each unclaimed number with the job talked of last before it; a note without facts is a job of its own."""
    starts: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for position, job in enumerate(told):
        for entry in job.entries:
            starts[entry.note_id].append((entry.fact.provenance.start, position))
    for facts in starts.values():
        facts.sort()
    placed: dict[int, list[tuple[str, Unclaimed]]] = defaultdict(list)
    alone: dict[int, JobEntries] = {}
    for number in loose:
        if facts := starts.get(number.note_id, []):
            at = facts[max(bisect_right(facts, (number.number.start, len(told))) - 1, 0)][1]
            placed[at].append((number.note, number.number))
            continue
        before = alone.get(number.note_id, JobEntries(None, number.vehicle, "other", number.day))
        alone[number.note_id] = replace(before, unclaimed=(*before.unclaimed, (number.note, number.number)))
    return [replace(job, unclaimed=tuple(placed[at])) for at, job in enumerate(told)] + list(alone.values())
