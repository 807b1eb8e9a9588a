"""`saidspec check`: one note against one reference sheet, without a record."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.options import DAY, FormatOption, WordsOption, a_day, check_format, use_words

if TYPE_CHECKING:
    from saidspec.model import Reading
    from saidspec.reconcile.case import Case
    from saidspec.reconcile.run import Result


@app.command("check")
def check_command(
    note: Annotated[Path, typer.Argument(
        allow_dash=True, help="The note, in any form that is read; - for standard input.")],
    reference: Annotated[Path, typer.Option(
        "--reference", "--sheet", help="The vehicle's reference sheet (.toml or .csv).")],
    day: Annotated[datetime | None, typer.Option(
        "--date", parser=a_day, metavar=DAY, help="The day on which the note was spoken.")] = None,
    form: FormatOption = "text",
    words: WordsOption = None,
    explain: Annotated[bool, typer.Option("--explain", help="Show how each fact was matched, and why.")] = False,
) -> None:
    """Compare what a note says with a reference sheet.

    Exit status 0 when nothing is flagged, 1 when something is, 2 when the command could not run.

    Example: saidspec check front-brakes.txt --reference drover.toml --date 2026-05-03
    """
    from saidspec.reconcile.run import judged, open_case
    from saidspec.reference.sheets import load_sheet

    check_format(form, "check")
    use_words(words)
    case = open_case(_read(note, day), load_sheet(reference))
    result = judged(case)
    if form == "json":
        _print_json(case, result)
    else:
        _print_text(case, result, explain)
    raise typer.Exit(1 if result[0] else 0)


def _read(note: Path, day: datetime | None) -> Reading:
    from saidspec.cli.hearing import note_of_file
    from saidspec.pipeline import read

    spoken = day.date() if day else None
    return read(note_of_file(note, spoken), spoken)


def _print_json(case: Case, result: Result) -> None:
    import json

    from saidspec.reconcile.jobs import cautions_of
    from saidspec.reconcile.output import result_object
    from saidspec.reconcile.undecided import undecided

    told = result_object(result, cautions_of(case), undecided(case, *result[:2]))
    print(json.dumps(told, indent=2, ensure_ascii=False))


def _print_text(case: Case, result: Result, explain: bool) -> None:
    from saidspec.reconcile.jobs import cautions_of
    from saidspec.reconcile.output import result_lines
    from saidspec.reconcile.run import explanations
    from saidspec.reconcile.undecided import undecided

    for line in result_lines(result, case.reading, cautions_of(case), undecided(case, *result[:2])):
        print(line)
    if explain:
        print("\nHow the facts were matched:")
        print("\n".join(f"  {line}" for line in explanations(case)))
