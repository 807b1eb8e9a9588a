"""Recordings without a speech model: decoding, windows, the journal, the model's folder, what cannot be used."""

from __future__ import annotations

import json
import wave
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from saidspec.cli.listen import played, seconds_around
from saidspec.model import UnusableInput
from saidspec.sources.read import is_audio, read_note
from saidspec.sources.sound import RATE, Recording, quietest, seconds_between, windows
from saidspec.sources.speech_model import VARIABLE, fetch_model, model_folder, model_hash
from saidspec.sources.transcription import append, read_journal

av = pytest.importorskip("av", reason="the extra `voice` is not installed (PyAV)")


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    monkeypatch.delenv(VARIABLE, raising=False)


def tone(seconds: float) -> NDArray[np.int16]:
    return (8000 * np.sin(np.arange(int(seconds * RATE)) * 0.3)).astype(np.int16)


def wav(path: Path, samples: NDArray[np.int16]) -> Path:
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(samples.tobytes())
    return path


def decoded(path: Path) -> tuple[NDArray[np.int16], Recording]:
    recording = Recording(path)
    samples = np.concatenate(list(recording.samples()))
    recording.close()
    return samples, recording


# ending of the name -> container, codec, samples a second
FORMATS = {
    "wav": ("wav", "pcm_s16le", 44100), "mp3": ("mp3", "libmp3lame", 44100), "m4a": ("ipod", "aac", 44100),
    "aac": ("adts", "aac", 44100), "opus": ("ogg", "libopus", 48000), "ogg": ("ogg", "libopus", 48000),
    "flac": ("flac", "flac", 44100), "webm": ("webm", "libopus", 48000), "3gp": ("3gp", "aac", 44100),
    "mp4": ("mp4", "aac", 44100),
}  # fmt: skip


def encoded(path: Path, seconds: float) -> Path:
    """A tone of 440 Hz in the format that the name's ending says."""
    container, codec, rate = FORMATS[path.suffix[1:]]
    with av.open(str(path), "w", format=container) as file:
        stream = file.add_stream(codec, rate=rate, layout="mono")
        wanted = stream.format.name
        samples = np.sin(2 * np.pi * 440 * np.arange(int(seconds * rate)) / rate)
        pcm = (samples * 16000).astype(np.int16).reshape(1, -1)
        frame = av.AudioFrame.from_ndarray(pcm, format="s16", layout="mono")
        frame.sample_rate = rate
        resampler = av.AudioResampler(format=wanted, layout="mono", rate=rate, frame_size=stream.frame_size or 1024)
        for out in [*resampler.resample(frame), *resampler.resample(None)]:
            file.mux(stream.encode(out))
        file.mux(stream.encode(None))
    return path


