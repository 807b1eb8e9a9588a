"""`saidspec due`: what is due, by date and by distance."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli import reporting
from saidspec.cli.main import app

CalendarOption = Annotated[
    Path | None, typer.Option("--calendar", help="Write an iCalendar file (.ics) that a calendar program imports."),
]  # fmt: skip


@app.command("due")
def due_command(
    vehicle: reporting.VehicleOption = None, calendar: CalendarOption = None,
    form: reporting.FormOption = reporting.Form.text, output: reporting.OutputOption = None,
    today: reporting.TodayOption = None, record: reporting.RecordOption = None,
) -> None:  # fmt: skip
    """List what is due, overdue first: intervals and follow-ups.

    The intervals are those of the sheet and of the notes.

    Distances are estimated from the odometer readings of the record; the list says how, and how sure that is.

    Example: saidspec due --vehicle "Hallam Drover" --calendar due.ics
    """
    from saidspec.record.report_queries import due_lists
    from saidspec.report.due import due_list, due_of_vehicle

    conn = reporting.opened(record)
    one, day = reporting.chosen(conn, vehicle), reporting.day_of(today)
    told = due_list(f"Due on {one.name if one else 'all vehicles'}", day, [
        (about.name, *due_of_vehicle(about.name, entries, specs, about.vehicle.odometer_unit, day))
        for about, entries, specs in due_lists(conn, one)])  # fmt: skip
    if calendar:
        from datetime import UTC, datetime

        from saidspec.report.calendar_file import calendar_file

        reporting.put(calendar_file(told, datetime.now(UTC)), calendar)
        if output is None and form is reporting.Form.text:
            return
    from saidspec.report.due_values import TITLES

    reporting.report("due", told, form, output, titles=TITLES)
