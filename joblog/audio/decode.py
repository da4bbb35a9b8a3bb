"""Any recording as mono float32 at 16 kHz, a second at a time."""

from __future__ import annotations

import os
import struct
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, BinaryIO

import av
import numpy as np
from numpy.typing import NDArray

from joblog import pulse

RATE = 16_000
"""Samples per second of everything that leaves this room's door."""

Samples = NDArray[np.float32]

SLOWEST, FASTEST = 4_000, 768_000
"""Samples per second that a recorder may write; other figures come from damage."""
LONGEST = 48 * 3600
"""Seconds. A recorder left running on the site for a day makes 24 hours, forgotten once more 48;
a few kilobytes can be made to hold silence for years."""
HOLE = 0.05
"""Seconds between one piece's end and the next one's start that are no rounding."""
TIMED = ("flac", "matroska", "mov", "ogg", "wav")
"""Kinds of files in which every sound has its time, so that one can begin in the middle."""
NEAR = 60.0
"""Seconds up to which everything is decoded from the beginning: that takes no time."""
LEAD = 1.0
"""Seconds before the wanted ones, for decoders that need some before they are right again."""
_TAGS: dict[str, Any] = (
    {} if int(av.__version__.partition(".")[0]) >= 19 else {"metadata_errors": "replace"}
)
"""Tags in an old encoding must not keep a recording from being read; PyAV 19 sees to it itself."""


