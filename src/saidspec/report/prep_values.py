"""The values of a preparation sheet: what one needs before the next job of a kind."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from saidspec.model import Kind
from saidspec.report.due_values import Due
from saidspec.report.lines import FlagLine, Line, Words

Trust = Literal["confirmed", "unconfirmed", "reference", "nothing"]


@dataclass(frozen=True, slots=True)
class Must:
    """A value that must be known for a job, of the part or of another that may stand for it, and why."""

    what: str
    or_what: str | None
    kind: Kind
    why: str


@dataclass(frozen=True, slots=True)
class JobKnowledge:
    """What is known of a kind of job in general: cautions, parts beside those of its system, what must be known."""

    name: str
    of: tuple[str, ...] = ()  # what the job is about where its name says it otherwise
    cautions: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    musts: tuple[Must, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """One value that is needed: what the reference says, what was said the last time, and whether they agree.

    `trust` is "reference" where the sheet has it, else "confirmed" or "unconfirmed" for what only the record has, and
    "nothing" where the job needs it and neither has.
    """

    component: str
    reference: str
    source: str
    last: str
    when: date | None
    trust: Trust
    differs: bool = False
    words: Words | None = None
    marks: tuple[str, ...] = ()
    fact: int | None = None
    before: tuple[int, ...] = ()  # what was said of it before
    quoted: bool = False  # nothing but a quotation stands behind it


@dataclass(frozen=True, slots=True)
class Needed:
    """A fluid, part or material that the job needs, what is on hand, and what to buy."""

    name: str
    need: str
    on_hand: str
    buy: str
    basis: str


@dataclass(frozen=True, slots=True)
class Table:
    """The rows of one kind of value."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Prep:
    """The preparation sheet of a job on a vehicle, as of a day."""

    title: str
    vehicle: str
    about: str
    job: str  # the jobs of the job files that it was taken to be
    day: date
    last_day: date | None
    odometer: str
    cautions: tuple[str, ...]
    steps: tuple[str, ...]
    tables: tuple[Table, ...]
    needed: tuple[Needed, ...]
    findings: tuple[Line, ...]
    to_do: tuple[Due, ...]
    flags: tuple[FlagLine, ...]
    unconfirmed: int
    instead: tuple[str, ...] = ()  # what there is to ask for where nothing is known of this

    @property
    def print_size(self) -> str:
        """The size of print in points at which the sheet fits one page of A4; smaller than 6 points nobody reads."""
        rows = sum(2 + sum(2.7 + 1.3 * len(row.marks) for row in table.rows) for table in self.tables)
        lists = (self.cautions, self.flags, self.steps, self.findings, self.to_do, self.needed)
        texts = 2.3 * len(self.cautions) + 5.5 * len(self.flags) + 3.2 * len(self.needed)
        told = len(self.steps) + 1.3 * len(self.findings) + 1.6 * len(self.to_do)
        lines = 6 + rows + 2 * sum(map(bool, lists)) + texts + told
        # Two columns of A4 hold about 110 such lines at 9 points; smaller print makes lines both shorter and more.
        return f"{max(min(9.0, 9.0 * (110 / lines) ** 0.62), 6.0):.1f}"
