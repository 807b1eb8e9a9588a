"""Speech for tests and benchmarks: Debian's flite and festival voices, pink noise, other file formats through sox."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
import wave
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

RATE = 16_000
# name of a voice here -> the program and its name of the voice
VOICES: dict[str, tuple[str, str]] = {
    "slt": ("flite", "slt"),  # American woman
    "rms": ("flite", "rms"),  # American man
    "awb": ("flite", "awb"),  # Scottish man
    "ked": ("festival", "ked_diphone"),  # American man, diphones
}


def missing(voice: str) -> str | None:
    """Why a voice cannot speak on this machine, or None."""
    program, name = VOICES[voice]
    command = shutil.which("text2wave" if program == "festival" else program)
    if command is None:
        return f"{program} is not installed (Debian package {program})"
    if program == "festival" and not (Path("/usr/share/festival/voices/english") / name).is_dir():
        return f"festival lacks the voice {name} (Debian package festvox-kdlpc16k)"
    return None


def speak(text: str, path: Path, voice: str = "slt") -> Path:
    """Speak a text into a WAV file of 16 kHz, one channel."""
    program, name = VOICES[voice]
    with tempfile.TemporaryDirectory() as folder:
        script = Path(folder) / "script.txt"
        script.write_text(text, "utf-8")
        raw = Path(folder) / "raw.wav"
        if program == "flite":
            command = ["flite", "-voice", name, "-f", str(script), "-o", str(raw)]
        else:
            command = ["text2wave", "-eval", f"(voice_{name})", "-F", str(RATE), "-o", str(raw), str(script)]
        subprocess.run(command, check=True, capture_output=True)
        save(load(raw), path)
    return path


def load(path: Path) -> NDArray[np.float64]:
    """The samples of a WAV file of 16 bits and 16 kHz, between -1 and 1."""
    with wave.open(str(path)) as file:
        if (file.getframerate(), file.getsampwidth(), file.getnchannels()) != (RATE, 2, 1):
            raise ValueError(f"{path} is not 16-bit mono at {RATE} Hz")
        return np.frombuffer(file.readframes(file.getnframes()), np.int16) / 32768.0


def save(samples: NDArray[Any], path: Path) -> Path:
    """Write samples between -1 and 1 as a WAV file."""
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes((np.clip(samples, -1, 1) * 32767).astype(np.int16).tobytes())
    return path


def pink(count: int, seed: int = 7) -> NDArray[np.float64]:
    """Pink noise of unit power: white noise with its spectrum divided by the root of the frequency."""
    spectrum = np.fft.rfft(np.random.default_rng(seed).standard_normal(count))
    spectrum[1:] /= np.sqrt(np.arange(1, len(spectrum)))
    spectrum[0] = 0
    noise = np.fft.irfft(spectrum, count)
    return noise / np.sqrt(np.mean(noise**2))


def noisy(clean: NDArray[np.float64], decibels: float) -> NDArray[np.float64]:
    """Speech with pink noise at a signal-to-noise ratio; the speech's power is taken where it is not silent."""
    loud = clean[np.abs(clean) > 0.01]
    power = float(np.mean(loud**2)) if len(loud) else 1e-4
    return clean + pink(len(clean)) * np.sqrt(power / 10 ** (decibels / 10))
