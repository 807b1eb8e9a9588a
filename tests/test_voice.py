"""Speech for real: synthetic voices, a real speech model, chosen facts; never the whole text.

The voices are Debian's flite and festival (a person's speech is heard better), the model that of voice_model.
"""

from __future__ import annotations

import json
import socket
import sqlite3
import wave
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from typer.testing import CliRunner

from saidspec.cli import decide, find, ingest, listen, transcribe
from saidspec.cli.main import app
from saidspec.model import Note, UnusableInput
from saidspec.pipeline import read
from saidspec.sources import transcription
from saidspec.sources.read import read_note, read_text
from saidspec.sources.speech_model import VARIABLE
from saidspec.sources.transcription import Listening
from tests.benchmarks.voice_speech import RATE, load, missing, noisy, pink, save, speak
from tests.voice_model import model_or_reason

MODEL, REASON = model_or_reason()
VOICELESS = next((why for voice in ("slt", "rms", "ked") if (why := missing(voice))), None)
pytestmark = [
    pytest.mark.voice,
    pytest.mark.skipif(MODEL is None, reason=REASON),
    pytest.mark.skipif(VOICELESS is not None, reason=VOICELESS or ""),
]
COMMANDS = (decide, find, ingest, listen, transcribe)  # registered by being imported

SCRIPT = """The drain plug is torqued to thirty five newton metres. The filter cap went to twenty five newton metres.
I drained four point one litres. The lug nuts are torqued to ninety foot pounds.
"""


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    monkeypatch.setenv(VARIABLE, str(MODEL))


