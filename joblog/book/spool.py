"""Utterances that were caught and are not in the book yet, each a whole sound file on the disk.

What is said is put here before anything else is done with it, so that a dead battery loses no more
than the sentence being said. Each is a WAV file (16 bits, mono, 16 kHz) in the folder `listening`
of the book, named by the moment of its first sample, `20261005T183107250Z.wav`, which its LIST/INFO
chunk tells as well: so it dates itself wherever it goes, and the same sound at another time is
another file. One listener at a time may hold the spool of a book.
"""

from __future__ import annotations

import os
import re
import struct
import wave
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from filelock import FileLock, Timeout

from joblog.book.errors import BookError
from joblog.book.media import for_its_owner, settle
from joblog.book.schema import plainly
from joblog.book.store import Book

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FOLDER = "listening"
RATE = 16_000
"""Samples a second."""
MOST = 600 * RATE
"""Samples; no utterance comes near it."""
PASSING = ".part"
"""The ending of what is not whole yet."""
ASIDE = "cut off"
"""The folder in it where what a kill cut off is kept."""
SAID = "said.wav"
"""What passes there on its way from a voice to the loudspeaker."""


class Spool:
    """The utterances of a book that wait to be kept. Close it, or use it in a `with`.

    It may be put to from any thread, also while another one keeps what waits. Raises `BookError`,
    in words for a person, when the disk refuses, and when the book is being listened for already.
    """

    def __init__(self, book: Book) -> None:
        self.folder = folder_of(book)
        with plainly(self.folder):
            if not self.folder.is_dir():
                self.folder.mkdir(mode=0o700)
                settle(book.folder)
            self._lock = FileLock(
                self.folder / "listening.lock", timeout=0, mode=0o600, thread_local=False
            )
            try:
                self._lock.acquire()
            except Timeout:
                raise BookError(
                    f"{book.folder}: is being listened for already. Stop that first."
                ) from None
            try:
                for left in self.folder.glob(f"*{PASSING}"):
                    _put_aside(left)
                (self.folder / SAID).unlink(missing_ok=True)
            except OSError:
                self._lock.release()
                raise

    def close(self) -> None:
        self._lock.release()

    def __enter__(self) -> Spool:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def put(self, sound: NDArray[np.int16], at: datetime) -> Path:
        """Keeps an utterance, mono at 16 kHz, whose first sample was taken at `at`; its file.

        It is on the disk, name and all, when this returns.
        """
        moment = to_the_millisecond(at)
        path = self._free(moment)
        passing = path.with_suffix(PASSING)
        with plainly(path):
            try:
                with open(passing, "xb", opener=for_its_owner) as file:
                    file.write(_head(len(sound), moment))
                    file.write(sound.astype("<i2", casting="safe", copy=False).tobytes())
                    file.flush()
                    os.fsync(file.fileno())
                passing.replace(path)
                settle(self.folder)
            finally:
                passing.unlink(missing_ok=True)
        return path

    def waiting(self) -> tuple[tuple[Path, datetime], ...]:
        """The utterances that are not done, each whole, with its moment, as they were said."""
        return _waiting(self.folder)

    def sound(self, path: Path) -> NDArray[np.int16]:
        """The samples of an utterance."""
        return sound_of(path)

    def done(self, path: Path) -> None:
        """The utterance is in the book, and waits no longer."""
        done(path)

    def _free(self, moment: datetime) -> Path:
        """A name that nothing has: one who goes on speaking is heard again from the same moment."""
        stamp = f"{moment:%Y%m%dT%H%M%S}{moment.microsecond // 1000:03}Z"
        names = (f"{stamp}{f'-{number}' * (number > 1)}.wav" for number in count(1))
        return next(path for name in names if not (path := self.folder / name).exists())


def folder_of(book: Book) -> Path:
    """Where the utterances of a book wait."""
    return book.folder / FOLDER