class AudioError(Exception):
    """A file out of which no sound can be had; `why` is a plain phrase for a person."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"{path}: {why}")
        self.path = path
        self.why = why


class Stream:
    """The blocks of one recording, in order, once.

    After the last block `seconds` is how much sound there was, and `trouble` a plain phrase if
    the recording breaks off or has holes, else None. `begins` is how many seconds of the recording
    were left out before the first block: no more than `start`.
    """

    def __init__(self, path: Path, start: float = 0.0) -> None:
        self.trouble: str | None = None
        self.seconds = 0.0
        self.begins = 0.0
        self._start = start
        self._missing = 0.0
        self._damaged = False
        self._broken_off = False
        self._blocks = self._decoded(path)
        self._first: Samples | None = next(self._blocks, None)
        if self._first is None:
            raise AudioError(path, self.trouble or "holds no sound; record it again")

    def __iter__(self) -> Iterator[Samples]:
        return self

    def __next__(self) -> Samples:
        block, self._first = self._first, None
        if block is None:
            block = next(self._blocks)
        self.seconds += len(block) / RATE
        return block

    def _decoded(self, path: Path) -> Iterator[Samples]:
        count = 0
        with opened(path) as (file, container):
            sound = container.streams.best("audio")
            if sound is None:
                kind = container.format.long_name or container.format.name
                raise AudioError(path, f"is no sound recording (it looks like {kind})")
            if sound.codec_context is None:  # asked to decode it all the same, PyAV 14 dies
                why = "holds sound in a form that cannot be read; save it as another kind of file"
                raise AudioError(path, why)
            declared = _declared_seconds(file, container, sound)
            for block in _seconds_of(self._floats(self._frames_from_start(container, sound))):
                pulse.goes_on()
                count += len(block)
                if count > LONGEST * RATE:
                    raise AudioError(
                        path, f"is longer than {LONGEST // 3600} hours; cut it and add the parts"
                    )
                yield block
            lacks_end = _lacks_end(file, container)
        self.trouble = self._verdict(self.begins + count / RATE, declared, lacks_end)

    def _frames_from_start(self, container: Any, sound: Any) -> Iterator[Any]:
        """Every frame; of a file that says when each one sounds, none from long before `start`.

        A recording's own time may begin anywhere: its first sound is where counting begins.
        """
        frames = self._frames(container, sound)
        first = next(frames, None)
        kind = container.format.name.split(",")[0]
        if first is not None and first.time is not None and kind in TIMED and self._start > NEAR:
            with suppress(av.FFmpegError, OSError):  # it is told by the next frame where this led
                wanted = first.time + self._start - LEAD
                container.seek(int(wanted / sound.time_base), stream=sound)
            frames = self._frames(container, sound)
            zero, first = first.time, next(frames, None)
            if first is not None and first.time is not None:
                self.begins = max(0.0, first.time - zero)
        if first is not None:
            yield first
        yield from frames

    def _frames(self, container: Any, sound: Any) -> Iterator[Any]:
        """Every frame that decodes; what is missing between them is added up."""
        expected: float | None = None
        packets = container.demux(sound)
        while True:
            try:
                packet = next(packets)
            except StopIteration:
                return
            except (av.FFmpegError, OSError):
                self._broken_off = True
                return
            try:
                frames = packet.decode()
            except av.FFmpegError:
                self._damaged = self._broken_off = True
                continue
            for frame in frames:
                if not SLOWEST <= frame.sample_rate <= FASTEST:
                    self._damaged = True
                    continue
                if frame.time is not None:
                    if expected is not None and frame.time - expected > HOLE:
                        self._missing += frame.time - expected
                    expected = frame.time + frame.samples / frame.sample_rate
                self._broken_off = False
                yield frame

    def _floats(self, frames: Iterator[Any]) -> Iterator[Samples]:
        resampled: _Resampled | None = None
        form: tuple[Any, ...] | None = None
        for frame in frames:
            # Chained streams and some AAC change rate or channels on the way.
            before, form = form, (frame.format.name, frame.layout.name, frame.sample_rate)
            if resampled is not None and form != before:
                yield from resampled.rest()
            if resampled is None or form != before:
                resampled = _Resampled()
            frame.pts = None
            try:
                yield from resampled.over(frame)
            except av.FFmpegError:  # damage that decoded into channels that cannot be
                self._damaged = True
                resampled, form = None, None
        if resampled is not None:
            yield from resampled.rest()

    def _verdict(self, seconds: float, declared: float, lacks_end: bool) -> str | None:
        if declared - seconds - self._missing > max(0.5, 0.01 * declared):
            return f"ends early: {seconds:.1f} s of {declared:.1f} s are there"
        if self._broken_off or lacks_end:
            return f"ends early: cut off after {seconds:.1f} s"
        if self._damaged or self._missing:
            return f"is damaged: {max(self._missing, 0.1):.1f} s or more of it are missing"
        return None


def blocks(path: Path, start: float = 0.0) -> Stream:
    """The recording's sound in blocks of a second, mono float32 at 16 kHz, -1 to 1.

    With `start`, in seconds, what comes long before it may be left out; see `Stream.begins`. Memory
    does not grow with the recording's length. Raises `AudioError` when nothing of it can
    be decoded; when it breaks off later, the blocks end and `Stream.trouble` says so.
    """
    return Stream(path, start)


def samples(path: Path) -> Samples:
    """The whole recording at once, for short files; raises `AudioError` as `blocks` does."""
    return np.concatenate(list(blocks(path)))


@contextmanager
def opened(path: Path) -> Iterator[tuple[BinaryIO, Any]]:
    """The file and PyAV's container of it; raises `AudioError` when it is no recording."""
    try:
        if path.is_file() and path.stat().st_size == 0:
            raise AudioError(path, "is empty; record it again or copy it anew")
        if path.exists() and not path.is_file() and not path.is_dir():  # A pipe is waited for.
            raise AudioError(path, "is no ordinary file; give the recording itself")
        file = path.open("rb")
    except FileNotFoundError:
        raise AudioError(path, "is not there; check the name") from None
    except IsADirectoryError:
        raise AudioError(path, "is a folder, not a recording") from None
    except PermissionError:
        raise AudioError(path, "may not be read; give yourself permission to read it") from None
    except OSError as error:
        raise AudioError(path, f"cannot be read ({error.strerror})") from None
    with file:
        try:
            # A playlist can name addresses and other files: with no protocol allowed none is read.
            container = av.open(file, options={"protocol_whitelist": "none"}, **_TAGS)
        except (av.FFmpegError, OSError, ValueError):
            raise AudioError(
                path, "is no recording that can be read, or its beginning or index is missing"
            ) from None
        with container:
            yield file, container


