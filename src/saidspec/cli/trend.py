"""`saidspec trend`: how a measurement goes, and when its limit is reached."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli import reporting
from saidspec.cli.main import app
from saidspec.model import UnusableInput

PlotOption = Annotated[
    Path | None, typer.Option("--plot", help="Draw the trend to this file, .svg or .png (needs the extra `plot`)."),
]  # fmt: skip


@app.command("trend")
def trend_command(
    part: Annotated[str, typer.Argument(help="What was measured: \"front brake pad\"; all parts where left out.")] = "",
    vehicle: reporting.OneVehicleOption = None, plot: PlotOption = None,
    form: reporting.FormOption = reporting.Form.text,
    output: reporting.OutputOption = None, today: reporting.TodayOption = None, record: reporting.RecordOption = None,
) -> None:  # fmt: skip
    """Show how a measurement went, and when its limit is reached.

    A robust line with its range goes through the points of the present part; with too few points nothing is projected.

    Example: saidspec trend "front brake pad" --vehicle "Hallam Drover" --plot pads.svg
    """
    from saidspec.record.report_queries import TREND_KINDS, entries, specifications
    from saidspec.report.trend import trends

    conn = reporting.opened(record)
    one, day = reporting.one_of_them(conn, vehicle), reporting.day_of(today)
    held = entries(conn, one.id, TREND_KINDS)
    told = trends(one.name, held, specifications(conn, one), one.vehicle.odometer_unit, day, part)
    if plot:
        _plot(told, plot)
    more = {"plots": reporting.plots_of(told.trends)} if form is reporting.Form.html else {}
    reporting.report("trend", told, form, output, **more)


def _plot(told: object, plot: Path) -> None:
    """Draw the one trend that was asked for."""
    from saidspec.report.plot import picture
    from saidspec.report.trend_values import Trends

    assert isinstance(told, Trends)
    form = plot.suffix.lower().lstrip(".")
    if form not in ("svg", "png"):
        raise UnusableInput(f"cannot draw {plot}: name a file that ends in .svg or .png")
    if len(told.trends) != 1:
        names = ", ".join(one.title for one in told.trends) or "none"
        raise UnusableInput(f"a plot shows one trend, and {len(told.trends)} fit ({names}): name the part more exactly")
    reporting.put(picture(told.trends[0], "svg" if form == "svg" else "png"), plot)