def waiting(book: Book) -> tuple[tuple[Path, datetime], ...]:
    """The same as `Spool.waiting`, for one who does not listen himself; nothing without a spool."""
    folder = folder_of(book)
    return _waiting(folder) if folder.is_dir() else ()


def is_named_so(name: str) -> bool:
    """Whether a recording is named as listening names what it caught."""
    return _put_at(name) is not None


def to_the_millisecond(at: datetime) -> datetime:
    """The moment as a spooled file tells it, in UTC."""
    exact = at.astimezone(UTC)
    return exact - timedelta(microseconds=exact.microsecond % 1000)


def sound_of(path: Path) -> NDArray[np.int16]:
    """The samples of a spooled utterance. Raises `BookError` for a file that is none."""
    return sound_and_end(path)[0]


def sound_and_end(path: Path) -> tuple[NDArray[np.int16], bool]:
    """The samples of a spooled utterance, and whether they are all that its head speaks of.

    No codec is asked: the file is as listening wrote it, or none. Raises `BookError`.
    """
    import numpy as np

    with plainly(path):
        try:
            with path.open("rb") as file, wave.open(file) as sound:
                form = (sound.getnchannels(), sound.getsampwidth(), sound.getframerate())
                said = sound.getnframes()
                samples = sound.readframes(min(said, MOST + 1)) if form == _FORM else b""
        except (wave.Error, EOFError, RuntimeError):  # The last where a head leads beyond its end.
            form, said, samples = (0, 0, 0), 0, b""
    count = len(samples) // 2
    if form != _FORM or count > MOST:
        raise BookError(f"{path}: is no utterance that listening kept. Add it with: joblog add")
    return np.frombuffer(samples, "<i2", count).astype(np.int16), count == said


_FORM = (1, 2, RATE)
"""Channels, bytes of a sample, samples a second."""


def done(path: Path) -> None:
    """Takes an utterance out of the spool; one that is gone already is none to take."""
    with plainly(path):
        path.unlink(missing_ok=True)


def _put_aside(left: Path) -> None:
    """Keeps what was written of an utterance when that was cut off, where there is any sound."""
    if left.stat().st_size <= len(_head(0, datetime.now(UTC))):
        left.unlink(missing_ok=True)
        return
    aside = left.parent / ASIDE
    aside.mkdir(mode=0o700, exist_ok=True)
    left.replace(aside / f"{left.stem}.wav")
    settle(aside)


def _waiting(folder: Path) -> tuple[tuple[Path, datetime], ...]:
    with plainly(folder):
        found = [(*put, path) for path in folder.iterdir() if (put := _put_at(path.name))]
    return tuple((path, at) for at, _, path in sorted(found))


def _put_at(name: str) -> tuple[datetime, int] | None:
    """The moment that a name tells, and which one of that moment; None for another's name."""
    found = _NAME.fullmatch(name)
    with suppress(ValueError):
        if found:
            return datetime.strptime(found[1], _STAMP).replace(tzinfo=UTC), int(found[2] or 1)
    return None


def _head(length: int, moment: datetime) -> bytes:
    """All of a WAV file that stands before its samples."""
    said = moment.isoformat(timespec="milliseconds").encode() + b"\0"
    date = b"INFO" + _chunk(b"ICRD", said + b"\0" * (len(said) % 2))
    form = struct.pack("<HHIIHH", 1, 1, RATE, 2 * RATE, 2, 16)
    data = b"data" + struct.pack("<I", 2 * length)
    body = b"WAVE" + _chunk(b"fmt ", form) + _chunk(b"LIST", date) + data
    return b"RIFF" + struct.pack("<I", len(body) + 2 * length) + body


def _chunk(name: bytes, content: bytes) -> bytes:
    return name + struct.pack("<I", len(content)) + content


_STAMP = "%Y%m%dT%H%M%S%fZ"
_NAME = re.compile(r"([0-9]{8}T[0-9]{9}Z)(?:-([0-9]+))?\.wav")
