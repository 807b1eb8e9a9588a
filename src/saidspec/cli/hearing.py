"""Hearing a recording for any command: a progress bar by its seconds, and a word to who stops it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from saidspec.model import Note
    from saidspec.sources.transcription import Progress


def note_of_file(path: Path, day: date | None = None, model: Path | None = None) -> Note:
    """The note in a file or, for "-", on standard input; a recording is heard with the model in a folder, else with
    the one that was set."""
    from saidspec.sources.read import AUDIO_SUFFIXES, read_note, read_text

    if str(path) == "-":
        return read_text(sys.stdin.buffer.read(), "-", day=day)
    if path.suffix.lower() not in AUDIO_SUFFIXES:
        return read_note(path, day=day)
    from saidspec.sources.transcription import Listening

    with hearing(path.name) as progress, stoppable():
        return read_note(path, day=day, listening=Listening(model, progress=progress))


@contextmanager
def stoppable() -> Iterator[None]:
    """Says, where the user stops a transcription, that it goes on from there."""
    try:
        yield
    except KeyboardInterrupt:
        print("saidspec: stopped; what was heard so far is kept: start again to go on", file=sys.stderr)
        raise


@contextmanager
def hearing(name: str) -> Iterator[Progress | None]:
    """A progress bar on standard error that counts the seconds of a recording; none where it is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("{task.description}"), BarColumn(), TextColumn("{task.fields[heard]}"), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(f"hearing {name}", total=None, heard="")

        def show(done: float, total: float | None) -> None:
            whole = f" of {clock(total)}" if total else ""
            bar.update(task, completed=done, total=total, heard=f"{clock(done)}{whole}")

        yield show


def clock(seconds: float) -> str:
    """1:02:03 or 2:03."""
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest:02d}" if hours else f"{minutes}:{rest:02d}"
