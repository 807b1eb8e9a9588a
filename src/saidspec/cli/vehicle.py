"""`saidspec vehicle`: the vehicles of the record, and which notes are about which."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from saidspec.cli.main import app
from saidspec.cli.options import FormatOption, counted
from saidspec.cli.reporting import RecordOption, opened
from saidspec.cli.vehicle_output import print_json, print_vehicles

if TYPE_CHECKING:
    import sqlite3

vehicle_app = typer.Typer(help="Add, list and rename vehicles; tell which one a note is about.",
                          no_args_is_help=True)  # fmt: skip
app.add_typer(vehicle_app, name="vehicle")

NameArgument = Annotated[str, typer.Argument(help="Its name, or another name that it is known by.")]
AlsoOption = Annotated[list[str] | None, typer.Option("--also", help="Another name for it in notes; may be repeated.")]
YearOption = Annotated[int | None, typer.Option("--year", min=1850, max=2200)]
UnitOption = Annotated[str | None, typer.Option("--odometer", help="Unit of its odometer: km, mi or hour.")]
VolumeOption = Annotated[str | None, typer.Option("--volumes", help="What a quart means here: us or imperial.")]
OptionsOption = Annotated[list[str] | None, typer.Option("--option", help="Equipment that the sheet asks for.")]
SheetOption = Annotated[Path | None, typer.Option("--sheet", help="Its reference sheet, TOML or CSV.")]


@vehicle_app.command("add")
def add(
    name: Annotated[str | None, typer.Argument(help="Its name; without one, that of the sheet.")] = None,
    also: AlsoOption = None, year: YearOption = None, odometer: UnitOption = None, volumes: VolumeOption = None,
    options: OptionsOption = None, sheet: SheetOption = None, record: RecordOption = None,
) -> None:  # fmt: skip
    """Add a vehicle, with its reference sheet if there is one.

    Example: saidspec vehicle add "Hallam Drover" --also "the van" --year 2012 --odometer km
    """
    from dataclasses import replace

    from saidspec.model import UnusableInput, Vehicle
    from saidspec.record.place import at_once
    from saidspec.record.vehicles import add_vehicle, place_unknown

    read = _sheet(sheet) if sheet else None
    vehicle = read.vehicle if read else Vehicle(name or "")
    told = _checked(year, odometer, volumes, options)
    if name:
        told["name"] = name
    if not (name or vehicle.name):
        raise UnusableInput("which vehicle? Give its name, or a sheet that has one: saidspec vehicle add NAME")
    conn = _opened(record)
    with at_once(conn):
        ident = add_vehicle(conn, replace(vehicle, **told), also or ())
        if read and sheet:
            _store_sheet(conn, ident, sheet)
        placed = place_unknown(conn)
    print(f"added: {_named(conn, ident)}{_placed(placed)}{_compared(conn, placed)}")


@vehicle_app.command("list")
def list_vehicles(form: FormatOption = "text", record: RecordOption = None) -> None:
    """List the vehicles of the record.

    Example: saidspec vehicle list
    """
    from saidspec.record.queries import vehicle_summaries

    print_vehicles(vehicle_summaries(opened(record)), form, 'no vehicle yet: saidspec vehicle add "NAME"')


@vehicle_app.command("show")
def show(name: NameArgument, form: FormatOption = "text", record: RecordOption = None) -> None:
    """Show what the record holds of a vehicle.

    Example: saidspec vehicle show "Hallam Drover"
    """
    from saidspec.record.queries import vehicle_summaries
    from saidspec.record.report_queries import vehicle_named

    conn = opened(record)
    print_vehicles(vehicle_summaries(conn, vehicle_named(conn, name).id), form, "")


@vehicle_app.command("set")
def set_vehicle(
    name: NameArgument, also: AlsoOption = None, year: YearOption = None, odometer: UnitOption = None,
    volumes: VolumeOption = None, options: OptionsOption = None, sheet: SheetOption = None, record: RecordOption = None,
) -> None:  # fmt: skip
    """Change what is known of a vehicle, or give it a sheet.

    That is its other names, year, units, equipment and reference sheet.

    Example: saidspec vehicle set "Hallam Drover" --sheet drover.toml
    """
    from saidspec.model import UnusableInput
    from saidspec.record.place import at_once
    from saidspec.record.vehicles import add_name, describe, place_unknown, vehicle_id

    told = _checked(year, odometer, volumes, options)
    if not (told or also or sheet):
        raise UnusableInput(f"what of {name} is to be changed? Give --also, --year, --odometer, --volumes, --option or "
                            "--sheet")  # fmt: skip
    conn = _opened(record)
    ident = vehicle_id(conn, name)
    with at_once(conn):
        for other in also or ():
            add_name(conn, ident, other)
        if sheet:
            vehicle = _store_sheet(conn, ident, sheet).vehicle
            from_sheet = {"year": vehicle.year, "odometer_unit": vehicle.odometer_unit,
                          "volume_system": vehicle.volume_system, "options": vehicle.options or None}  # fmt: skip
            told = {field: value for field, value in from_sheet.items() if value is not None} | told
        if told:
            describe(conn, ident, **told)
        placed = place_unknown(conn)
    compared = _compared(conn, [*placed, *(_notes_of(conn, ident) if sheet or told else ())])
    print(f"changed: {_named(conn, ident)}{_placed(placed)}{compared}")


@vehicle_app.command("rename")
def rename_vehicle(
    name: NameArgument, new: Annotated[str, typer.Argument(help="The new name.")], record: RecordOption = None,
) -> None:  # fmt: skip
    """Give a vehicle another name; notes may still use the old one.

    Example: saidspec vehicle rename "Hallam Drover" "Hallam Drover (blue)"
    """
    from saidspec.record.vehicles import rename, vehicle_id

    conn = _opened(record)
    ident = vehicle_id(conn, name)
    rename(conn, ident, new)
    print(f"renamed: {_named(conn, ident)}")


@vehicle_app.command("unknown")
def unknown(form: FormatOption = "text", record: RecordOption = None) -> None:
    """List the notes of which the vehicle is not known.

    Example: saidspec vehicle unknown
    """
    from saidspec.record.queries import notes

    told = notes(opened(record), unplaced=True)
    if form == "json":
        print_json({"schema": "saidspec/notes-1", "notes": [
            {"note": one.id, "source": one.name, "date": one.day and one.day.isoformat(), "facts": one.facts,
             "utterances_unknown": one.unplaced, "opening": one.opening} for one in told]})  # fmt: skip
        return
    for one in told:
        day = one.day or "day not known"
        print(f"note {one.id}: {one.name}, {day}, {counted(one.facts, 'fact')}: {one.opening[:80]}")
    if not told:
        print("of every note the vehicle is known")


@vehicle_app.command("assign")
def assign_notes(
    notes: Annotated[list[int], typer.Argument(help="Numbers of notes, as `saidspec vehicle unknown` lists them.")],
    to: Annotated[str, typer.Option("--to", help="The vehicle.")],
    record: RecordOption = None,
) -> None:
    """Tell which vehicle notes are about.

    That is for notes that do not say it themselves.

    Example: saidspec vehicle assign 3 5 --to "Hallam Drover"
    """
    from saidspec.record.place import at_once
    from saidspec.record.vehicles import assign, vehicle_id

    conn = _opened(record)
    vehicle = vehicle_id(conn, to)
    with at_once(conn):
        counts = [assign(conn, note, vehicle) for note in notes]
    for note, count in zip(notes, counts, strict=True):
        print(f"note {note}: {counted(count, 'fact')} now of {_named(conn, vehicle)}{_compared(conn, [note])}")


def _placed(notes: list[int]) -> str:
    """What is said of notes that a new name placed."""
    return f"; notes that name it were placed: {', '.join(map(str, notes))}" if notes else ""


def _compared(conn: sqlite3.Connection, notes: list[int]) -> str:
    """Compare notes with the sheets that now hold for them; what is flagged, in words."""
    from saidspec.report.keeping import counted_flags, open_flags, renew_flags

    renew_flags(conn, notes)
    told = counted_flags(open_flags(conn, set(notes)))
    return f"; flagged: {told} (`saidspec reconcile` shows them)" if told else ""


def _notes_of(conn: sqlite3.Connection, vehicle: int) -> list[int]:
    return [row[0] for row in conn.execute("SELECT DISTINCT note FROM facts WHERE vehicle = ?", (vehicle,))]


def _checked(year: int | None, odometer: str | None, volumes: str | None, options: list[str] | None) -> dict[str, Any]:
    from saidspec.model import UnusableInput

    if odometer not in (None, "km", "mi", "hour"):
        raise UnusableInput(f'"{odometer}" is no unit of an odometer here: choose km, mi or hour')
    if volumes not in (None, "us", "imperial"):
        raise UnusableInput(f'"{volumes}" is no system of volumes: choose us or imperial')
    told = {"year": year, "odometer_unit": odometer, "volume_system": volumes,
            "options": tuple(options) if options else None}  # fmt: skip
    return {name: value for name, value in told.items() if value is not None}


def _sheet(path: Path) -> Any:
    from saidspec.reference.sheets import load_sheet

    return load_sheet(path)


def _store_sheet(conn: sqlite3.Connection, vehicle: int, path: Path) -> Any:
    from hashlib import sha256

    from saidspec.record.sheets import put_sheet

    sheet = _sheet(path)
    put_sheet(conn, vehicle, sheet.specifications, str(path.resolve()), sha256(path.read_bytes()).hexdigest())
    return sheet


def _opened(record: Path | None) -> sqlite3.Connection:
    from saidspec.record.place import open_record, record_path

    return open_record(record_path(record))


def _named(conn: sqlite3.Connection, vehicle: int) -> str:
    return str(conn.execute("SELECT name FROM vehicles WHERE id = ?", (vehicle,)).fetchone()[0])