@pytest.fixture(autouse=True)
def no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing in here may open a connection: hearing is done on this machine alone."""

    def refuse(_self: socket.socket, address: object) -> None:
        raise AssertionError(f"a connection to {address} was tried")

    monkeypatch.setattr(socket.socket, "connect", refuse)


@pytest.fixture(scope="module")
def memo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return speak(SCRIPT, tmp_path_factory.mktemp("voice") / "memo.wav", "slt")


def heard(path: Path, **how: Any) -> Note:
    return read_note(path, listening=Listening(threads=1, **how))


def torques(note: Note) -> set[tuple[str, str]]:
    return {(str(fact.value), fact.unit or "") for fact in read(note).facts if fact.kind == "torque"}


@pytest.mark.parametrize("voice", ["slt", "rms", "ked"])
def test_chosen_facts_survive_the_way_through_speech(tmp_path: Path, voice: str) -> None:
    note = heard(speak(SCRIPT, tmp_path / "memo.wav", voice))
    assert {("35", "N*m"), ("25", "N*m"), ("90", "lbf*ft")} <= torques(note)


def test_chosen_numbers_survive_pink_noise_at_15_decibels(memo: Path, tmp_path: Path) -> None:
    note = heard(save(noisy(load(memo), 15.0), tmp_path / "noisy.wav"))
    words = note.text.replace("-", " ").split()
    assert {"35", "25", "90"} <= {word.strip(".,") for word in words}


def test_a_note_from_a_recording_tells_how_it_was_made_and_when_each_word_was_said(memo: Path) -> None:
    note = heard(memo)
    seconds = len(load(memo)) / RATE
    assert note.source.format == "audio"
    assert note.transcript is not None
    assert note.transcript.model_sha256
    assert json.loads(note.transcript.settings)["temperature"] == 0
    raw = json.loads(note.transcript.raw or "")
    assert "\n".join(segment["text"].strip() for segment in raw["segments"]) == note.text
    words = [word for one in note.utterances for word in one.words]
    assert " ".join(note.text[word.start : word.end] for word in words).split() == note.text.split()
    assert all(0 <= word.time <= word.time_end <= seconds + 0.5 for word in words)
    assert all(one.time <= two.time for one, two in pairwise(words))
    assert all(word.probability is not None and 0 <= word.probability <= 1 for word in words)


def test_a_fact_points_to_the_second_where_it_was_said(tmp_path: Path) -> None:
    first = load(speak("The wheels are off.", tmp_path / "a.wav"))
    last = load(speak("The lug nuts are torqued to ninety foot pounds.", tmp_path / "b.wav"))
    path = save(np.concatenate([first, np.zeros(RATE * 6), last]), tmp_path / "memo.wav")
    fact = next(fact for fact in read(heard(path)).facts if fact.kind == "torque")
    begins = len(first) / RATE + 6
    assert fact.provenance.time is not None
    assert begins < fact.provenance.time < begins + len(last) / RATE


@pytest.mark.parametrize(
    "samples", [np.zeros(RATE * 20), pink(RATE * 20) * 0.05, np.zeros(10)], ids=["silence", "pink noise", "an instant"]
)
def test_nothing_is_made_up_where_nothing_is_said(tmp_path: Path, samples: Any) -> None:
    with pytest.raises(UnusableInput, match="no speech was heard in"):
        heard(save(samples, tmp_path / "memo.wav"))


def test_an_interrupted_transcription_goes_on_and_loses_and_doubles_nothing(
    memo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    length = 5 * RATE
    whole = heard(memo, window=length)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "another"))
    done: list[int] = []
    hear_window = transcription.transcribed

    def counted(model: Any, window: Any) -> list[dict[str, Any]]:
        done.append(window.start)
        return hear_window(model, window)

    def stop(seconds: float, _total: float | None) -> None:
        if seconds > 8:
            raise KeyboardInterrupt

    monkeypatch.setattr(transcription, "transcribed", counted)
    with pytest.raises(KeyboardInterrupt):
        heard(memo, window=length, progress=stop)
    before = len(done)
    assert heard(memo, window=length) == whole
    assert len(done) == len(set(done)), "a window was heard twice"
    assert 0 < before < len(done)
    assert heard(memo, window=length) == whole
    assert len(done) == len(set(done))


def test_who_stops_a_transcription_is_told_that_it_goes_on(
    memo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(_model: Any, _window: Any) -> list[dict[str, Any]]:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(transcription, "transcribed", stop)
        stopped = CliRunner().invoke(app, ["transcribe", str(memo), "--threads", "1"])
    assert stopped.exit_code == 130
    assert "start again to go on" in stopped.output
    assert "35" in CliRunner().invoke(app, ["transcribe", str(memo), "--threads", "1"]).output


def test_progress_counts_the_seconds_of_the_recording(memo: Path) -> None:
    told: list[tuple[float, float | None]] = []
    heard(memo, window=5 * RATE, progress=lambda done, total: told.append((done, total)))
    seconds = len(load(memo)) / RATE
    assert told[0] == (0.0, pytest.approx(seconds))
    assert told[-1] == (pytest.approx(seconds), pytest.approx(seconds))
    assert [done for done, _ in told] == sorted(done for done, _ in told)


def test_a_cut_off_recording_is_heard_as_far_as_it_goes(memo: Path, tmp_path: Path) -> None:
    path = tmp_path / "memo.wav"
    data = memo.read_bytes()
    path.write_bytes(data[: len(data) // 2])
    note = heard(path)
    assert "35" in note.text
    assert "cut off" in note.problems[0].message


def test_a_broken_model_is_refused(memo: Path, tmp_path: Path) -> None:
    assert MODEL is not None
    for name in ("config.json", "tokenizer.json", "vocabulary.txt"):
        (tmp_path / name).write_bytes((MODEL / name).read_bytes())
    (tmp_path / "model.bin").write_bytes((MODEL / "model.bin").read_bytes()[:100_000])
    with pytest.raises(UnusableInput, match="cannot be loaded"):
        heard(memo, model=tmp_path)
    (tmp_path / "model.bin").unlink()
    (tmp_path / "model.bin").symlink_to(MODEL / "model.bin")
    (tmp_path / "tokenizer.json").write_text("{}")
    with pytest.raises(UnusableInput, match="tokenizer"):
        heard(memo, model=tmp_path)


def test_a_transcript_that_was_written_out_is_the_same_note_again(memo: Path) -> None:
    done = CliRunner().invoke(app, ["transcribe", str(memo), "--threads", "1", "--format", "json"])
    assert done.exit_code == 0
    again = read_text(done.stdout.encode(), "memo.json")
    note = heard(memo)
    assert (again.text, again.utterances) == (note.text, note.utterances)


def test_from_a_recording_to_the_record_and_back_to_its_seconds(memo: Path, tmp_path: Path) -> None:
    record = tmp_path / "record.db"
    runner = CliRunner()
    for outcome in ("new", "unchanged"):
        done = runner.invoke(app, ["ingest", str(memo), "--format", "json", "--record", str(record)])
        assert json.loads(done.stdout)["notes"][0]["outcome"] == outcome
    found = runner.invoke(app, ["find", "lug", "nut", "--format", "json", "--record", str(record)])
    fact = next(one for one in json.loads(found.stdout)["answers"] if one["kind"] == "torque")
    clip = tmp_path / "clip.wav"
    told = runner.invoke(app, ["listen", str(fact["id"]), "--around", "1", "--out", str(clip), "--record", str(record)])
    assert told.exit_code == 0, told.output
    with wave.open(str(clip)) as file:
        assert file.getnframes() / file.getframerate() > 2
    assert "90" in heard(clip).text


def test_another_model_adds_a_reading_and_what_a_person_decided_stays(
    memo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert MODEL is not None
    record = ("--record", str(tmp_path / "record.db"))
    runner = CliRunner()
    runner.invoke(app, ["ingest", str(memo), *record])
    asked = ["find", "lug", "nut", "torque", "--format", "json", *record]
    fact = json.loads(runner.invoke(app, asked).stdout)["answers"][0]
    assert runner.invoke(app, ["decide", "confirm", str(fact["id"]), *record]).exit_code == 0
    other = tmp_path / "other"  # the same weights in a folder of another content: for the record another model
    other.mkdir()
    for name in ("model.bin", "tokenizer.json", "vocabulary.txt"):
        (other / name).symlink_to(MODEL / name)
    (other / "config.json").write_text((MODEL / "config.json").read_text() + "\n")
    monkeypatch.setenv(VARIABLE, str(other))
    runner.invoke(app, ["ingest", str(memo), *record])
    conn = sqlite3.connect(tmp_path / "record.db")
    models = conn.execute("SELECT model, current FROM readings ORDER BY id").fetchall()
    assert models == [("model", 0), ("other", 1)]
    assert conn.execute("SELECT count(*) FROM notes").fetchone() == (1,)
    again = json.loads(runner.invoke(app, asked).stdout)["answers"][0]
    assert again["id"] == fact["id"]
    assert again["decision"]["verdict"] == "confirmed"
