"""`saidspec check`: one note against one reference sheet, without a record."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app


@app.command("check")
def check_command(
    note: Annotated[Path, typer.Argument(
        allow_dash=True, help="The note, in any form that is read; - for standard input.")],
    reference: Annotated[Path, typer.Option("--reference", help="The vehicle's reference sheet (.toml or .csv).")],
    day: Annotated[datetime | None, typer.Option(
        "--date", formats=["%Y-%m-%d"], help="The day on which the note was spoken.")] = None,
    form: Annotated[str, typer.Option("--format", help="text or json.")] = "text",
    explain: Annotated[bool, typer.Option("--explain", help="Show how each fact was matched, and why.")] = False,
) -> None:
    """Compare what a note says with a reference sheet.

    Exit status 0 when nothing is flagged, 1 when something is, 2 when the command could not run.

    Example: saidspec check front-brakes.txt --reference drover.toml --date 2026-05-03
    """
    from saidspec.model import UnusableInput
    from saidspec.pipeline import read
    from saidspec.reconcile.jobs import cautions_of
    from saidspec.reconcile.output import result_lines, result_object
    from saidspec.reconcile.run import explanations, judged, open_case
    from saidspec.reference.sheets import load_sheet
    from saidspec.sources.read import read_note, read_text

    if form not in ("text", "json"):
        raise UnusableInput(f'"{form}" is no format of check: choose text or json')
    sheet = load_sheet(reference)
    spoken = day.date() if day else None
    if str(note) == "-":
        reading = read(read_text(sys.stdin.buffer.read(), "-", day=spoken), spoken)
    else:
        reading = read(read_note(note, day=spoken), spoken)
    case = open_case(reading, sheet)
    result, told = judged(case), cautions_of(case)
    if form == "json":
        import json

        print(json.dumps(result_object(result, told), indent=2, ensure_ascii=False))
    else:
        for line in result_lines(result, reading, told):
            print(line)
        if explain:
            print("\nHow the facts were matched:")
            print("\n".join(f"  {line}" for line in explanations(case)))
    raise typer.Exit(1 if result[0] else 0)
