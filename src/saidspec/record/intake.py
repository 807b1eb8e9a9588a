"""Notes from files into the record, one after another; a file that cannot be read does not keep out the others."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from saidspec.model import Note, Problem, UnusableInput
from saidspec.record.components import components
from saidspec.record.store import Ingested, day_known, ingest

if TYPE_CHECKING:
    from saidspec.sources.transcription import Listening

STANDARD_INPUT = "-"
SHEETS = (".toml", ".csv")  # in a folder these are reference sheets and tables, no notes


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of one file: `done` and the note's day and problems, or else `error`, one line."""

    name: str
    done: Ingested | None = None
    day: date | None = None
    problems: tuple[Problem, ...] = ()
    error: str | None = None
    text: str = ""


def files_of(paths: Iterable[Path]) -> list[Path]:
    """The files meant: each file named, and all files in the folders named and in theirs, in order of name.

    Left out of folders: hidden files, and sheets and tables (SHEETS), which hold no notes.
    """
    told: dict[Path, None] = {}
    for path in paths:
        if not path.is_dir():
            told[path] = None
            continue
        for file in sorted(path.rglob("*")):
            hidden = any(part.startswith(".") for part in file.relative_to(path).parts)
            if file.is_file() and not hidden and file.suffix.lower() not in SHEETS:
                told[file] = None
    return list(told)


def take_file(
    conn: sqlite3.Connection, path: Path, *, day: date | None = None, vehicle: int | None = None,
    listening: Listening | None = None,
) -> Taken:  # fmt: skip
    """Read one file and store what it says; `listening` says how a recording is heard."""
    from saidspec.sources.read import read_note

    try:
        return _take(conn, read_note(path, day=day, listening=listening), str(path), str(path.resolve()), day, vehicle)
    except UnusableInput as error:
        return Taken(str(path), error=str(error))


def take_bytes(conn: sqlite3.Connection, data: bytes, *, day: date | None = None, vehicle: int | None = None) -> Taken:
    """Read a note from standard input and store what it says."""
    from saidspec.sources.read import read_text

    try:
        return _take(conn, read_text(data, STANDARD_INPUT, day=day), STANDARD_INPUT, None, day, vehicle)
    except UnusableInput as error:
        return Taken(STANDARD_INPUT, error=str(error))


def _take(
    conn: sqlite3.Connection, note: Note, name: str, place: str | None, day: date | None, vehicle: int | None,
) -> Taken:  # fmt: skip
    from saidspec.pipeline import read

    day = day or note.date or day_known(conn, note, place)  # relative days count from it: given once, it stays
    reading = read(note, day)
    done = ingest(conn, reading, place=place, vehicle=vehicle, candidates=components().systems_of)
    problems = tuple(dict.fromkeys((*note.problems, *reading.problems)))
    return Taken(name, done, day, problems, text=note.text)


def line_of(text: str, at: int | None) -> int | None:
    """The number of the line, from 1, that holds a character of the text."""
    return None if at is None else text.count("\n", 0, at) + 1
