"""The originals, byte for byte, each under the SHA-256 of its bytes: `media/ab/abcd….jpg`.

A file is copied to `media/incoming` under a passing name and takes its place in one step when its
last byte is on disk, so whatever stands in its place is whole. (It cannot be written beside its
place: the name of that folder is known only when the last byte has been read.)
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from secrets import token_hex
from typing import IO

from filelock import FileLock, Timeout

PIECE = 1 << 20
INCOMING = "incoming"
TABLES = ("recording", "photo", "track")
"""Those whose rows are an original each."""
DAMAGED = "damaged"
"""Where a damaged original is kept once the good one is in its place again."""


@dataclass(frozen=True, slots=True)
class Stowed:
    """An original in the store: `media` is its path below the store, `bytes` its length."""

    sha256: str
    media: str
    bytes: int


def in_all(columns: str) -> str:
    """The SQL for these columns of every original of a book."""
    return " UNION ALL ".join(f"SELECT {columns} FROM {table}" for table in TABLES)


def stow(store: Path, source: Path, passing_in: Path | None = None) -> Stowed:
    """Keeps a copy of `source`, reading it once; its like being there already changes nothing.

    `passing_in` is a folder on the same disk to copy it to first. In the store's own only he may
    who holds `in_use`: anyone else's copy there could be swept away. Raises OSError.
    """
    incoming = passing_in or incoming_of(store)
    store.mkdir(mode=0o700, parents=True, exist_ok=True)
    incoming.mkdir(mode=0o700, exist_ok=True)
    passing = incoming / f"{token_hex(8)}.part"
    try:
        with source.open("rb") as reading:
            sha256, length = _copied(_pieces(reading.fileno()), passing)
        place = place_of(sha256, source.name)
        _move(passing, store / place)
    finally:
        passing.unlink(missing_ok=True)
    return Stowed(sha256, place, length)


def place_of(sha256: str, told: str) -> str:
    """Where an original has its place below the store; `told` ends as the file that it came as."""
    return f"{sha256[:2]}/{sha256}.{_ending(Path(told))}"


def stow_from(store: Path, reading: IO[bytes], place: str) -> bool:
    """Keeps what is read in a place of the store; False, and nothing kept, where it is not what its
    place is named after. Only he may who holds `in_use`. Raises OSError."""
    passing = incoming_of(store) / f"{token_hex(8)}.part"
    try:
        sha256, _ = _copied(iter(lambda: reading.read(PIECE), b""), passing)
        whole = sha256 == Path(place).stem
        if whole:
            _move(passing, store / place)
    finally:
        passing.unlink(missing_ok=True)
    return whole


def is_whole(place: Path, sha256: str) -> bool:
    """Whether a file is there and has that SHA-256. Raises OSError."""
    return place.is_file() and fingerprint(place) == sha256


def fingerprint(path: Path) -> str:
    """SHA-256 of a file's bytes, in hexadecimal. Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def put_aside(store: Path, place: Path) -> Path:
    """Moves a damaged original out of its place, and deletes nothing; where it is then."""
    aside = store / DAMAGED
    aside.mkdir(mode=0o700, exist_ok=True)
    kept = aside / f"{place.stem}.{token_hex(4)}{place.suffix}"
    place.replace(kept)
    settle(aside)
    return kept


def discard(store: Path, stowed: Stowed) -> None:
    """Takes an original out again that the book, for some reason, is not going to hold."""
    (store / stowed.media).unlink(missing_ok=True)


def incoming_of(store: Path) -> Path:
    """Where what passes is put, made where it is not there yet: `sweep` takes what stays there."""
    store.mkdir(mode=0o700, parents=True, exist_ok=True)
    incoming = store / INCOMING
    incoming.mkdir(mode=0o700, exist_ok=True)
    return incoming


def sweep(store: Path) -> int:
    """Removes what killed copies left behind, unless one is running now; how many there were."""
    if not (store / INCOMING).is_dir():
        return 0
    try:
        with in_use(store):
            left = list((store / INCOMING).iterdir())
            for passing in left:
                passing.unlink(missing_ok=True)
            return len(left)
    except Timeout:
        return 0


def in_use(store: Path) -> FileLock:
    """A lock that says files are coming in; entering it raises `filelock.Timeout` if one holds it.

    It goes when its holder does, however that ends.
    """
    store.mkdir(mode=0o700, parents=True, exist_ok=True)
    return FileLock(store / "incoming.lock", timeout=0, mode=0o600)


def _copied(pieces: Iterable[bytes], passing: Path) -> tuple[str, int]:
    digest, length = hashlib.sha256(), 0
    # `Path.open` takes no opener.
    with open(passing, "xb", opener=for_its_owner) as writing:
        for piece in pieces:
            digest.update(piece)
            writing.write(piece)
            length += len(piece)
        writing.flush()
        os.fsync(writing.fileno())
    return digest.hexdigest(), length


def for_its_owner(path: str, flags: int) -> int:
    """An opener for `open`: nobody but the owner may read what it makes."""
    return os.open(path, flags, 0o600)


def _pieces(descriptor: int) -> Iterator[bytes]:
    while piece := os.read(descriptor, PIECE):
        yield piece


def _move(passing: Path, place: Path) -> None:
    if place.exists():
        if fingerprint(place) == place.stem:
            return
        put_aside(place.parents[1], place)
    if not place.parent.is_dir():
        place.parent.mkdir(mode=0o700, exist_ok=True)
        settle(place.parent.parent)
    passing.replace(place)
    settle(place.parent)


def settle(folder: Path) -> None:
    """Puts a folder's list of names on disk. Windows does that by itself and offers no call."""
    if os.name == "nt":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _ending(source: Path) -> str:
    ending = source.suffix.lstrip(".").lower()
    return ending if ending.isascii() and ending.isalnum() and len(ending) <= 8 else "bin"
