"""`saidspec ingest`: notes into the record."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from saidspec.cli.main import app
from saidspec.cli.options import FormatOption, SpokenOption, WordsOption, check_format, counted, use_words
from saidspec.cli.reporting import RecordOption

if TYPE_CHECKING:
    import sqlite3
    from collections.abc import Callable

    from saidspec.record.entries import FlagEntry
    from saidspec.record.intake import Taken

MANY = 12  # files from which on a terminal gets a progress bar
ASKED = 5  # notes of unknown vehicle that are asked about one by one


@app.command("ingest")
def ingest_command(
    paths: Annotated[list[Path], typer.Argument(help="Files and folders; - for standard input.", allow_dash=True)],
    vehicle: Annotated[str | None, typer.Option(
        "--vehicle", envvar="SAIDSPEC_VEHICLE", help="The vehicle that the notes are about.")] = None,
    day: SpokenOption = None,
    model: Annotated[Path | None, typer.Option(
        "--speech-model", help="Folder of the speech model, for recordings.")] = None,
    words: WordsOption = None,
    form: FormatOption = "text",
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Read notes and put what they say into the record.

    Ingesting a note again changes nothing, and ingesting it after an edit changes that note alone.  What it says is
    compared with the vehicle's sheet.  A note of which the vehicle is not known is kept, and you are asked.
    Exit status 2 when a file could not be read or a vehicle is asked.

    Example: saidspec ingest notes/ --vehicle "Hallam Drover" --date 2026-05-03
    """
    from saidspec.model import UnusableInput
    from saidspec.record.intake import files_of
    from saidspec.record.place import open_record, record_path
    from saidspec.record.vehicles import vehicle_id

    check_format(form, "ingest")
    use_words(words)
    files = files_of(paths)
    if not files:
        raise UnusableInput(f"there are no notes in {', '.join(map(str, paths))}")
    conn = open_record(record_path(record))
    about = vehicle_id(conn, vehicle) if vehicle else None
    told = _taken(conn, files, day, about, model, show=form == "text")
    flags = _compared(conn, told)
    if form == "json":
        _print_json(conn, told, flags)
    else:
        print("".join(f"{line}\n" for line in _flag_lines(told, flags)), end="")
    questions = _questions(conn, told)
    for line in questions:
        print(f"saidspec: {line}", file=sys.stderr)
    if questions or any(one.error for one in told):
        raise typer.Exit(2)


def _taken(
    conn: sqlite3.Connection, files: list[Path], day: datetime | None, vehicle: int | None, model: Path | None, *,
    show: bool,
) -> list[Taken]:  # fmt: skip
    from saidspec.record.intake import STANDARD_INPUT, take_bytes, take_file
    from saidspec.sources.read import AUDIO_SUFFIXES

    told: list[Taken] = []
    names = _vehicle_names(conn)
    spoken = day.date() if day else None
    recordings = {path for path in files if path.suffix.lower() in AUDIO_SUFFIXES}
    with _progress(0 if recordings else len(files)) as step:  # a recording shows a bar of its own
        for path in files:
            if str(path) == STANDARD_INPUT:
                one = take_bytes(conn, sys.stdin.buffer.read(), day=spoken, vehicle=vehicle)
            elif path in recordings:
                one = _heard(conn, path, spoken, vehicle, model)
            else:
                one = take_file(conn, path, day=spoken, vehicle=vehicle)
            told.append(one)
            if one.error:
                print(f"saidspec: {one.error}", file=sys.stderr)
            elif show:
                print("\n".join(_lines(conn, one, names)))
            step()
    if show and len(told) > 1:
        print(_summary(told))
    return told


def _heard(conn: sqlite3.Connection, path: Path, day: date | None, vehicle: int | None, model: Path | None) -> Taken:
    from saidspec.cli.hearing import hearing, stoppable
    from saidspec.record.intake import take_file
    from saidspec.sources.transcription import Listening

    with hearing(path.name) as progress, stoppable():
        return take_file(conn, path, day=day, vehicle=vehicle, listening=Listening(model, progress=progress))


@contextmanager
def _progress(count: int) -> Iterator[Callable[[], None]]:
    """A progress bar on standard error where there are many files and it is a terminal."""
    if count < MANY or not sys.stderr.isatty():
        yield lambda: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True, redirect_stdout=sys.stdout.isatty()) as bar:
        task = bar.add_task("reading notes", total=count)
        yield lambda: bar.advance(task)


