"""What the commands of the reports have in common: their options, and where their text goes."""

from __future__ import annotations

import sys
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from saidspec.cli.options import DAY, a_day
from saidspec.model import UnusableInput

if TYPE_CHECKING:
    import sqlite3

    from saidspec.record.entries import VehicleEntry


class Form(StrEnum):
    """The formats of a report."""

    text = "text"
    markdown = "markdown"
    html = "html"
    json = "json"


RecordOption = Annotated[
    Path | None, typer.Option("--record", help="The record; else SAIDSPEC_RECORD, else your data folder."),
]  # fmt: skip
VehicleOption = Annotated[str | None, typer.Option("--vehicle", help="Only this vehicle: its name, or a part of it.")]
OneVehicleOption = Annotated[str | None, typer.Option(
    "--vehicle", help="The vehicle: its name, or a part of it; the only one where left out.")]
FormOption = Annotated[Form, typer.Option("--format", help="How to write it.")]
OutputOption = Annotated[Path | None, typer.Option("--output", "-o", help="Write to this file instead of the screen.")]
TodayOption = Annotated[
    datetime | None,
    typer.Option("--today", parser=a_day, metavar=DAY, help="The day to count from, else today.", show_default=False),
]


def opened(record: Path | None) -> sqlite3.Connection:
    """The record, to be read.  Raises UnusableInput where there is none."""
    from saidspec.record.place import open_to_read, record_path

    return open_to_read(record_path(record))


def chosen(conn: sqlite3.Connection, name: str | None) -> VehicleEntry | None:
    """The vehicle that the option names, None for all.  Raises UnusableInput where the record has none like it."""
    from saidspec.record.report_queries import vehicle_named

    return vehicle_named(conn, name) if name else None


def one_of_them(conn: sqlite3.Connection, name: str | None) -> VehicleEntry:
    """The vehicle that the option names, or the only one of the record.  Raises UnusableInput that asks which."""
    from saidspec.record.report_queries import vehicle_named, vehicles

    if name:
        return vehicle_named(conn, name)
    known = vehicles(conn)
    if len(known) == 1:
        return known[0]
    if not known:
        raise UnusableInput('the record has no vehicle yet: add one with `saidspec vehicle add "NAME"`')
    raise UnusableInput(f"which vehicle? Name one with --vehicle: {', '.join(one.name for one in known)}")


def day_of(told: datetime | None) -> date:
    """The day given by an option, else today."""
    return told.date() if told else date.today()


def put(content: str | bytes, output: Path | None) -> None:
    """Write a report to its file or to the screen.  Raises UnusableInput where the file cannot be written."""
    data = content.encode() if isinstance(content, str) else content
    if output is None:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        return
    try:
        output.write_bytes(data)
    except OSError as error:
        raise UnusableInput(f"cannot write {output}: {error.strerror}; name another file with --output") from error
    print(f"written: {output}", file=sys.stderr)


def plots_of(some: Any) -> dict[int, str]:
    """The plots of trends inside HTML, by position; a word on standard error where they cannot be drawn."""
    from saidspec.report.plot import available, inline_pictures

    if some and not available():
        print("no plots: they need matplotlib (the extra `plot`); the tables hold the same values", file=sys.stderr)
    return inline_pictures(some)


def report(name: str, value: Any, form: Form, output: Path | None, **more: Any) -> None:
    """Render a report and put it where it goes."""
    from saidspec.report.render import rendered

    put(rendered(name, value, form.value, **more), output)
