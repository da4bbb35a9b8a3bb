"""The whole day as sound, by choice: Ogg Opus at about 24 kbit/s, a file an hour.

It is no original and is never taken in by itself: what was said is kept in the book in any case.
Every file can be played up to the last second or so, however the program ended.
"""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from types import TracebackType
from typing import Any
from zoneinfo import ZoneInfo

import av
import numpy as np
from numpy.typing import NDArray

from joblog.audio.decode import RATE

BITS = 24_000
"""A second, of what Opus calls good speech; 10.8 MB an hour."""
PAGE = 0.5
"""Seconds of sound that are written in one piece; the last piece or two a kill may take."""
AN_HOUR = timedelta(hours=1)
GAP = timedelta(seconds=1)
"""Where more than this is missing another file is begun, so that its time in a file is true."""
RESERVE = 300_000_000
"""Bytes on the disk that are left for what is said and for the book."""
LOOK = 60 * RATE
"""Samples after which the room on the disk is looked at again."""


class DayRecorder:
    """Records into `folder`/2026-10-05/07-30-00.opus, by the clock of `zone`. Close it at the end.

    When the disk is full or refuses, it stops, says so once in one plain line to `tell`, and takes
    no more; it never raises for that, since listening has to go on.
    """

    def __init__(self, folder: Path, zone: str, tell: Callable[[str], None]) -> None:
        self.folder = folder
        self.trouble: str | None = None
        """Why it stopped, in one plain line; None while it records."""
        self._zone, self._tell = ZoneInfo(zone), tell
        self._file: _File | None = None
        self._before, self._samples, self._unlooked = 0, 0, LOOK

    def write(self, sound: NDArray[np.int16], at: datetime) -> None:
        """Records mono sound at 16 kHz whose first sample was taken at `at`."""
        if self.trouble is not None or not len(sound):
            return
        try:
            self._look_at_the_room(len(sound))
            self._file_for(at).write(sound)
        except (OSError, av.FFmpegError) as error:
            self._stop(f"{_why(error)} Listening goes on.")
            return
        self._samples += len(sound)

    def close(self) -> None:
        """Ends the last file."""
        try:
            self._end_file()
        except (OSError, av.FFmpegError) as error:
            self._stop(_why(error))

    @property
    def bytes(self) -> int:
        """How large all that it recorded is so far."""
        return self._before + (self._file.bytes if self._file else 0)

    @property
    def size(self) -> str:
        """Its size for a person: "34 MB of the day so far, 11 MB an hour"."""
        hours = self._samples / RATE / 3600
        rate = self.bytes / hours if hours > 1 / 60 else BITS / 8 * 3600
        return f"{self.bytes / 1e6:.0f} MB of the day so far, {rate / 1e6:.0f} MB an hour"

    def __enter__(self) -> DayRecorder:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _file_for(self, at: datetime) -> _File:
        """The file that is being written, or a new one where an hour, a day or a gap begins."""
        local = at.astimezone(self._zone)
        if self._file is not None and not self._file.goes_on(local):
            self._end_file()
        if self._file is None:
            self._file = _File(_free(self.folder, local), local)
        return self._file

    def _end_file(self) -> None:
        ending, self._file = self._file, None
        if ending is not None:
            try:
                ending.close()
            finally:
                self._before += ending.bytes

    def _look_at_the_room(self, samples: int) -> None:
        self._unlooked += samples
        if self._unlooked < LOOK:
            return
        self._unlooked = 0
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if shutil.disk_usage(self.folder).free < RESERVE:
            raise _NoRoomError(f"less than {RESERVE // 1_000_000} MB are left on the disk.")

    def _stop(self, why: str) -> None:
        with suppress(OSError, av.FFmpegError):
            self._end_file()
        if self.trouble is None:
            self.trouble = f"{self.folder}: the day is recorded no further: {why}"
            self._tell(self.trouble)


class _NoRoomError(OSError):
    """Its text is for a person already."""


class _OnDisk:
    """A new file that holds nothing back: what is written to it survives a kill."""

    def __init__(self, path: Path) -> None:
        path.parent.mkdir(mode=0o700, exist_ok=True)
        # Not even the owner's group may listen to it.
        self._descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, 0o600)
        self.bytes = 0

    def write(self, data: bytes) -> int:
        written = os.write(self._descriptor, data)
        self.bytes += written
        return written

    def close(self) -> None:
        os.close(self._descriptor)


_BINARY = getattr(os, "O_BINARY", 0)
"""Windows would change the ends of lines."""


class _File:
    """One file of the day while it is being written."""

    def __init__(self, path: Path, begun: datetime) -> None:
        self._begun, self._samples = begun, 0
        self._disk = _OnDisk(path)
        pages = {"page_duration": str(round(PAGE * 1e6)), "flush_packets": "1"}
        self._container: Any = av.open(self._disk, "w", format="ogg", options=pages)
        self._stream: Any = self._container.add_stream("libopus", rate=RATE, layout="mono")
        self._stream.bit_rate = BITS
        said = begun.astimezone(UTC).isoformat(timespec="milliseconds")
        self._container.metadata["date"] = said

    @property
    def bytes(self) -> int:
        return self._disk.bytes

    def goes_on(self, at: datetime) -> bool:
        """Whether sound of that moment belongs into this file, and there at its end."""
        due = self._begun + timedelta(seconds=self._samples / RATE)
        return (
            abs(at - due) <= GAP and at - self._begun < AN_HOUR and at.date() == self._begun.date()
        )

    def write(self, sound: NDArray[np.int16]) -> None:
        frame: Any = av.AudioFrame.from_ndarray(
            np.ascontiguousarray(sound)[None, :], format="s16", layout="mono"
        )
        frame.sample_rate, frame.pts = RATE, self._samples
        self._samples += len(sound)
        for packet in self._stream.encode(frame):
            self._container.mux(packet)

    def close(self) -> None:
        try:
            for packet in self._stream.encode(None):
                self._container.mux(packet)
        finally:
            try:
                self._container.close()
            finally:
                self._disk.close()


def _free(folder: Path, begun: datetime) -> Path:
    """A name in the folder of the day that nothing has yet."""
    day, clock = folder / f"{begun:%Y-%m-%d}", f"{begun:%H-%M-%S}"
    names = (f"{clock}{f'-{number}' * (number > 1)}.opus" for number in count(1))
    return next(path for name in names if not (path := day / name).exists())


def _why(error: BaseException) -> str:
    if isinstance(error, _NoRoomError):
        return str(error)
    if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full."
    return f"the disk refuses ({getattr(error, 'strerror', None) or error})."
