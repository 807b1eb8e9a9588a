"""`saidspec extract`: what one note says, without a record."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.options import WordsOption


@app.command(epilog="Example: saidspec extract pads.txt --date 2026-05-03 --format json")
def extract(
    note: Annotated[Path, typer.Argument(help="The note, in any form that is read; - for standard input.")],
    date: Annotated[str | None, typer.Option(help="Day the note was spoken, YYYY-MM-DD.")] = None,
    format: Annotated[str, typer.Option(help="text or json.")] = "text",
    words: WordsOption = None,
) -> None:
    """Read one note and print its facts; opens no record."""
    from saidspec.cli.hearing import note_of_file
    from saidspec.cli.options import day_of, one_of, use_words
    from saidspec.pipeline import read
    from saidspec.report.reading import reading_json, reading_text

    shape = one_of("--format", format, ("text", "json"))
    day = day_of(date)
    use_words(words)
    reading = read(note_of_file(note, day), day)
    print(reading_json(reading) if shape == "json" else reading_text(reading))
