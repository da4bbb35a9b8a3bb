"""Any recording as mono float32 at 16 kHz, a second at a time."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import av
import numpy as np
from numpy.typing import NDArray

RATE = 16_000
"""Samples per second of everything that leaves this room's door."""

Samples = NDArray[np.float32]

DECLARED = ("aiff", "caf", "flac", "matroska", "mov", "w64", "wav")
"""Containers that say how long they are; the others' durations are guessed from the bit rate."""


class AudioError(Exception):
    """A file out of which no sound can be had; `why` is a plain sentence for a person."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"{path}: {why}")
        self.path = path
        self.why = why


class Stream:
    """The blocks of one recording, in order, once.

    After the last block `seconds` is how much sound there was and `trouble` is a plain sentence
    if the recording broke off or had holes, else None.
    """

    def __init__(self, path: Path) -> None:
        self.trouble: str | None = None
        self.seconds = 0.0
        self._blocks = self._decoded(path)
        try:
            self._first: Samples | None = next(self._blocks)
        except StopIteration:
            raise AudioError(path, self.trouble or "holds no sound; record it again") from None

    def __iter__(self) -> Iterator[Samples]:
        return self

    def __next__(self) -> Samples:
        block, self._first = self._first, None
        if block is None:
            block = next(self._blocks)
        self.seconds += len(block) / RATE
        return block

    def _decoded(self, path: Path) -> Iterator[Samples]:
        with _opened(path) as file, _container(path, file) as container:
            sound = container.streams.best("audio")
            if sound is None:
                raise AudioError(path, f"is no sound recording (it looks like {_kind(container)})")
            declared = _declared_seconds(container, sound)
            count = 0
            for block in _seconds_of(_resampled(self._frames(container, sound))):
                count += len(block)
                yield block
            if declared - count / RATE > max(0.5, 0.01 * declared) and self.trouble is None:
                self.trouble = f"ends early: {count / RATE:.1f} s of {declared:.1f} s are there"

    def _frames(self, container: Any, sound: Any) -> Iterator[Any]:
        """Every frame that decodes; what does not is counted into `trouble`."""
        damaged = 0
        packets = container.demux(sound)
        while True:
            try:
                packet = next(packets)
            except StopIteration:
                break
            except (av.FFmpegError, OSError):
                self.trouble = "ends early: the rest of the file cannot be read"
                return
            try:
                yield from packet.decode()
            except av.FFmpegError:
                damaged += 1
        if damaged:
            self.trouble = f"is damaged: {damaged} pieces of it could not be read"


def blocks(path: Path) -> Stream:
    """The recording's sound in blocks of a second, mono float32 at 16 kHz, -1 to 1.

    Memory does not grow with the recording's length. Raises `AudioError` when nothing of it can
    be decoded; when it breaks off later, the blocks end and `Stream.trouble` says so.
    """
    return Stream(path)


def samples(path: Path) -> Samples:
    """The whole recording at once, for short files; raises `AudioError` as `blocks` does."""
    return np.concatenate(list(blocks(path)))


def _opened(path: Path) -> Any:
    try:
        if path.stat().st_size == 0 and path.is_file():
            raise AudioError(path, "is empty; record it again or copy it anew")
        return path.open("rb")
    except FileNotFoundError:
        raise AudioError(path, "is not there; check the name") from None
    except IsADirectoryError:
        raise AudioError(path, "is a folder, not a recording") from None
    except PermissionError:
        raise AudioError(path, "may not be read; give yourself permission to read it") from None
    except OSError as error:
        raise AudioError(path, f"cannot be read ({error.strerror})") from None


def _container(path: Path, file: Any) -> Any:
    try:
        # A playlist can name an address; no protocol is allowed, so nothing is ever fetched.
        return av.open(file, options={"protocol_whitelist": "none"}, metadata_errors="replace")
    except (av.FFmpegError, OSError, ValueError):
        raise AudioError(
            path, "is not a recording that can be read, or its beginning or index is missing"
        ) from None


def _kind(container: Any) -> str:
    return str(container.format.long_name or container.format.name)


def _declared_seconds(container: Any, sound: Any) -> float:
    if container.format.name.split(",")[0] not in DECLARED:
        return 0.0
    if sound.duration and sound.time_base:
        return float(sound.duration * sound.time_base)
    return float(container.duration or 0) / 1_000_000


def _resampled(frames: Iterator[Any]) -> Iterator[Samples]:
    resampler, form = None, None
    for frame in frames:
        # Chained streams and some AAC change rate or channels on the way.
        if form != (form := (frame.format.name, frame.layout.name, frame.sample_rate)):
            if resampler is not None:
                yield from _floats(resampler.resample(None))
            resampler = av.AudioResampler(format="flt", layout="mono", rate=RATE)
        frame.pts = None
        assert resampler is not None
        yield from _floats(resampler.resample(frame))
    if resampler is not None:
        yield from _floats(resampler.resample(None))


def _floats(frames: list[Any]) -> Iterator[Samples]:
    for frame in frames:
        sound = frame.to_ndarray().reshape(-1)
        # A float recording can hold infinities and figures that are no numbers.
        yield np.clip(np.nan_to_num(sound, copy=False), -1.0, 1.0).astype(np.float32, copy=False)


def _seconds_of(pieces: Iterator[Samples]) -> Iterator[Samples]:
    waiting: list[Samples] = []
    length = 0
    for piece in pieces:
        waiting.append(piece)
        length += len(piece)
        if length >= RATE:
            whole = np.concatenate(waiting)
            cut = length - length % RATE
            yield from np.split(whole[:cut], cut // RATE)
            waiting, length = [whole[cut:]], length - cut
    if length:
        yield np.concatenate(waiting)
