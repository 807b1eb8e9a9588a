"""`saidspec stock`: what is on the shelf."""

from __future__ import annotations

from typing import Annotated

import typer

from saidspec.cli import reporting
from saidspec.cli.main import app


@app.command("stock")
def stock_command(
    part: Annotated[str, typer.Argument(help='Only this: "engine oil"; everything where left out.')] = "",
    form: reporting.FormOption = reporting.Form.text, output: reporting.OutputOption = None,
    record: reporting.RecordOption = None,
) -> None:  # fmt: skip
    """Show what is on the shelf: bought, used and left over.

    It is told for each fluid, part and material.

    All vehicles are taken together, in one unit; each figure names the words that it comes from.

    Example: saidspec stock "brake fluid"
    """
    from saidspec.record.report_queries import shelf_entries
    from saidspec.report.stock import stock

    conn = reporting.opened(record)
    told = stock(shelf_entries(conn), "Stock", reporting.day_of(None), part)
    reporting.report("stock", told, form, output)