@pytest.mark.parametrize("ending", FORMATS)
def test_each_format_is_known_and_decoded(tmp_path: Path, ending: str) -> None:
    path = encoded(tmp_path / f"memo.{ending}", 2.0)
    assert is_audio(path.read_bytes()[:16])
    samples, recording = decoded(path)
    assert len(samples) / RATE == pytest.approx(2.0, abs=0.1)
    assert recording.troubles() == []
    spectrum = np.abs(np.fft.rfft(samples[RATE // 2 : RATE + RATE // 2].astype(float)))
    assert int(np.argmax(spectrum)) == pytest.approx(440, abs=2)


def test_a_cut_off_recording_is_read_as_far_as_it_goes_and_told(tmp_path: Path) -> None:
    path = tmp_path / "memo.flac"
    path.write_bytes(encoded(tmp_path / "whole.flac", 20.0).read_bytes())
    with path.open("r+b") as file:
        file.truncate(path.stat().st_size // 2)
    samples, recording = decoded(path)
    assert 5 < len(samples) / RATE < 15
    assert "cut off: it should last 20 s" in recording.troubles()[0]


@pytest.mark.parametrize("ending", ["wav", "mp3", "aac", "opus", "ogg", "flac", "webm"])
@pytest.mark.parametrize("share", [0.3, 0.5, 0.9])
def test_a_recording_that_lacks_its_end_is_told_in_each_format(tmp_path: Path, ending: str, share: float) -> None:
    path = tmp_path / f"memo.{ending}"
    data = encoded(tmp_path / f"whole.{ending}", 20.0).read_bytes()
    path.write_bytes(data[: int(len(data) * share)])
    samples, recording = decoded(path)
    assert len(samples) / RATE == pytest.approx(20 * share, abs=2)
    assert recording.troubles()


@pytest.mark.parametrize("keep", [40, 400])
def test_a_recording_without_its_table_is_refused(tmp_path: Path, keep: int) -> None:
    path = tmp_path / "memo.m4a"
    path.write_bytes(encoded(tmp_path / "whole.m4a", 3.0).read_bytes()[:keep])
    with pytest.raises(UnusableInput, match="broken or cut-off recording"):
        Recording(path)


def test_seconds_between(tmp_path: Path) -> None:
    samples = tone(3.0)
    path = wav(tmp_path / "memo.wav", samples)
    assert np.array_equal(seconds_between(path, 1.0, 1.5), samples[RATE : RATE + RATE // 2])
    assert np.array_equal(seconds_between(path, 2.5, 9.0), samples[2 * RATE + RATE // 2 :])
    with pytest.raises(UnusableInput, match=r"ends at 3\.0 s"):
        seconds_between(path, 5.0, 6.0)
    with pytest.raises(UnusableInput, match="no such file"):
        seconds_between(tmp_path / "none.wav", 0.0, 1.0)


def test_the_cut_is_in_the_pause() -> None:
    samples = np.concatenate([tone(7.0), np.zeros(RATE, np.int16), tone(2.0)])
    assert 7.0 < quietest(samples) / RATE < 8.0


@settings(deadline=None)
@given(st.lists(st.integers(1, 30_000), min_size=1, max_size=12), st.integers(0, 3), st.integers(0, 2**32))
def test_windows_hold_each_sample_once_and_go_on_from_any_cut(sizes: list[int], skip: int, seed: int) -> None:
    whole = np.random.default_rng(seed).integers(-9000, 9000, sum(sizes)).astype(np.int16)
    blocks = np.split(whole, np.cumsum(sizes)[:-1])
    all_of_it = list(windows(iter(blocks), 0, 2 * RATE))
    assert np.array_equal(np.concatenate([one.samples for one in all_of_it]), whole)
    assert [one.last for one in all_of_it] == [False] * (len(all_of_it) - 1) + [True]
    assert all(len(one.samples) <= 2 * RATE for one in all_of_it)
    again = list(windows(iter([whole]), all_of_it[min(skip, len(all_of_it) - 1)].start, 2 * RATE))
    rest = all_of_it[min(skip, len(all_of_it) - 1) :]
    assert [(one.start, one.last) for one in again] == [(one.start, one.last) for one in rest]
    assert all(np.array_equal(one.samples, two.samples) for one, two in zip(again, rest, strict=True))


def test_a_torn_or_doubled_line_of_the_journal_loses_and_doubles_nothing(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "memo.jsonl"
    lines = [{"start": 10 * n, "end": 10 * n + 10, "last": n == 2, "segments": [], "troubles": []} for n in range(3)]
    assert read_journal(path) == []
    append(path, lines[0])
    with path.open("ab") as file:
        file.write(json.dumps(lines[1]).encode()[:25])  # killed while writing
    assert read_journal(path) == lines[:1]
    for line in (lines[1], lines[1], lines[0], lines[2], lines[2]):  # a second process at the same recording
        append(path, line)
    assert read_journal(path) == lines


def half_model(folder: Path, *names: str) -> Path:
    folder.mkdir(exist_ok=True)
    for name in names:
        (folder / name).write_text("{}")
    return folder


@pytest.mark.parametrize(
    ("names", "told"),
    [
        ((), "lacks config.json, model.bin, tokenizer.json, vocabulary.txt or vocabulary.json"),
        (("config.json", "model.bin", "vocabulary.json"), "lacks tokenizer.json"),
        (("config.json", "tokenizer.json", "vocabulary.txt"), "lacks model.bin"),
        (("config.json", "model.bin", "tokenizer.json"), "lacks vocabulary.txt or vocabulary.json"),
    ],
)
def test_a_half_model_is_refused_with_what_is_missing(tmp_path: Path, names: tuple[str, ...], told: str) -> None:
    folder = half_model(tmp_path / "model", *names)
    with pytest.raises(UnusableInput, match=told) as refusal:
        model_folder(folder)
    assert "--fetch-model" in str(refusal.value)


def test_a_cut_off_model_is_refused(tmp_path: Path) -> None:
    folder = half_model(tmp_path / "model", "config.json", "tokenizer.json", "vocabulary.txt")
    (folder / "model.bin").touch()
    with pytest.raises(UnusableInput, match=r"has an empty model\.bin"):
        model_folder(folder)


def test_a_size_is_no_folder_and_nothing_is_fetched_for_it() -> None:
    with pytest.raises(UnusableInput, match=r"small\.en \(from --speech-model\) is no folder"):
        model_folder("small.en")


def test_option_goes_before_variable_and_variable_before_configuration(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = ("config.json", "model.bin", "tokenizer.json", "vocabulary.txt")
    one, two, three = (half_model(tmp_path / name, *whole) for name in ("one", "two", "three"))
    with pytest.raises(UnusableInput, match="no speech model is chosen"):
        model_folder()
    config = tmp_path / "XDG_CONFIG_HOME" / "saidspec" / "config.toml"
    config.parent.mkdir(parents=True)
    config.write_text(f'[speech]\nmodel = "{three}"\n')
    assert model_folder() == three
    monkeypatch.setenv(VARIABLE, str(two))
    assert model_folder() == two
    assert model_folder(one) == one


@pytest.mark.parametrize(
    ("text", "told"), [("[speech\n", "cannot be read"), ("[speech]\nmodel = 3\n", "in quotes, not 3")]
)
def test_a_broken_configuration_is_told(tmp_path: Path, text: str, told: str) -> None:
    config = tmp_path / "XDG_CONFIG_HOME" / "saidspec" / "config.toml"
    config.parent.mkdir(parents=True)
    config.write_text(text)
    with pytest.raises(UnusableInput, match=told):
        model_folder()


def test_the_hash_of_a_model_changes_with_each_of_its_files(tmp_path: Path) -> None:
    names = ("config.json", "model.bin", "tokenizer.json", "vocabulary.txt")
    folder = half_model(tmp_path / "model", *names)
    hashes = {model_hash(folder)}
    for name in names:
        (folder / name).write_text("{ }")
        hashes.add(model_hash(folder))
    assert len(hashes) == 5


def test_a_model_is_fetched_into_the_users_data_folder_when_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    faster_whisper = pytest.importorskip("faster_whisper", reason="the extra `voice` is not installed")

    def fetch(name: str, output_dir: str) -> str:
        Path(output_dir).parent.mkdir(parents=True)
        half_model(Path(output_dir), "config.json", "model.bin", "tokenizer.json", "vocabulary.txt")
        return name

    monkeypatch.setattr(faster_whisper, "download_model", fetch)
    assert fetch_model("small.en") == tmp_path / "XDG_DATA_HOME" / "saidspec" / "speech-models" / "small.en"


def test_a_model_that_cannot_be_fetched_is_told_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    faster_whisper = pytest.importorskip("faster_whisper", reason="the extra `voice` is not installed")

    def fail(name: str, output_dir: str) -> str:
        raise ConnectionError(f"no way to {name}\nfor {output_dir}")

    monkeypatch.setattr(faster_whisper, "download_model", fail)
    with pytest.raises(UnusableInput, match=r"small\.en could not be downloaded: no way to small\.en$"):
        fetch_model("small.en")
    with pytest.raises(UnusableInput, match="huge is no size of a speech model; there are tiny"):
        fetch_model("huge")


def test_a_text_file_named_m4a_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "memo.m4a"
    path.write_text("drain plug thirty four\n")
    with pytest.raises(UnusableInput, match="named as a recording but holds no sound"):
        read_note(path)


def test_a_recording_without_a_model_says_how_to_get_one(tmp_path: Path) -> None:
    path = wav(tmp_path / "memo.wav", tone(1.0))
    with pytest.raises(UnusableInput, match="no speech model is chosen"):
        read_note(path)


@pytest.mark.parametrize(
    ("start", "end", "span"),
    [
        (5.0, 6.0, (3.0, 8.0)),
        (1.0, 2.0, (0.0, 4.0)),
        (5.0, None, (3.0, 10.0)),
        (5.0, 5.0, (3.0, 10.0)),
        (None, 1.0, None),
    ],
)
def test_seconds_around(start: float | None, end: float | None, span: tuple[float, float] | None) -> None:
    assert seconds_around(start, end, 2.0) == span


def player(folder: Path, name: str, body: str) -> None:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(f"#!/bin/sh\n{body}\n")
    (folder / name).chmod(0o755)


def test_a_player_gets_the_seconds_and_another_one_the_next_try(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = wav(tmp_path / "memo.wav", tone(2.0))
    bin_folder = tmp_path / "bin"
    copy = tmp_path / "played.wav"
    player(bin_folder, "ffplay", "exit 0")  # done at once: it found no loudspeaker
    player(bin_folder, "paplay", "exit 1")
    monkeypatch.setenv("PATH", f"{bin_folder}")
    assert not played(path, (0.5, 1.0))
    player(bin_folder, "aplay", f'/bin/cp "$2" {copy}; /bin/sleep 0.4')
    assert played(path, (0.5, 1.0))
    with wave.open(str(copy)) as file:
        assert file.readframes(file.getnframes()) == tone(2.0)[RATE // 2 : RATE].tobytes()
