"""`saidspec sheet`: reference sheets are started from what notes quoted, checked, and held against their use."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.options import SpokenOption
from saidspec.cli.reporting import RecordOption, opened

if TYPE_CHECKING:
    from saidspec.model import Fact, Vehicle

sheet_app = typer.Typer(help="Start or check a reference sheet; list what was never used.",
                        no_args_is_help=True)
app.add_typer(sheet_app, name="sheet")


@sheet_app.command("start")
def start(
    notes: Annotated[list[Path] | None, typer.Argument(help="Notes to take the quoted values from.")] = None,
    vehicle: Annotated[str | None, typer.Option(
        "--vehicle", envvar="SAIDSPEC_VEHICLE", help="The vehicle; without notes, its quotes in the record.")] = None,
    out: Annotated[Path | None, typer.Option("--out", help="The sheet to write; else it is printed.")] = None,
    day: SpokenOption = None,
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Start a sheet from what the notes quoted, for you to confirm each value with its source.

    Example: saidspec sheet start front-brakes.txt --vehicle "Hallam Drover" --out drover.toml
    """
    from saidspec.model import UnusableInput, Vehicle
    from saidspec.reference.writing import HEAD, sheet_text, started

    if out is not None and out.exists():
        raise UnusableInput(f"{out} is there already: name a new file, or remove the old one first")
    if notes:
        about, quoted = Vehicle(vehicle or "name of the vehicle"), _quoted_in(notes, day)
    elif vehicle:
        about, quoted = _quoted_of(vehicle, record)
    else:
        raise UnusableInput("nothing to start from: give notes, or --vehicle to take its quotes from the record")
    specs = started(quoted)
    if not specs:
        raise UnusableInput("no value with a part is quoted there (\"the book says 107 for the bracket bolts\"); "
                            "write the sheet by hand as README.md shows")
    text = sheet_text(about, specs, HEAD)
    if out is None:
        print(text, end="")
        return
    out.write_text(text, "utf-8")
    print(f"{out}: {len(specs)} entries to confirm")


@sheet_app.command("validate")
def validate(sheets: Annotated[list[Path], typer.Argument(help="Sheets, TOML or CSV.")]) -> None:
    """Check sheets and list everything that is wrong with them.

    Exit status 0 when nothing is wrong, 2 when something is or a file could not be read.

    Example: saidspec sheet validate drover.toml
    """
    from saidspec.reference.applicability import unknown_options
    from saidspec.reference.sheets import read_sheet
    from saidspec.reference.writing import unconfirmed

    wrong = 0
    for path in sheets:
        sheet, problems = read_sheet(path)
        wrong += len(problems)
        print(f"{path}: {sheet.vehicle.name or 'no vehicle'}, {len(sheet.specifications)} entries read, "
              f"{len(problems)} problems")
        for problem in problems:
            print(f"  {problem}")
        for spec in unconfirmed(sheet.specifications):
            print(f"  still to confirm: {spec.place}: {spec.component}, {spec.kind}")
        for option in unknown_options(sheet.specifications, sheet.vehicle):
            print(f"  holds for another variant: only = \"{option}\" is none of the vehicle's options")
    raise typer.Exit(2 if wrong else 0)


@sheet_app.command("unused")
def unused(
    vehicle: Annotated[str, typer.Option("--vehicle", envvar="SAIDSPEC_VEHICLE", help="The vehicle.")],
    record: RecordOption = None,
) -> None:
    """List the entries of a vehicle's sheet that no note ever touched, and the facts that have no entry.

    Example: saidspec sheet unused --vehicle "Hallam Drover"
    """
    from saidspec.reconcile.output import fact_line
    from saidspec.reconcile.recorded import reconcile_vehicle
    from saidspec.record.report_queries import entries, vehicle_named

    conn = opened(record)
    about = vehicle_named(conn, vehicle)
    found = reconcile_vehicle(conn, about)
    print(f"{about.vehicle.name}: {len(found.unused)} entries never used")
    for spec in found.unused:
        print(f"  {spec.place}: {spec.component}, {spec.kind.replace('_', ' ')} ({spec.source})")
    facts = {one.fact.id: one for one in entries(conn, about.id)}
    print(f"{len(found.unmatched)} facts without an entry")
    for ident in found.unmatched:
        print(f"  {fact_line(facts[ident].fact)}, in {facts[ident].note}")


def _quoted_in(notes: list[Path], day: datetime | None) -> list[tuple[Fact, str, str]]:
    from saidspec.cli.hearing import note_of_file
    from saidspec.pipeline import read
    from saidspec.reference.writing import words_before

    spoken = day.date() if day else None
    return [(fact, path.name, words_before(fact, reading.note.text)) for path in notes
            for reading in [read(note_of_file(path, spoken), spoken)] for fact in reading.facts
            if fact.assertion == "quoted"]


def _quoted_of(name: str, record: Path | None) -> tuple[Vehicle, list[tuple[Fact, str, str]]]:
    from saidspec.record.report_queries import entries, vehicle_named
    from saidspec.record.review_queries import note_text
    from saidspec.reference.writing import words_before

    conn = opened(record)
    about = vehicle_named(conn, name)
    quoted = [one for one in entries(conn, about.id) if one.fact.assertion == "quoted" and not one.rejected]
    texts = {ident: note_text(conn, ident) for ident in {one.note_id for one in quoted}}
    return about.vehicle, [(one.fact, one.note, words_before(one.fact, text.text if text else ""))
                           for one in quoted for text in [texts[one.note_id]]]
