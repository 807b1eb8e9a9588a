"""A recording as a note: its words as heard by a speech model, with the second of each."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from datetime import date
from pathlib import Path

from saidspec.model import Note, Problem, Source, Transcript, UnusableInput
from saidspec.sources import transcript
from saidspec.sources.speech_model import model_folder
from saidspec.sources.transcription import REPETITIVE, Heard, Listening, hear


def read_audio(path: Path, *, day: date | None = None, listening: Listening | None = None) -> Note:
    """The note in a recording.  Offsets count in the transcript, one segment a line.

    Raises UnusableInput for a recording that cannot be decoded or in which no speech is heard, for a missing or broken
    model, and where the extra `voice` is not installed.
    """
    listening = listening or Listening()
    with path.open("rb") as file:
        sha256 = hashlib.file_digest(file, "sha256").hexdigest()
    try:
        folder = model_folder(listening.model)
    except UnusableInput as bad:
        raise UnusableInput(f"{path} is a recording and {bad}") from bad
    heard = hear(path, sha256, folder, listening)
    return note_of(heard, path, sha256, day)


def note_of(heard: Heard, path: Path, sha256: str, day: date | None) -> Note:
    """The note that a transcript makes.  Raises UnusableInput where no speech was heard."""
    content = transcript.read(heard.transcript, path.name)
    if not content.utterances:
        troubles = f"; {heard.troubles[0]}" if heard.troubles else ""
        raise UnusableInput(f"{path}: no speech was heard in {heard.seconds:.0f} s of recording{troubles}")
    problems = (*(Problem(trouble) for trouble in heard.troubles), *content.problems, *_repeated(heard, content.text))
    made = Transcript(heard.model, heard.model_sha256, heard.settings, json.dumps(heard.transcript, ensure_ascii=False))
    note = Note(Source(path.name, sha256, "audio"), content.text, content.utterances, problems, day)
    return replace(note, transcript=made)


def _repeated(heard: Heard, text: str) -> list[Problem]:
    """A problem for each segment in which the recogniser seems to repeat itself: its words may never have been said."""
    told: list[Problem] = []
    place = 0
    for segment in heard.transcript["segments"]:
        spoken = segment["text"].strip()
        start = text.find(spoken, place)
        if spoken and start >= 0:
            place = start + len(spoken)
            if segment["compression"] > REPETITIVE:
                message = (f"the recogniser repeats itself from {segment['start']:.0f} to {segment['end']:.0f} s: "
                           "listen before you trust these words")  # fmt: skip
                told.append(Problem(message, start, place))
    return told
