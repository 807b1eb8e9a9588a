"""Sound from any file that PyAV decodes, as a stream of samples: 16 kHz, one channel, 16-bit."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from saidspec.model import UnusableInput
from saidspec.sources.speech_model import MISSING_EXTRA

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Samples = NDArray[np.int16]

RATE = 16_000  # samples a second: what the speech models are made for
OGG_PAGE = b"OggS"
OGG_LARGEST = 27 + 255 + 255 * 255  # bytes of the largest page of an Ogg stream, RFC 3533
_SLACK = 1.0  # seconds by which a file may be shorter than it says


class Window(NamedTuple):
    """A part of a recording: its first sample, its samples, and whether it is the last."""

    start: int
    samples: Samples
    last: bool


class Recording:
    """A recording being read: `duration` in seconds as the file says it, and what could not be decoded so far."""

    def __init__(self, path: Path) -> None:
        """Raises UnusableInput where the file holds no sound that can be decoded."""
        av = _av()
        if not path.is_file():
            raise UnusableInput(f"{path}: no such file")
        try:
            self._container = av.open(str(path), metadata_errors="ignore")
        except (av.error.FFmpegError, IndexError, ValueError) as bad:
            raise UnusableInput(f"{path} is a broken or cut-off recording: no sound can be decoded from it") from bad
        self.path = path
        self.undecoded = 0  # packets
        self.decoded = 0  # samples at RATE
        if not self._container.streams.audio:
            self._container.close()
            raise UnusableInput(f"{path} holds no sound")
        self._stream: Any = self._container.streams.audio[0]
        self.duration = self._duration()

    def _duration(self) -> float | None:
        """The duration the file says it has; of a WAV file that lacks its end, that of the whole."""
        lasts = self._declared()
        return lasts * _whole(self.path) if lasts else None

    def _declared(self) -> float | None:
        if self._stream.duration is not None and self._stream.time_base is not None:
            return float(self._stream.duration * self._stream.time_base)
        return self._container.duration / 1_000_000 if self._container.duration else None

    def samples(self) -> Iterator[Samples]:
        """The samples in order, packet by packet; a packet that cannot be decoded is counted and left out."""
        import numpy as np

        av = _av()
        resampler = av.AudioResampler(format="s16", layout="mono", rate=RATE)
        for frames in self._frames(av):
            for frame in frames:
                frame.pts = None
            for out in [one for frame in frames for one in resampler.resample(frame)]:
                yield self._counted(np.asarray(out.to_ndarray(), dtype=np.int16).reshape(-1))
        for out in resampler.resample(None):
            yield self._counted(np.asarray(out.to_ndarray(), dtype=np.int16).reshape(-1))

    def _frames(self, av: Any) -> Iterator[list[Any]]:
        packets = self._container.demux(self._stream)
        while True:
            try:
                packet = next(packets)
            except StopIteration:
                return
            except av.error.FFmpegError:
                self.undecoded += 1
                return
            try:
                yield packet.decode()
            except av.error.FFmpegError:
                self.undecoded += 1

    def _counted(self, samples: Samples) -> Samples:
        self.decoded += len(samples)
        return samples

    def troubles(self) -> list[str]:
        """After reading: what is missing from the recording, one line each."""
        told = []
        seconds = self.decoded / RATE
        if self.duration is not None and seconds < self.duration - _SLACK:
            said, there = f"{self.duration:.0f} s", f"{seconds:.0f} s"
            told.append(f"the recording is cut off: it should last {said}, {there} could be read")
        elif unended(self.path):
            told.append(f"the recording has no end and may be cut off: {seconds:.0f} s could be read")
        if self.undecoded:
            parts = "1 part" if self.undecoded == 1 else f"{self.undecoded} parts"
            told.append(f"{parts} of the recording could not be decoded")
        return told

    def close(self) -> None:
        self._container.close()


def _whole(path: Path) -> float:
    """How many times its size a WAV file should have by its own header; 1 for other files and unfinished headers."""
    with path.open("rb") as file:
        head = file.read(8)
    said = int.from_bytes(head[4:8], "little") + 8
    there = path.stat().st_size
    return said / there if head[:4] == b"RIFF" and there < said < 0xFFFFFF00 else 1.0


def unended(path: Path) -> bool:
    """Whether a file is an Ogg stream that lacks its end: it says nowhere how long it is, but its last page is marked.

    RFC 3533, section 6: a page begins with "OggS", has the bit 4 of its sixth byte set where it is the last of its
    stream, the number of its segments in its 27th byte and their sizes behind.
    """
    with path.open("rb") as file:
        if file.read(4) != OGG_PAGE:
            return False
        file.seek(max(0, path.stat().st_size - 2 * OGG_LARGEST))
        tail = file.read()
    page = tail[tail.rfind(OGG_PAGE):] if OGG_PAGE in tail else b""
    head = 27 + (page[26] if len(page) > 26 else 0)
    whole = len(page) >= head and len(page) >= head + sum(page[27:head])
    return not (whole and page[5] & 4)


def _av() -> Any:
    try:
        import av
    except ImportError as bad:
        raise UnusableInput(MISSING_EXTRA) from bad
    return av


def windows(blocks: Iterator[Samples], start: int, length: int) -> Iterator[Window]:
    """The samples from `start` on in windows of at most `length` samples, cut where it is quietest near their end.

    The cuts depend on the samples alone: reading on from a former cut gives the same windows.
    """
    import numpy as np

    held: list[Samples] = []
    count = place = 0
    for block in blocks:
        fresh = block[max(0, start - place) :]
        place += len(block)
        if len(fresh):
            held.append(fresh)
            count += len(fresh)
        while count >= length:
            joined = np.concatenate(held)
            cut = quietest(joined[:length])
            yield Window(start, joined[:cut], False)
            held, start = [joined[cut:]], start + cut
            count -= cut
    rest = np.concatenate(held) if held else np.zeros(0, dtype=np.int16)
    yield Window(start, rest, True)


def quietest(samples: Samples) -> int:
    """Where to cut: the middle of the quietest half second in the last third of the samples."""
    import numpy as np

    step = RATE // 20
    frames = len(samples) // step
    energy = np.square(samples[: frames * step].astype(np.float64)).reshape(frames, step).sum(axis=1)
    span = min(10, frames)
    sums = np.convolve(energy, np.ones(span), mode="valid")
    first = frames * 2 // 3
    if first >= len(sums):
        return len(samples)
    best = first + int(np.argmin(sums[first:]))
    return (best + span // 2) * step


def seconds_between(path: Path, start: float, end: float) -> Samples:
    """The samples from `start` to `end`, in seconds, of a recording.  Raises UnusableInput where there are none."""
    import numpy as np

    recording = Recording(path)
    first, last = int(max(0.0, start) * RATE), int(end * RATE)
    held: list[Samples] = []
    place = 0
    try:
        for block in recording.samples():
            if place + len(block) > first:
                held.append(block[max(0, first - place) : max(0, last - place)])
            place += len(block)
            if place >= last:
                break
    finally:
        recording.close()
    cut = np.concatenate(held) if held else np.zeros(0, dtype=np.int16)
    if not len(cut):
        raise UnusableInput(f"{path} ends at {place / RATE:.1f} s: there is nothing at {start:.1f} s")
    return cut
