"""What several commands share: their options, checked the same way, and counts in words."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Annotated

import typer

from saidspec.model import UnusableInput

WordsOption = Annotated[Path | None, typer.Option(
    "--words", help="Folder of words of your own; else SAIDSPEC_WORDS, else `words` in your config folder.")]

FormatOption = Annotated[str, typer.Option("--format", help="text or json.")]


def a_day(text: str) -> datetime:
    """A day given as YYYY-MM-DD, for the parser of an option.  Raises UnusableInput for what is none."""
    try:
        return datetime.combine(date.fromisoformat(text), datetime.min.time())
    except ValueError:
        raise UnusableInput(f"{text!r} is no day; write it as YYYY-MM-DD, for example 2026-05-03") from None


DAY = "YYYY-MM-DD"
SpokenOption = Annotated[datetime | None, typer.Option(
    "--date", parser=a_day, metavar=DAY, help="The day on which the notes were spoken.")]


def check_format(form: str, verb: str, choices: tuple[str, ...] = ("text", "json")) -> None:
    """Raises UnusableInput for a format that the command `verb` does not write."""
    if form not in choices:
        raise UnusableInput(f'"{form}" is no format of {verb}: choose {" or ".join(choices)}')


def day_of(text: str | None, option: str = "--date") -> date | None:
    """A day given as YYYY-MM-DD."""
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise UnusableInput(f"{option} {text!r} is no day; write it as YYYY-MM-DD, for example 2026-05-03") from None


def one_of(option: str, value: str, choices: tuple[str, ...]) -> str:
    """A value that must be one of a few."""
    if value not in choices:
        raise UnusableInput(f"{option} {value!r} is not known; write one of {', '.join(choices)}")
    return value


def counted(count: int, what: str) -> str:
    """A number of things in words: 1 fact, 2 facts."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def use_words(folder: Path | None) -> None:
    """Let all stages read the words of this folder: the option stands for the environment variable in this process."""
    if folder is None:
        return
    if not folder.is_dir():
        raise UnusableInput(f"--words {folder}: no such folder; `saidspec words new {folder}` makes one to start from")
    import os

    from saidspec.patterns import USER_FOLDER

    os.environ[USER_FOLDER] = str(folder.resolve())
