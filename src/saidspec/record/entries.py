"""The values that the record hands to the reports: facts as they stand after review, with where they come from."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from saidspec.model import Fact, Flag, Unclaimed, Vehicle

Verdict = Literal["confirmed", "corrected", "rejected", "done", "accepted", "left"]


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided about a fact or a flag, when (ISO 8601, UTC), and why; `done_on`: the day it was done."""

    verdict: Verdict
    when: str = ""
    who: str | None = None
    reason: str | None = None
    done_on: date | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """A fact of the record: `fact` is what stands (a correction applied), `heard` what the words alone gave.

    `fact.id` and `fact.replaced_by` are ids of the record.  `day` is that of the job, else of the note.  `odometer`
    (in `odometer_unit`) is the reading said for the job, never an estimate.  `context` is the utterance that holds the
    quote; it starts at the character `context_start` of the note.
    """

    fact: Fact
    vehicle: str
    note: str
    note_id: int = 0
    job: int | None = None
    system: str = "other"
    day: date | None = None
    odometer: Decimal | None = None
    odometer_unit: str | None = None
    context: str = ""
    context_start: int = 0
    speaker: str | None = None
    decision: Decision | None = None
    heard: Fact | None = None

    @property
    def rejected(self) -> bool:
        """Whether a person said that this is no fact."""
        return self.decision is not None and self.decision.verdict == "rejected"

    @property
    def done(self) -> bool:
        """Whether a person said that this follow-up is done."""
        return self.decision is not None and self.decision.verdict == "done"

    @property
    def stands(self) -> bool:
        """Whether it is true of the work: stated, and not rejected on review."""
        return self.fact.assertion == "stated" and not self.rejected

    @property
    def reviewed(self) -> bool:
        """Whether a person confirmed or corrected it."""
        return self.decision is not None and self.decision.verdict in ("confirmed", "corrected", "done")


def by_note(entries: Iterable[Entry]) -> dict[int, list[Entry]]:
    """The entries of each note by the note's id, in the order given."""
    told: dict[int, list[Entry]] = defaultdict(list)
    for entry in entries:
        told[entry.note_id].append(entry)
    return told


@dataclass(frozen=True, slots=True)
class FlagEntry:
    """A flag of the record (`flag.fact` is an id of the record), and what a person decided about it."""

    key: str
    flag: Flag
    vehicle: str
    note: str | None = None
    job: int | None = None
    decision: Decision | None = None

    @property
    def accepted(self) -> bool:
        """Whether a person looked at it and let it stand."""
        return self.decision is not None and self.decision.verdict == "accepted"


@dataclass(frozen=True, slots=True)
class JobEntries:
    """A job: the work on one system of one vehicle on one day, with all that was said of it, in order.

    `unclaimed` are the numbers that no rule understood, each with the name of its note.
    """

    id: int | None
    vehicle: str
    system: str
    day: date | None
    odometer: Decimal | None = None
    odometer_unit: str | None = None
    entries: tuple[Entry, ...] = ()
    flags: tuple[FlagEntry, ...] = ()
    unclaimed: tuple[tuple[str, Unclaimed], ...] = ()


@dataclass(frozen=True, slots=True)
class VehicleEntry:
    """A vehicle of the record."""

    id: int
    vehicle: Vehicle

    @property
    def name(self) -> str:
        """Its name."""
        return self.vehicle.name
