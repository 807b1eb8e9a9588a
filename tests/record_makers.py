"""Readings made by hand, for tests of the record: notes of an invented workshop, and facts at the words they quote."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from saidspec.model import Fact, Note, Problem, Provenance, Reading, Source, Unclaimed, Utterance

SYSTEMS = {"caliper": "brakes", "brake": "brakes", "drain plug": "engine", "oil": "engine", "fork": "suspension"}


def systems_of(fact: Fact) -> set[str]:
    """A few systems by the words of the component."""
    return {system for word, system in SYSTEMS.items() if word in (fact.component or "")}


def note_of(text: str, *, name: str = "note.txt", day: date | None = date(2026, 5, 3), **changes: Any) -> Note:
    """A note with an utterance a line; a line that starts with # marks is a heading."""
    said, start = [], 0
    for line in text.splitlines(keepends=True):
        level = len(line) - len(line.lstrip("#"))
        words = line.strip("# \n")
        if words:
            at = start + line.index(words)
            said.append(Utterance(at, at + len(words), heading=level))
        start += len(line)
    source = Source(name, hashlib.sha256(text.encode()).hexdigest(), "text")
    return Note(source, text, tuple(said), date=day, **changes)


def fact_of(text: str, number: int, kind: Any, quote: str, *, nth: int = 0, **fields: Any) -> Fact:
    """A fact at the nth place where the text has the quote."""
    start = -1
    for _ in range(nth + 1):
        start = text.index(quote, start + 1)
    for name in ("value", "value_high", "angle"):
        if fields.get(name) is not None:
            fields[name] = Decimal(str(fields[name]))
    words = Provenance(quote, start, start + len(quote), time=fields.pop("time", None), rule=fields.pop("rule", "test"))
    return Fact(number, kind, words, **fields)


def reading_of(
    note: Note, facts: Sequence[Fact] = (), unclaimed: Sequence[Unclaimed] = (), problems: Sequence[Problem] = (),
) -> Reading:  # fmt: skip
    """What was read from a note."""
    return Reading(note, tuple(facts), tuple(unclaimed), tuple(problems))


BRAKES = """Front brakes on the Hallam Drover, 94200 kilometres.
Caliper bracket bolts done up to 107 newton metres, both of them.
Slide pins cleaned and greased, no wait, the pin bolts got 31, scratch that, 35.
Left pad four millimetres left.
Order new pads by Saturday.
"""


def brakes(text: str = BRAKES, name: str = "front-brakes.txt") -> Reading:
    """A note on front brakes with nine facts, two of them on the same words, one taken back."""
    note = note_of(text, name=name)
    facts = [
        fact_of(text, 1, "odometer", "94200 kilometres", value=94200, unit="km"),
        fact_of(text, 2, "torque", "107 newton metres", value=107, unit="N*m",
                component="front left caliper bracket bolt"),
        fact_of(text, 3, "torque", "107 newton metres", value=107, unit="N*m",
                component="front right caliper bracket bolt"),
        fact_of(text, 4, "operation", "cleaned", action="clean", component="caliper slide pin"),
        fact_of(text, 5, "torque", "31", value=31, unit="N*m", component="caliper slide pin bolt",
                assertion="retracted", replaced_by=6),
        fact_of(text, 6, "torque", "35", value=35, unit="N*m", component="caliper slide pin bolt"),
        fact_of(text, 7, "measurement", "four millimetres", value=4, unit="mm", role="thickness",
                component="left brake pad"),
        fact_of(text, 8, "follow_up", "Order new pads by Saturday", code="2026-05-09"),
    ]  # fmt: skip
    return reading_of(note, facts)


def all_rows(conn: sqlite3.Connection) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table, those of the full-text indices left out."""
    tables = [row[0] for row in conn.execute(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE '%_fts%' AND name NOT LIKE 'sqlite_%'")]
    return {table: sorted((tuple(row) for row in conn.execute(f"SELECT * FROM {table}")), key=repr) for table in tables}
