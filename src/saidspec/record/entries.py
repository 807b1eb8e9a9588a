"""The values that the record hands to the reports: facts as they stand after review, with where they come from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from saidspec.model import Fact, Flag, Unclaimed

Verdict = Literal["confirmed", "corrected", "rejected", "accepted"]


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided about a fact or a flag, when, and why."""

    verdict: Verdict
    when: datetime | None = None
    who: str | None = None
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """A fact of the record.  `fact` is what stands (a correction applied), `heard` what the words alone gave.

    `date` is the day of the job, or of the note where the job has none.  `odometer` is the reading said on that day
    for that vehicle, in `odometer_unit`, never an estimate.  `context` is the text of the utterances that hold the
    quote; it starts at the character `context_start` of the note.
    """

    key: str
    fact: Fact
    vehicle: str
    note: str
    note_id: int
    job: int | None = None
    date: date | None = None
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
    def stands(self) -> bool:
        """Whether it is true of the work: stated, and not rejected on review."""
        return self.fact.assertion == "stated" and not self.rejected


@dataclass(frozen=True, slots=True)
class FlagEntry:
    """A flag of the record, the entry it is about, and what a person decided about it."""

    key: str
    flag: Flag
    vehicle: str
    entry: str | None = None  # key of the entry
    job: int | None = None
    decision: Decision | None = None

    @property
    def accepted(self) -> bool:
        """Whether a person looked at it and let it stand, with a reason."""
        return self.decision is not None and self.decision.verdict == "accepted"


@dataclass(frozen=True, slots=True)
class JobEntries:
    """A job: the work on one system of one vehicle on one day, with all that was said of it, in order."""

    id: int | None
    vehicle: str
    title: str
    date: date | None
    notes: tuple[str, ...]
    entries: tuple[Entry, ...]
    flags: tuple[FlagEntry, ...] = ()
    unclaimed: tuple[tuple[str, Unclaimed], ...] = ()  # name of the note, number that no rule understood