def _lines(conn: sqlite3.Connection, one: Taken, names: dict[int, str]) -> list[str]:
    """What became of a file: one line, and a line for each problem."""
    from saidspec.record.intake import line_of

    done = one.done
    assert done is not None
    told = f"{one.name}: {done.outcome}, {counted(done.facts, 'fact')}"
    if done.outcome == "superseded":
        return [f"{told}; a newer text of this note is in the record and stays"]
    about = [names.get(row[0], "vehicle not known") for row in conn.execute(
        "SELECT DISTINCT vehicle FROM utterances WHERE note = ? ORDER BY vehicle IS NULL, vehicle", (done.note,))]
    lines = [", ".join([told, *about, one.day.isoformat() if one.day else "day not known: give it with --date"])]
    for problem in one.problems if done.outcome != "unchanged" else ():  # they were told when it was taken
        at = line_of(one.text, problem.start)
        placed = at is None or problem.message.startswith("line ")
        lines.append(f"  {problem.message if placed else f'line {at}: {problem.message}'}")
    return lines


def _summary(told: list[Taken]) -> str:
    done = [one.done for one in told if one.done]
    parts = [f"{count} {name}" for name in ("new", "changed", "unchanged", "superseded")
             if (count := sum(one.outcome == name for one in done))]  # fmt: skip
    if bad := sum(one.error is not None for one in told):
        parts.append(f"{bad} not read")
    return f"{counted(len(told), 'file')}: {', '.join(parts)}; {counted(sum(one.facts for one in done), 'fact')}"


def _questions(conn: sqlite3.Connection, told: list[Taken]) -> list[str]:
    """A line for each note of which it is not known which vehicle it is about."""
    names = _vehicle_names(conn)
    those = [one for one in told if one.done and one.done.vehicle_unknown and one.done.outcome != "superseded"]
    if len(those) > ASKED:
        return [f"of {len(those)} notes the vehicle is not known: `saidspec vehicle unknown` lists them,"
                " `saidspec vehicle assign NOTE... --to VEHICLE` tells it"]  # fmt: skip
    lines = []
    for one in those:
        assert one.done is not None
        named = [names[vehicle] for vehicle in one.done.named]
        part = "" if one.done.vehicle_unknown == _utterances(conn, one.done.note) else "parts of "
        several = f" (it names {', '.join(named)})" if named else ""
        lines.append(f"which vehicle is {part}{one.name} about{several}? "
                     f"Tell it with: saidspec vehicle assign {one.done.note} --to VEHICLE")  # fmt: skip
    if lines and not names:
        lines.append('no vehicle is known yet: saidspec vehicle add "NAME"')
    return lines


def _compared(conn: sqlite3.Connection, told: list[Taken]) -> dict[int, list[FlagEntry]]:
    """Compare what was taken with the vehicles' sheets; the open flags of each note."""
    from saidspec.report.keeping import open_flags, renew_flags

    notes = [one.done.note for one in told if one.done and one.done.outcome in ("new", "changed")]
    renew_flags(conn, notes)
    return {note: found for note in notes if (found := open_flags(conn, [note]))}


def _flag_lines(told: list[Taken], flags: dict[int, list[FlagEntry]]) -> list[str]:
    """What is flagged in the notes that were taken, a line for each up to a few, else one for all."""
    from saidspec.report.keeping import counted_flags

    if len(flags) > ASKED:
        every = [flag for some in flags.values() for flag in some]
        return [f"flagged: {counted_flags(every)} in {len(flags)} notes; `saidspec reconcile` shows them"]
    names = {one.done.note: one.name for one in told if one.done}
    return [f"flagged in {names[note]}: {counted_flags(some)}; `saidspec reconcile` shows them"
            for note, some in flags.items()]


def _utterances(conn: sqlite3.Connection, note: int) -> int:
    return int(conn.execute("SELECT count(*) FROM utterances WHERE note = ?", (note,)).fetchone()[0])


def _vehicle_names(conn: sqlite3.Connection) -> dict[int, str]:
    return {row[0]: row[1] for row in conn.execute("SELECT id, name FROM vehicles")}


def _print_json(conn: sqlite3.Connection, told: list[Taken], flags: dict[int, list[FlagEntry]]) -> None:
    import json

    from saidspec.reconcile.output import flag_object

    names = _vehicle_names(conn)
    notes: list[dict[str, Any]] = []
    for one in told:
        note: dict[str, Any] = {"source": one.name, "error": one.error}
        if done := one.done:
            note |= {"note": done.note, "outcome": done.outcome, "facts": done.facts,
                     "date": one.day.isoformat() if one.day else None, "vehicle_unknown": done.vehicle_unknown,
                     "flags": [flag_object(one.flag) for one in flags.get(done.note, ())],
                     "named": [names[vehicle] for vehicle in done.named],
                     "problems": [{"message": problem.message, "start": problem.start, "end": problem.end}
                                  for problem in one.problems]}  # fmt: skip
        notes.append(note)
    print(json.dumps({"schema": "saidspec/ingested-1", "notes": notes}, indent=1, ensure_ascii=False))
