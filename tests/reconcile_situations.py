"""Situations of tests/data/situations: a note in words, a sheet, and what must be flagged."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from saidspec.model import Agreement, Flag, Reading, Sheet
from saidspec.pipeline import read
from saidspec.reconcile.run import reconcile
from saidspec.sources.read import read_text
from tests.reconcile_notes import sheet

FOLDER = Path(__file__).parent / "data/situations"


@dataclass(frozen=True)
class Situation:
    """One entry of a file of situations; the fields are told at the head of each file."""

    name: str
    trade: str
    note: str
    sheet: tuple[str, ...]
    vehicle: str = ""
    date: str = "2026-05-03"
    flags: tuple[str, ...] = ()
    agrees: tuple[str, ...] = ()
    known: str = ""

    def specs(self) -> Sheet:
        """The sheet, through the reader of sheets."""
        return sheet(*(entry_fields(entry) for entry in self.sheet), vehicle=self.vehicle)

    @cache  # noqa: B019 - a situation lives as long as the tests do
    def reading(self) -> Reading:
        """The note as read from its words."""
        day = date.fromisoformat(self.date)
        return read(read_text(self.note.encode(), "note.txt", day=day), day)

    def against(self, specs: Sheet) -> tuple[tuple[Flag, ...], tuple[Agreement, ...]]:
        """The flags and agreements of the note with a sheet."""
        return reconcile(self.reading(), specs)[:2]

    @cache  # noqa: B019
    def outcome(self) -> tuple[tuple[Flag, ...], tuple[Agreement, ...]]:
        """The flags and agreements of the note with its own sheet."""
        return self.against(self.specs())

    def unlike(self) -> list[str]:
        """What is not as it must be, in words."""
        flags, agreements = self.outcome()
        left, told = list(flags), []
        for wanted in self.flags:
            fitting = next((flag for flag in left if fits(wanted, flag)), None)
            if fitting is None:
                told.append(f"not flagged: {wanted}")
            else:
                left.remove(fitting)
        told += [f"flagged without reason: {flag.check}: {flag.message}" for flag in left]
        return told + [f"no agreement: {wanted}" for wanted in self.agrees
                       if not any(agrees(wanted, one) for one in agreements)]


def entry_fields(entry: str) -> dict[str, str]:
    """The fields of a sheet's entry written as "component | kind | value | field = …"."""
    component, kind, value, *more = (part.strip() for part in entry.split("|"))
    further = dict(map(str.strip, part.split("=", 1)) for part in more)
    if "replaces" in further:
        further["replaces"] = f'["{further["replaces"]}"]'
    return {"component": component, "kind": kind, "value": value} | further


def fits(wanted: str, flag: Flag) -> bool:
    """Whether a flag is the one that "check kind word likely" means."""
    check, kind, word, likely = wanted.split()
    return (flag.check == check and flag.kind == kind and (word == "-" or word in (flag.component or ""))
            and (likely == "*" or (flag.likely or "-") == likely))


def agrees(wanted: str, one: Agreement) -> bool:
    """Whether an agreement is the one that "kind word" means."""
    kind, word = wanted.split()
    return one.kind == kind and word in one.component


def situations() -> list[Situation]:
    """All situations of the folder."""
    return [made(entry) for path in sorted(FOLDER.glob("*.toml")) for entry in tomllib.loads(path.read_text())["case"]]


def made(entry: dict[str, Any]) -> Situation:
    """A situation of its table; lists become tuples."""
    return Situation(**{name: tuple(value) if isinstance(value, list) else value for name, value in entry.items()})
