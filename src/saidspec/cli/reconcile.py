"""`saidspec reconcile`: the record against the reference sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from saidspec.cli.main import app
from saidspec.cli.options import FormatOption, check_format
from saidspec.cli.reporting import RecordOption

if TYPE_CHECKING:
    import sqlite3

    from saidspec.reconcile.recorded import Recorded
    from saidspec.record.entries import FlagEntry, VehicleEntry


@app.command("reconcile")
def reconcile_command(
    vehicle: Annotated[str | None, typer.Option("--vehicle", envvar="SAIDSPEC_VEHICLE",
                                                help="Only this vehicle; else all.")] = None,
    form: FormatOption = "text",
    explain: Annotated[bool, typer.Option("--explain", help="Show how each fact was matched, and why.")] = False,
    every: Annotated[bool, typer.Option("--all", help="Show what you accepted, too.")] = False,
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Compare the record with its sheets, and keep the flags.

    What is ingested, corrected or given another sheet is compared by itself; this does so for everything, and shows it.
    A flag keeps its number and your decision on it until what was said or what the sheet says changes.
    Exit status 0 when no flag is open, 1 when some are, 2 when the command could not run.

    Example: saidspec reconcile --vehicle "Hallam Drover" --explain
    """
    from saidspec.model import UnusableInput
    from saidspec.record.place import open_record, record_path
    from saidspec.record.report_queries import vehicle_named, vehicles
    from saidspec.report.keeping import keep_flags

    check_format(form, "reconcile")
    conn = open_record(record_path(record), create=False)
    chosen = [vehicle_named(conn, vehicle)] if vehicle else vehicles(conn)
    if not chosen:
        raise UnusableInput("the record has no vehicle yet: `saidspec vehicle add` makes one with its sheet")
    found: list[tuple[VehicleEntry, Recorded, list[tuple[int, FlagEntry]]]] = []
    for about in chosen:
        one = keep_flags(conn, about, explain=explain)
        found.append((about, one, _numbered(conn, about.id)))
    shown = [(about, one, [pair for pair in flags if every or not pair[1].accepted]) for about, one, flags in found]
    if form == "json":
        _print_json(shown)
    else:
        for about, one, flags in shown:
            print("\n".join(_lines(about, one, flags)))
    raise typer.Exit(1 if any(not entry.accepted for _, _, flags in shown for _, entry in flags) else 0)


def _numbered(conn: sqlite3.Connection, vehicle: int) -> list[tuple[int, FlagEntry]]:
    """The flags of a vehicle with the numbers by which they are decided on, the gravest first."""
    from saidspec.record.report_queries import flags

    numbers = dict(conn.execute("SELECT key, id FROM flags WHERE vehicle = ?", (vehicle,)).fetchall())
    grave = {"danger": 0, "wrong": 1, "look": 2}
    return sorted(((numbers[entry.key], entry) for entry in flags(conn, vehicle)),
                  key=lambda pair: (grave[pair[1].flag.severity], pair[0]))


def _lines(about: VehicleEntry, one: Recorded, flags: list[tuple[int, FlagEntry]]) -> list[str]:
    from saidspec.reconcile.output import MARKS

    lines = [f"{about.vehicle.name}: {len(flags)} flags, {len(one.agreements)} agreements, "
             f"{len(one.unmatched)} facts that the sheet does not have"]
    for number, entry in flags:
        lines.append(f"  {number:>4}  {MARKS[entry.flag.severity]:<6} {entry.flag.check}: {entry.flag.message}")
        if entry.note:
            lines.append(f"        in {entry.note}")
        if entry.accepted and entry.decision:
            lines.append(f"        accepted{f' by {entry.decision.who}' if entry.decision.who else ''}: "
                         f"{entry.decision.reason}")
    if flags:
        lines.append('  Accept one with `saidspec decide accept NUMBER --reason "…"`, or correct its fact.')
    return [*lines, *(f"  {line}" for line in one.explained)]


def _print_json(shown: list[tuple[VehicleEntry, Recorded, list[tuple[int, FlagEntry]]]]) -> None:
    import json

    from saidspec.reconcile.output import flag_object

    def told(number: int, entry: FlagEntry) -> dict[str, Any]:
        decision = entry.decision
        made = {"verdict": decision.verdict, "reason": decision.reason, "who": decision.who} if decision else None
        return {"number": number, **flag_object(entry.flag), "note": entry.note, "decision": made}

    print(json.dumps({"schema": "saidspec/reconciled-1", "vehicles": [
        {"vehicle": about.vehicle.name, "flags": [told(number, entry) for number, entry in flags],
         "agreed": len(one.agreements), "unmatched": list(one.unmatched), "explained": list(one.explained)}
        for about, one, flags in shown]}, indent=2, ensure_ascii=False))
