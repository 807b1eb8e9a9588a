"""From a recording to a transcript, window by window, on this machine alone; what was done is kept and taken up again.

Each finished window is one line of a journal in the user's cache folder, named after the hashes of the recording, the
model and the settings.  An interrupted transcription goes on after its last whole line, and a finished one is not done
twice.  Prompts and hot words stay off: with them whole sentences vanished and 48 became 4.8 in measurements.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from saidspec.model import UnusableInput
from saidspec.sources.sound import RATE, Recording, Window, windows
from saidspec.sources.speech_model import MISSING_EXTRA, first_line, model_hash

WINDOW = 60 * RATE  # samples in a window: memory stays small, and little is lost by an interruption
SETTINGS: dict[str, Any] = {
    "language": "en", "temperature": 0.0, "beam_size": 5, "vad_filter": True, "word_timestamps": True,
    "condition_on_previous_text": False,
}  # fmt: skip
COMPUTE = "int8"
# Compression ratio beyond which a recogniser repeats itself: the threshold of Radford et al., Robust Speech Recognition
# via Large-Scale Weak Supervision (2022), section 4.5; quoted from memory.
REPETITIVE = 2.4

Progress = Callable[[float, float | None], None]  # seconds done, seconds in all where the file says it


@dataclass(frozen=True, slots=True)
class Listening:
    """How a recording is heard: the model's folder (else the variable or the configuration), threads, progress."""

    model: Path | None = None
    threads: int = 0  # 0: as many as there are cores, at most 4
    progress: Progress | None = None
    window: int = WINDOW


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard: the recogniser's answer as an object of segments, and what was missing from the recording."""

    transcript: dict[str, Any]
    troubles: tuple[str, ...]
    model: str
    model_sha256: str
    settings: str
    seconds: float


def hear(path: Path, sha256: str, folder: Path, listening: Listening) -> Heard:
    """Transcribe a recording with the model in `folder`.  Raises UnusableInput for what cannot be decoded or loaded."""
    model_sha256 = model_hash(folder)
    settings = json.dumps(SETTINGS | {"compute": COMPUTE, "window": listening.window / RATE}, sort_keys=True)
    journal = journal_path(sha256, model_sha256, settings)
    done = read_journal(journal)
    recording = Recording(path)
    try:
        for line in _rest(recording, folder, done, listening):
            append(journal, line)
            done.append(line)
    finally:
        recording.close()
    segments = [segment for line in done for segment in line["segments"]]
    return Heard({"segments": segments}, tuple(done[-1]["troubles"]), folder.name, model_sha256, settings,
                 done[-1]["end"] / RATE)  # fmt: skip


def _rest(recording: Recording, folder: Path, done: list[dict[str, Any]], how: Listening) -> Iterator[dict[str, Any]]:
    """The journal lines that are still to be made, one a window."""
    if done and done[-1]["last"]:
        return
    start = done[-1]["end"] if done else 0
    model = None
    for window in windows(recording.samples(), start, how.window):
        if how.progress:
            how.progress(window.start / RATE, recording.duration)
        model = model or load(folder, how.threads)
        segments = transcribed(model, window)
        end = window.start + len(window.samples)
        troubles = recording.troubles() if window.last else []
        yield {"start": window.start, "end": end, "last": window.last, "segments": segments, "troubles": troubles}
        if how.progress:
            how.progress(end / RATE, recording.duration)


def load(folder: Path, threads: int) -> Any:
    """The model in a folder that was checked, on the processor.  Raises UnusableInput where it cannot be loaded."""
    try:
        from faster_whisper import WhisperModel
    except ImportError as bad:
        raise UnusableInput(MISSING_EXTRA) from bad
    try:
        return WhisperModel(str(folder), device="cpu", compute_type=COMPUTE, cpu_threads=threads, local_files_only=True)
    except (RuntimeError, ValueError, OSError) as bad:
        raise UnusableInput(f"the speech model {folder} cannot be loaded: {first_line(bad)}") from bad
    except Exception as bad:
        # The tokenizer's library raises plain exceptions; anything else is a fault of ours and not hidden.
        if type(bad) is Exception:
            raise UnusableInput(f"the speech model {folder} has a broken tokenizer.json: {bad}") from bad
        raise


def transcribed(model: Any, window: Window) -> list[dict[str, Any]]:
    """The segments of one window, with times from the start of the recording."""
    import numpy as np

    if len(window.samples) < RATE // 10:
        return []
    offset = window.start / RATE
    found, _ = model.transcribe(window.samples.astype(np.float32) / 32768.0, **SETTINGS)
    return [
        {"start": round(one.start + offset, 2), "end": round(one.end + offset, 2), "text": one.text,
         "average_log_probability": round(float(one.avg_logprob), 3),
         "compression": round(float(one.compression_ratio), 2),
         "words": [{"word": word.word, "start": round(float(word.start) + offset, 2),
                    "end": round(float(word.end) + offset, 2), "probability": round(float(word.probability), 3)}
                   for word in one.words or ()]}
        for one in found
    ]  # fmt: skip


def journal_path(sha256: str, model_sha256: str, settings: str) -> Path:
    """The journal of one recording, one model and one way to listen."""
    from platformdirs import user_cache_path

    key = hashlib.sha256(f"{model_sha256} {settings}".encode()).hexdigest()[:16]
    return user_cache_path("saidspec", appauthor=False) / "transcripts" / f"{sha256[:32]}-{key}.jsonl"


def read_journal(path: Path) -> list[dict[str, Any]]:
    """The windows done, each going on where the former one ended; a torn line and what is doubled are passed over."""
    try:
        lines = path.read_text("utf-8", errors="replace").split("\n")
    except FileNotFoundError:
        return []
    done: list[dict[str, Any]] = []
    for text in lines:
        try:
            line = json.loads(text)
        except ValueError:
            continue
        if line["start"] == (done[-1]["end"] if done else 0) and not (done and done[-1]["last"]):
            done.append(line)
    return done


def append(path: Path, line: dict[str, Any]) -> None:
    """Add a finished window to the journal, on a line of its own even after a torn one."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("ab") as file:
            file.write(f"\n{json.dumps(line, ensure_ascii=False)}\n".encode())
            file.flush()
            os.fsync(file.fileno())
    except OSError as bad:
        raise UnusableInput(f"the transcript cannot be kept in {path.parent}: {bad.strerror}") from bad
