"""`saidspec history`: what was done on a part or a vehicle, when, at which reading, with which part."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.options import FormatOption, check_format
from saidspec.cli.reporting import RecordOption, VehicleOption, opened

if TYPE_CHECKING:
    from saidspec.record.entries import Entry


@app.command("history")
def history_command(
    words: Annotated[list[str] | None, typer.Argument(help="Words of the part; none for the whole vehicle.")] = None,
    vehicle: VehicleOption = None,
    everything: Annotated[bool, typer.Option("--all", help="With what was taken back or rejected.")] = False,
    most: Annotated[int, typer.Option("--limit", min=1, help="The newest facts, so many at most.")] = 1000,
    form: FormatOption = "text",
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Tell the history of a part or a vehicle, oldest first.  Exit status 1 for nothing.

    Example: saidspec history front brake pads --vehicle "Hallam Drover"
    """
    from saidspec.model import UnusableInput
    from saidspec.record.components import components
    from saidspec.record.find import history
    from saidspec.record.report_queries import vehicle_named

    check_format(form, "history")
    if not words and not vehicle:
        raise UnusableInput("whose history? Give words of a part, or --vehicle NAME")
    conn = opened(record)
    about = vehicle_named(conn, vehicle).id if vehicle else None
    found = history(conn, " ".join(words or ()), vehicle=about, most=most, same_part=components().names_for)
    told = [one for one in found if everything or not (one.rejected or one.fact.assertion == "retracted")]
    if form == "json":
        import json

        from saidspec.cli.find import entry_object

        print(json.dumps({"schema": "saidspec/history-1", "entries": [entry_object(one) for one in told]}, indent=1,
                         ensure_ascii=False))  # fmt: skip
    else:
        print("\n".join(_text(told)) or "nothing found")
    if not told:
        raise typer.Exit(1)


def _text(entries: list[Entry]) -> list[str]:
    """A heading for each vehicle and day, with the odometer reading and the notes, and a line for each fact below it.

    What nothing is said of was stated and is not confirmed yet.
    """
    from saidspec.report.lines import line
    from saidspec.report.wording import day_shown, distance

    lines: list[str] = []
    for (day, vehicle), those in groupby(entries, key=lambda one: (one.day, one.vehicle)):
        facts = list(those)
        read = next((one for one in facts if one.odometer is not None and one.odometer_unit), None)
        at = [distance(read.odometer, read.odometer_unit)] if read and read.odometer and read.odometer_unit else []
        notes = ", ".join(dict.fromkeys(one.note for one in facts))
        lines.append(f"{', '.join([day_shown(day), vehicle, *at])}  ({notes})")
        lines += [f"  {line(one).text}{_standing(one)}  [fact {one.fact.id}]" for one in facts]
    return lines


def _standing(entry: Entry) -> str:
    """How it was said where it was not stated, and what a person decided."""
    from saidspec.cli.find import standing

    told = standing(entry).removesuffix("not confirmed").removesuffix(", ")
    return f" ({told})" if told else ""
