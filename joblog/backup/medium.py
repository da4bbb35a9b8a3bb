"""The folder of a backup: every object under the SHA-256 of its bytes, every state in one file.

It may be a stick of FAT (no links, no modes, no ":" in a name) or a folder that another program
synchronises, so nothing is believed for its name alone: an object counts when it has its length,
and is held against its SHA-256 before anything rests on it. Whatever stands in its place was
written under a passing name, put on the disk, read again from there, and only then renamed.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import shutil
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from secrets import token_hex
from typing import IO

from filelock import FileLock, Timeout

from joblog.backup.nouns import Kept
from joblog.book import media
from joblog.book.errors import BookError

FOLDER = "joblog backup"
READ_ME = "READ ME.txt"
OBJECTS, STATES, PASSING = "objects", "states", "passing"
IN_USE = "in use.lock"
_OURS = {OBJECTS, STATES, PASSING, IN_USE}
BLOCK = 1 << 20
"""Bytes that are read or written at once."""
BATCH = 64
"""Objects that are put on the disk together: one wait for the disk, not one for each."""
BATCH_BYTES = 64 << 20
DAMAGED = ".damaged"
"""The ending of an object or a state that is not what its name says: kept, and not believed."""
_OBJECT = re.compile(r"([0-9a-f]{64})(\.[a-z0-9]{1,8})?")


def found(folder: Path) -> Path:
    """Where the backup lies in a folder that was named. Raises `BookError` where none does."""
    for place in (folder, folder / FOLDER):
        if is_backup(place):
            return place
    if not folder.is_dir():
        raise BookError(f"{folder}: is not there. Plug it in, or name another folder.")
    raise BookError(f"{folder}: there is no backup here. Name the folder that joblog backup wrote.")


def is_backup(place: Path) -> bool:
    """Whether a backup was begun here. Raises PermissionError where nobody may look."""
    try:
        with (place / READ_ME).open("rb") as file:
            return file.read(len(FOLDER)) == FOLDER.encode()
    except PermissionError:
        if any(state_files(place)):
            return True
        raise
    except OSError:
        return any(state_files(place))


def state_files(place: Path) -> Iterator[Path]:
    """What may be states."""
    with suppress(OSError):
        yield from sorted((place / STATES).glob("*.json"))


class Medium:
    """A backup's folder. Raises OSError, and `BookError` where what was written reads otherwise."""

    def __init__(self, place: Path) -> None:
        self.place = place
        self.objects: dict[str, Held] = dict(_scanned(place))

    @classmethod
    def begun(cls, folder: Path) -> Medium:
        """The backup in a folder, begun where there is none: in the folder itself where it is
        empty. A folder that is not there is not made: a stick may not be plugged in."""
        for place in (folder, folder / FOLDER):
            if is_backup(place):
                break
        else:
            if folder.exists() and not folder.is_dir():
                raise BookError(f"{folder}: is a file where a folder should be. Name a folder.")
            if not folder.is_dir():
                raise BookError(
                    f"{folder}: is not there. Plug it in, or make the folder first and run again."
                )
            # Another program may be beginning it in this moment, or was killed as it did.
            place = folder if {one.name for one in folder.iterdir()} <= _OURS else folder / FOLDER
        for inside in (place, place / OBJECTS, place / STATES):
            inside.mkdir(mode=0o700, exist_ok=True)
        return cls(place)

    def explain(self, read_me: str) -> None:
        """Puts the text there that says what this is."""
        text, place = read_me.encode(), self.place
        # Another one is an older joblog's, or a damaged one; whoever finds the stick has only that.
        if not (place / READ_ME).is_file() or (place / READ_ME).read_bytes() != text:
            self.write(READ_ME, text)
        settle(place)

    def has(self, sha256: str, length: int | None = None) -> bool:
        """Whether an object is there, and whole as far as its length tells."""
        held = self.objects.get(sha256)
        return held is not None and (length is None or held.bytes == length)

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Held while anything is written; `BookError` where another program does that already."""
        lock = FileLock(self.place / IN_USE, timeout=0, mode=0o600)
        try:
            lock.acquire()
        except Timeout:
            raise BookError(
                f"{self.place}: another backup is being written here. Wait until that is done."
            ) from None
        except (OSError, NotImplementedError):
            yield  # Some network folders know no locks; objects are never half even so.
            return
        try:
            self._sweep()
            yield
        finally:
            with suppress(OSError):
                self._sweep()
            lock.release()

    def write(self, name: str, content: bytes) -> None:
        """Writes a small file, whole or not at all, and reads it again."""
        passing = self._passing()
        with passing.open("xb") as file:
            file.write(content)
            _to_disk(file)
        if read_again(passing) != hashlib.sha256(content).hexdigest():
            passing.unlink()
            raise failing(self.place)
        place = self.place / name
        passing.replace(place)
        settle(place.parent)

    def whole(self, sha256: str) -> bool:
        """Whether an object is there and, read to its end, is what its name says."""
        with suppress(OSError, KeyError):
            return read_again(self.objects[sha256].path) == sha256
        return False

    def look_at(self, sha256: str) -> bool:
        """Whether an object is whole. One that is not is not believed any more, and put aside.

        Raises OSError where not the object but the medium is gone.
        """
        held = self.objects[sha256]
        try:
            if read_again(held.path) == sha256:
                return True
        except OSError as error:
            if not (self.place / OBJECTS).is_dir():
                raise
            # What another program has taken away or not brought yet may come back by itself.
            rotten = error.errno == errno.EIO
        else:
            rotten = True
        del self.objects[sha256]
        if rotten:
            with suppress(OSError):
                held.path.replace(held.path.with_name(held.path.name + DAMAGED))
        return False

    def read(self, sha256: str) -> bytes | None:
        """The bytes of an object; None where it is not there, or is not what its name says."""
        held = self.objects.get(sha256)
        if held is None:
            return None
        try:
            content = held.path.read_bytes()
        except OSError:
            return None
        return content if hashlib.sha256(content).hexdigest() == sha256 else None

    def delete(self, sha256: str) -> None:
        self.objects.pop(sha256).path.unlink(missing_ok=True)

    def _passing(self) -> Path:
        folder = self.place / PASSING
        folder.mkdir(mode=0o700, exist_ok=True)
        return folder / f"{token_hex(8)}.part"

    def _sweep(self) -> None:
        """Removes what killed backups left half written."""
        with suppress(FileNotFoundError):
            for left in (self.place / PASSING).iterdir():
                left.unlink(missing_ok=True)
            (self.place / PASSING).rmdir()


@dataclass(frozen=True, slots=True)
class Held:
    """An object as it lies there."""

    path: Path
    bytes: int


@dataclass(slots=True)
class Writing:
    """Objects on their way to the medium. Use it in a `with`: at its end all are in their places.

    Where it is left by an error, what is not in its place is taken away again.
    """

    medium: Medium
    objects: int = 0
    length: int = 0
    """Their bytes."""
    _waiting: dict[str, tuple[Path, str, IO[bytes]]] = field(default_factory=dict)
    _unsettled: int = 0
    _touched: set[Path] = field(default_factory=set)

    def put(self, blocks: Iterable[bytes], sha256: str | None = None, ending: str = "") -> str:
        """Writes one object; its SHA-256. With `sha256`, and other bytes than that, nothing comes
        of it. It is in its place after `settle`."""
        passing = self.medium._passing()
        digest, length = hashlib.sha256(), 0
        # Kept open until it is on the disk.
        file = passing.open("xb")
        try:
            for block in blocks:
                file.write(block)
                digest.update(block)
                length += len(block)
            file.flush()
        except BaseException:
            _dropped(passing, file)
            raise
        name = digest.hexdigest()
        there = name in self._waiting or self.medium.has(name, length)
        if there or (sha256 is not None and name != sha256):
            _dropped(passing, file)
            return name
        self._waiting[name] = passing, ending, file
        self.objects += 1
        self.length += length
        self._unsettled += length
        if len(self._waiting) >= BATCH or self._unsettled >= BATCH_BYTES:
            self.settle()
        return name

    def settle(self) -> None:
        """Puts on the disk what waits, reads it again from there, and names it."""
        for _, _, file in self._waiting.values():
            _to_disk(file)
        for name, (passing, ending, file) in self._waiting.items():
            length = file.tell()
            file.close()
            if read_again(passing) != name:
                raise failing(self.medium.place)
            place = self.medium.place / OBJECTS / name[:2] / (name + ending)
            if not place.parent.is_dir():
                place.parent.mkdir(mode=0o700, exist_ok=True)
                self._touched.add(place.parent.parent)
            passing.replace(place)
            self._touched.add(place.parent)
            self.medium.objects[name] = Held(place, length)
        self._waiting, self._unsettled = {}, 0

    def __enter__(self) -> Writing:
        return self

    def __exit__(self, kind: type[BaseException] | None, *error: object) -> None:
        try:
            if kind is None:
                self.settle()
                # Names need be on the disk before a state counts on them, and no sooner.
                for folder in self._touched:
                    settle(folder)
        finally:
            for passing, _, file in self._waiting.values():
                _dropped(passing, file)


def read_again(path: Path) -> str:
    """SHA-256 of a file's bytes as they are on the medium, not in memory, where the system can."""
    with path.open("rb", buffering=0) as file:
        if hasattr(os, "posix_fadvise"):
            os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)
        elif sys.platform == "darwin":
            import fcntl

            fcntl.fcntl(file.fileno(), fcntl.F_NOCACHE, 1)
        return hashlib.file_digest(file, "sha256").hexdigest()


