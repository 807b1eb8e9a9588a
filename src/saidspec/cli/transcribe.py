"""`saidspec transcribe`: what a speech model hears in a recording, and the model itself."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from saidspec.cli.hearing import clock, hearing, stoppable
from saidspec.cli.main import app
from saidspec.cli.options import FormatOption, check_format

if TYPE_CHECKING:
    from saidspec.model import Note


@app.command("transcribe")
def transcribe_command(
    recording: Annotated[Path | None, typer.Argument(help="The recording: wav, mp3, m4a, opus, flac, mp4...")] = None,
    model: Annotated[Path | None, typer.Option(
        "--speech-model", help="Folder of the model; else SAIDSPEC_SPEECH_MODEL, else the configuration.")] = None,
    threads: Annotated[int, typer.Option("--threads", min=0, help="Processor threads; 0: up to 4.")] = 0,
    form: FormatOption = "text",
    fetch: Annotated[str | None, typer.Option(
        "--fetch-model", metavar="SIZE", help="Download a model, such as small.en, into your data folder.")] = None,
) -> None:  # fmt: skip
    """Write down what is said in a recording, on this machine alone.

    Stop it and start it again: it goes on where it was.  Nothing is sent or fetched, but for --fetch-model.

    Example: saidspec transcribe memo.m4a --speech-model models/small.en
    """
    from saidspec.model import UnusableInput
    from saidspec.sources.read import is_audio, read_bytes, read_note
    from saidspec.sources.speech_model import VARIABLE, fetch_model
    from saidspec.sources.transcription import Listening

    check_format(form, "transcribe")
    if fetch:
        folder = fetch_model(fetch)
        print(f"{folder}\nuse it with --speech-model, or set {VARIABLE}={folder}", file=sys.stderr)
        model = model or folder
    if recording is None:
        if not fetch:
            raise UnusableInput("which recording? Name its file")
        return
    if not is_audio(read_bytes(recording, 16)):
        raise UnusableInput(f"{recording} is no recording that is known")
    with hearing(recording.name) as progress, stoppable():
        note = read_note(recording, listening=Listening(model, threads, progress))
    print(_json(note) if form == "json" else "\n".join(_text(note)))
    for problem in note.problems:
        print(f"saidspec: {recording}: {problem.message}", file=sys.stderr)


def _text(note: Note) -> list[str]:
    """A line for each utterance with its time: a form that is read as a note again."""
    return [f"[{clock(one.time or 0.0)}] {note.text[one.start : one.end]}" for one in note.utterances]


def _json(note: Note) -> str:
    """The transcript as JSON: a form that is read as a note again, with the words' times and probabilities."""
    import json

    assert note.transcript is not None
    made = note.transcript
    told = {"recording": note.source.name, "sha256": note.source.sha256, "model": made.model,
            "model_sha256": made.model_sha256, "settings": json.loads(made.settings)}  # fmt: skip
    return json.dumps(told | json.loads(made.raw or "{}"), indent=1, ensure_ascii=False)
