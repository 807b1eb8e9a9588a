"""`saidspec hand-over`: a vehicle's whole history in one file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli import reporting
from saidspec.cli.main import app
from saidspec.model import UnusableInput

ENDINGS = (".html", ".pdf", ".json")


@app.command("hand-over")
def hand_over_command(
    output: Annotated[Path, typer.Option("--output", "-o", help="The file to write: .html, .pdf or .json.")],
    vehicle: reporting.OneVehicleOption = None, today: reporting.TodayOption = None,
    record: reporting.RecordOption = None,
) -> None:  # fmt: skip
    """Write a vehicle's whole history for its next keeper.

    It holds jobs, parts, measurements with plots, and open findings.

    One file that loads nothing from the network; behind each entry are its words.  A .pdf needs the extra `print`,
    the plots need the extra `plot`.

    Example: saidspec hand-over --vehicle "Hallam Drover" --output drover.pdf
    """
    ending = output.suffix.lower()
    if ending not in ENDINGS:
        raise UnusableInput(f"cannot write {output}: name a file that ends in .html, .pdf or .json")
    from saidspec.record.report_queries import jobs, specifications
    from saidspec.report.handover import hand_over
    from saidspec.report.render import rendered

    conn = reporting.opened(record)
    one, day = reporting.one_of_them(conn, vehicle), reporting.day_of(today)
    told = hand_over(one.vehicle, jobs(conn, one.id), specifications(conn, one), day)
    if ending == ".json":
        reporting.put(rendered("handover", told, "json"), output)
        return
    plots = reporting.plots_of(told.trends.trends)
    page = rendered("handover", told, "html", plots=plots, paper=ending == ".pdf")
    if ending == ".html":
        reporting.put(page, output)
        return
    from saidspec.report.pdf import pdf

    reporting.put(pdf(page), output)
