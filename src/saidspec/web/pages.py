"""The pages of the review as HTML: the list of notes, and a note with its words, facts, numbers and flags."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from saidspec.model import ACTIONS, ASSERTIONS, Unclaimed
from saidspec.record.entries import Entry, FlagEntry
from saidspec.record.report_queries import entries_of_note, flags
from saidspec.record.review_queries import NoteText, flag_numbers, note_text, notes
from saidspec.reference.units import UNITS
from saidspec.report.lines import FlagLine, Line, flag_line, line
from saidspec.report.passages import begins
from saidspec.report.wording import clock, day_shown
from saidspec.web.marked import Piece, Span, pieces

if TYPE_CHECKING:
    from jinja2 import Environment

A_PAGE = 60  # facts: a transcript of hours is shown in parts
STATES = {"confirmed": "confirmed", "corrected": "corrected", "rejected": "rejected", "done": "done"}


@dataclass(frozen=True, slots=True)
class Card:
    """A fact as it is shown for review."""

    line: Line
    entry: Entry
    state: str


@dataclass(frozen=True, slots=True)
class FlagCard:
    """A flag as it is shown for review; `number` is its id."""

    number: int
    line: FlagLine


@dataclass(frozen=True, slots=True)
class NotePage:
    """One page of a note: a part of its text with its marks, and the facts of that part."""

    note: NoteText
    page: int
    pages: int
    pieces: tuple[Piece, ...]
    cards: tuple[Card, ...]
    flags: tuple[FlagCard, ...]
    loose: tuple[Unclaimed, ...]


@cache
def environment() -> Environment:
    """The templates of the review, on the style sheet of the reports; everything is escaped."""
    from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined

    made = Environment(
        loader=ChoiceLoader([PackageLoader("saidspec.web"), PackageLoader("saidspec.report")]), autoescape=True,
        undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    made.filters |= {"day": day_shown, "clock": clock}
    return made


def list_page(conn: sqlite3.Connection) -> str:
    """The notes of the record, the latest first, with what waits in each."""
    return environment().get_template("notes.html.jinja").render(notes=notes(conn))


def note_page(
    conn: sqlite3.Connection, note: int, page: int, token: str, problem: str = "", about: str = ""
) -> str | None:
    """A page of a note, None where there is no such note.

    `problem` is what was wrong with an answer, `about` the anchor of what it was an answer to.
    """
    text = note_text(conn, note)
    if text is None:
        return None
    made = paged(text, entries_of_note(conn, note), flags(conn, note=note), flag_numbers(conn, note), page)
    return environment().get_template("note.html.jinja").render(
        page=made, token=token, problem=problem, about=about, assertions=ASSERTIONS, actions=ACTIONS,
        units=[unit.name for unit in UNITS])  # fmt: skip


def page_of(conn: sqlite3.Connection, note: int, fact: int) -> int:
    """The page of a note on which a fact stands."""
    parts = chunks(entries_of_note(conn, note))
    return next((number for number, some in enumerate(parts, 1) if any(e.fact.id == fact for e in some)), 1)


def chunks(entries: Sequence[Entry]) -> list[list[Entry]]:
    """Entries in order of their words as pages of about `A_PAGE`, parted between utterances; at least one page."""
    told: list[list[Entry]] = [[]]
    for entry in entries:
        if len(told[-1]) >= A_PAGE and begins(entry) != begins(told[-1][-1]):
            told.append([])
        told[-1].append(entry)
    return told


def paged(
    note: NoteText, entries: Sequence[Entry], found: Sequence[FlagEntry], numbers: dict[str, int], page: int
) -> NotePage:
    """One page of a note.  Each character of the text, fact and unclaimed number stands on one page."""
    parts = chunks(entries)
    page = min(max(page, 1), len(parts))
    some = parts[page - 1]
    start = 0 if page == 1 else begins(some[0])
    end = len(note.text) if page == len(parts) else begins(parts[page][0])
    loose = tuple(number for number in note.unclaimed if start <= number.start < end)
    spans = [Span(e.fact.provenance.start, e.fact.provenance.end, e.fact.id, state(e)) for e in some]
    spans += [Span(number.start, number.end) for number in loose]
    return NotePage(
        note=note, page=page, pages=len(parts), pieces=tuple(pieces(note.text, spans, start, end)),
        cards=tuple(Card(line(entry), entry, state(entry)) for entry in some), loose=loose,
        flags=tuple(FlagCard(numbers[flag.key], flag_line(flag)) for flag in found if flag.key in numbers),
    )  # fmt: skip


def state(entry: Entry) -> str:
    """What a person said of a fact: confirmed, corrected, rejected, done, or open."""
    return STATES.get(entry.decision.verdict, "open") if entry.decision else "open"

