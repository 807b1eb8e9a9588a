"""`saidspec prep`: the sheet for the next job."""

from __future__ import annotations

from typing import Annotated

import typer

from saidspec.cli import reporting
from saidspec.cli.main import app


@app.command("prep")
def prep_command(
    about: Annotated[str, typer.Argument(help="The job or the part: \"front brakes\", \"oil change\".")],
    vehicle: reporting.OneVehicleOption = None, form: reporting.FormOption = reporting.Form.text,
    output: reporting.OutputOption = None,
    today: reporting.TodayOption = None, record: reporting.RecordOption = None,
) -> None:  # fmt: skip
    """Write the preparation sheet for the next job, for one page.

    It has cautions, sizes, torques, quantities, parts and what to buy.

    The sheet's reference values come first; what only the record has and nobody confirmed is marked.
    As HTML it prints on one page.

    Example: saidspec prep "front brakes" --vehicle "Hallam Drover" --format html --output prep.html
    """
    from saidspec.record.report_queries import agreements, entries, flags, shelf_entries, specifications
    from saidspec.report.job_knowledge import knowledge
    from saidspec.report.prep import prep
    from saidspec.report.stock import stock

    conn = reporting.opened(record)
    one, day = reporting.one_of_them(conn, vehicle), reporting.day_of(today)
    held, specs = entries(conn, one.id), specifications(conn, one)
    worked = [entry.fact.component for entry in held if entry.fact.kind == "operation" and entry.stands]
    parts = [*(entry.fact.component for entry in held), *(spec.component for spec in specs)]
    known = knowledge(about, filter(None, worked), filter(None, parts))
    told = prep(one, about, held, specs, (flags(conn, one.id), agreements(conn, one.id)),
                lambda names: stock(shelf_entries(conn, names), "Stock", day).items, known, day)  # fmt: skip
    reporting.report("prep", told, form, output)