def _declared_seconds(file: BinaryIO, container: Any, sound: Any) -> float:
    """The length the recording says it has; 0 where there is only a guess from the bit rate."""
    kind = container.format.name.split(",")[0]
    guessed = kind not in ("flac", "matroska", "mov") and not (
        kind == "mp3" and _says_its_length(file)
    )
    if guessed:
        return 0.0
    if sound.duration and sound.time_base:
        return float(sound.duration * sound.time_base)
    return float(container.duration or 0) / 1_000_000


def _says_its_length(file: BinaryIO) -> bool:
    beginning = _read_at(file, 0, 1 << 16)
    return b"Xing" in beginning or b"Info" in beginning


def _lacks_end(file: BinaryIO, container: Any) -> bool:
    """Whether a file that tells where it ends is shorter than that."""
    kind = container.format.name
    size = os.fstat(file.fileno()).st_size
    if kind == "wav":
        riff, length = struct.unpack("<4sI", _read_at(file, 0, 8))
        # A recorder that lost power leaves 0 there, a program that could not go back all ones.
        return bool(riff == b"RIFF" and length != 0xFFFFFFFF and size + 1 < length + 8)
    if kind == "ogg":
        ending = _read_at(file, max(0, size - (1 << 16)), 1 << 16)
        page = ending[ending.rfind(b"OggS") :]
        return not (len(page) > 5 and page[5] & 4)  # the flag of a stream's last page
    return False


def _read_at(file: BinaryIO, start: int, count: int) -> bytes:
    here = file.tell()
    file.seek(start)
    found = file.read(count)
    file.seek(here)  # where PyAV goes on reading
    return found


class _Resampled:
    """Frames of one form as mono floats at RATE.

    A second of silence within silence is not worked out, for silence comes of it: a day of it fits
    into a few kilobytes, and would take minutes.
    """

    def __init__(self) -> None:
        self._resampler: Any = av.AudioResampler(format="flt", layout="mono", rate=RATE)
        self._silent = 0
        """Samples of silence that went in since the last sound."""
        self._held = 0
        """And those that did not go in yet; less than a second."""
        self._like: Any = None

    def over(self, frame: Any) -> Iterator[Samples]:
        if not _is_silent(frame):
            yield from self._caught_up()
            self._silent = 0
        elif self._silent < frame.sample_rate:  # The sound before it is not all out.
            self._silent += frame.samples
        else:
            self._like = frame
            whole, self._held = divmod(self._held + frame.samples, frame.sample_rate)
            # A whole second more or less changes nothing for what comes behind it.
            yield np.zeros(whole * RATE, np.float32)
            return
        yield from _arrays(self._resampler.resample(frame))

    def rest(self) -> Iterator[Samples]:
        yield from self._caught_up()
        yield from _arrays(self._resampler.resample(None))

    def _caught_up(self) -> Iterator[Samples]:
        if not self._held:
            return
        like, count, self._held = self._like, self._held, 0
        channels, planar = like.layout.nb_channels, like.format.is_planar
        shape = (channels, count) if planar else (1, count * channels)
        nothing = np.zeros(shape, like.to_ndarray().dtype)
        frame = av.AudioFrame.from_ndarray(nothing, like.format.name, like.layout.name)
        frame.sample_rate = like.sample_rate
        yield from _arrays(self._resampler.resample(frame))


def _is_silent(frame: Any) -> bool:
    """Whether there is nothing but zeros in it."""
    channels = 1 if frame.format.is_planar else frame.layout.nb_channels
    count = frame.samples * channels * frame.format.bytes
    for plane in frame.planes:
        begin = bytes(memoryview(plane)[:16])
        if any(begin) or np.frombuffer(plane, np.uint8)[:count].any():
            return False
    return True


def _arrays(frames: list[Any]) -> Iterator[Samples]:
    for frame in frames:
        sound = np.nan_to_num(frame.to_ndarray().reshape(-1))  # float files can hold NaN
        yield np.clip(sound, -1.0, 1.0).astype(np.float32)


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
