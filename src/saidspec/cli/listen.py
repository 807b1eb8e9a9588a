"""`saidspec listen`: the seconds of a recording in which a fact was said."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.reporting import RecordOption, opened

if TYPE_CHECKING:
    import sqlite3

    from saidspec.record.entries import Entry

# Players by command, with the options that play one file without a window and stop at its end.
PLAYERS = (
    ("ffplay", "-nodisp", "-autoexit", "-loglevel", "error"), ("mpv", "--no-video", "--really-quiet"), ("pw-play",),
    ("paplay",), ("afplay",), ("aplay", "-q"), ("play", "-q"),
)  # fmt: skip
SPOKEN = 3.0  # seconds taken for a fact of which only the start is known


@app.command("listen")
def listen_command(
    fact: Annotated[int, typer.Argument(help="The number of a fact, as `saidspec find` shows it.")],
    around: Annotated[float, typer.Option("--around", min=0.0, help="Seconds before and after the words.")] = 2.0,
    out: Annotated[Path | None, typer.Option("--out", help="Write a WAV file here and do not play it.")] = None,
    recording: Annotated[Path | None, typer.Option(
        "--recording", help="The recording, where it is not the file that was ingested.")] = None,
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Play the seconds in which a fact was said.

    They are written to a file where there is no player.

    Example: saidspec listen 12 --around 5
    """
    from saidspec.model import UnusableInput
    from saidspec.record.queries import entries_of

    conn = opened(record)
    entries = entries_of(conn, [fact])
    if not entries:
        raise UnusableInput(f"there is no fact {fact} in the record: `saidspec find` shows the numbers of facts")
    heard = entries[0].heard or entries[0].fact
    span = seconds_around(heard.provenance.time, heard.provenance.time_end, around)
    if span is None:
        raise UnusableInput(f"fact {fact} was written, not spoken: {entries[0].note} has no times")
    path = recording or _recording(conn, entries[0])
    _tell(heard.provenance.quote, entries[0].note, span)
    if out or not played(path, span):
        clip = out or Path(f"fact-{fact}.wav")
        cut(path, span, clip)
        print(clip)


def seconds_around(start: float | None, end: float | None, around: float) -> tuple[float, float] | None:
    """The seconds to hear of words from `start` to `end`; None where they have no time."""
    if start is None:
        return None
    return max(0.0, start - around), (end if end is not None and end > start else start + SPOKEN) + around


def _recording(conn: sqlite3.Connection, entry: Entry) -> Path:
    """The recording that a fact's note was read from, wherever it was found last and is unchanged."""
    import hashlib

    from saidspec.model import UnusableInput

    rows = conn.execute(
        "SELECT p.place, n.sha256, n.format FROM places AS p JOIN notes AS n ON n.id = p.note WHERE n.id = ?",
        (entry.note_id,),
    ).fetchall()
    if rows and rows[0]["format"] != "audio":
        raise UnusableInput(f"{entry.note} is no recording: name the one it belongs to with --recording")
    for row in rows:
        path = Path(row["place"])
        if path.is_file():
            with path.open("rb") as file:
                if hashlib.file_digest(file, "sha256").hexdigest() == row["sha256"]:
                    return path
    where = f"; it was at {rows[0]['place']}" if rows else ""
    raise UnusableInput(f"the recording {entry.note} is not to be found unchanged{where}: name it with --recording")


def _tell(quote: str, note: str, span: tuple[float, float]) -> None:
    print(f'"{quote}" ({note}, {span[0]:.1f} to {span[1]:.1f} s)', file=sys.stderr)


def cut(path: Path, span: tuple[float, float], out: Path) -> None:
    """Write the seconds of a recording as a WAV file of 16 kHz.  Raises UnusableInput where that cannot be done."""
    import wave

    from saidspec.model import UnusableInput
    from saidspec.sources.sound import RATE, seconds_between

    samples = seconds_between(path, *span)
    try:
        with out.open("wb") as target, wave.open(target, "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            file.writeframes(samples.tobytes())
    except OSError as bad:
        raise UnusableInput(f"{out} cannot be written: {bad.strerror}") from bad


def played(path: Path, span: tuple[float, float]) -> bool:
    """Play the seconds of a recording with the first player that can; False where none is there or none can.

    A player that is done long before the sound would be found no loudspeaker, whatever it says.
    """
    import tempfile
    import time
    import wave

    players = [one for one in PLAYERS if shutil.which(one[0])]
    if not players:
        return False
    with tempfile.TemporaryDirectory() as folder:
        clip = Path(folder) / "clip.wav"
        cut(path, span, clip)
        with wave.open(str(clip)) as file:
            seconds = file.getnframes() / file.getframerate()
        for player in players:
            begun = time.monotonic()
            done = subprocess.run([*player, str(clip)], check=False, capture_output=True)
            if done.returncode == 0 and time.monotonic() - begun > seconds / 2:
                return True
    return False