def blocks(path: Path, length: int = BLOCK) -> Iterator[bytes]:
    """The bytes of a file, so many at a time."""
    with path.open("rb") as file:
        while block := file.read(length):
            yield block


def room(folder: Path) -> int:
    """Bytes that are free there."""
    return shutil.disk_usage(folder).free


def settle(folder: Path) -> None:
    """Puts a folder's list of names on the disk, where its file system has a call for it."""
    try:
        media.settle(folder)
    except OSError as error:
        if error.errno not in (errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES):
            raise


def failing(place: Path) -> BookError:
    return BookError(
        f"{place}: what was written there reads otherwise. This stick or disk is failing: take"
        " another one. What was there before was left as it is."
    )


def missing(medium: Medium, kept: Kept) -> list[str]:
    """Which of the objects of a file are not there."""
    return [one for one in (*kept.pieces, *kept.parity) if not medium.has(one)]


def _dropped(passing: Path, file: IO[bytes]) -> None:
    with suppress(OSError):
        file.close()  # What it could not write it tries once more here.
    with suppress(OSError):
        passing.unlink(missing_ok=True)


def _to_disk(file: IO[bytes]) -> None:
    file.flush()
    os.fsync(file.fileno())


def _scanned(place: Path) -> Iterator[tuple[str, Held]]:
    with suppress(FileNotFoundError):
        for folder in (place / OBJECTS).iterdir():
            if len(folder.name) != 2 or not folder.is_dir():
                continue
            with os.scandir(folder) as listed:
                for one in listed:
                    name = _OBJECT.fullmatch(one.name)
                    if name and one.is_file(follow_symlinks=False):
                        yield name[1], Held(Path(one.path), one.stat(follow_symlinks=False).st_size)
