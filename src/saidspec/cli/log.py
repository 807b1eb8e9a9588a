"""`saidspec log`: the clean log of what was done."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from saidspec.cli import reporting
from saidspec.cli.main import app
from saidspec.cli.options import DAY, a_day

SinceOption = Annotated[datetime | None, typer.Option(
    "--since", parser=a_day, metavar=DAY, help="Jobs from this day on.")]
UntilOption = Annotated[datetime | None, typer.Option(
    "--until", parser=a_day, metavar=DAY, help="Jobs up to this day.")]


@app.command("log")
def log_command(
    vehicle: reporting.VehicleOption = None, since: SinceOption = None, until: UntilOption = None,
    form: reporting.FormOption = reporting.Form.text, output: reporting.OutputOption = None,
    record: reporting.RecordOption = None,
) -> None:  # fmt: skip
    """Write the clean log: jobs, values, findings, and what is left.

    Every line names the words that it comes from.  What is only quoted, planned or guessed stands apart.

    Example: saidspec log --vehicle "Hallam Drover" --format html --output log.html
    """
    from saidspec.record.report_queries import jobs
    from saidspec.report.log import log

    conn = reporting.opened(record)
    one = reporting.chosen(conn, vehicle)
    told = jobs(conn, one.id if one else None, since and since.date(), until and until.date())
    made = log(told, f"Log of {one.name if one else 'all vehicles'}", reporting.day_of(None))
    reporting.report("log", made, form, output)
