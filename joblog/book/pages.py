"""A checksum of every page of the book's file, beside it: so that even a bit is missed which turned
where nothing is written.

They are noted of a file that is closed, and hold as long as it is the very one: whatever writes in
it changes when it was last written (`looked_at`). joblog forgets them before it writes, for a power
cut may keep what was written and lose when that was. The pages are read through SQLite, for whoever
opens the file beside it takes its locks away.
"""

from __future__ import annotations

import sqlite3
import zlib
from array import array
from contextlib import closing, suppress
from pathlib import Path

from joblog.book import looked_at
from joblog.book.beside import clear, put
from joblog.book.media import settle

ENDING = ".pages"
SHORT, LONG = 16 << 20, 1 << 30
"""Bytes that are summed up in a twentieth of a second, and in some seconds."""


def turned(file: Path) -> tuple[int, ...]:
    """The pages, from 1 on, that are not as they were noted, though nothing was written since."""
    mark = looked_at.unchanged(file)
    noted = None if mark is None else _noted(file, mark)
    now = None if noted is None else _sums(file, LONG)
    if noted is None or now is None or looked_at.unchanged(file) != mark:
        return ()
    pairs = enumerate(zip(now, noted, strict=True), 1) if len(now) == len(noted) else ()
    return tuple(page for page, (one, other) in pairs if one != other)


def note(file: Path, *, long: bool) -> None:
    """Notes the checksums of a file that was just closed and marked; of one that is long only where
    that is asked."""
    clear(_beside(file))
    mark = looked_at.unchanged(file)
    if mark is None or _noted(file, mark) is not None:
        return
    sums = _sums(file, LONG if long else SHORT)
    if sums is None or looked_at.unchanged(file) != mark:
        return
    with suppress(OSError):
        put(_beside(file), f"{_seal(mark, sums.tobytes())}\n".encode() + sums.tobytes())


def forget(file: Path) -> None:
    """Takes the checksums away, for good before anything is written in the file."""
    with suppress(OSError):  # Where there are none, or nothing may be written anyway.
        _beside(file).unlink()
        settle(file.parent)


def _noted(file: Path, mark: list[int]) -> array[int] | None:
    with suppress(OSError, ValueError):
        seal, sums = _beside(file).read_bytes().split(b"\n", 1)
        if seal.decode() == _seal(mark, sums):
            return array("I", sums)
    return None


def _seal(mark: list[int], sums: bytes) -> str:
    return f"{mark} {zlib.crc32(sums)}"


def _sums(file: Path, most: int) -> array[int] | None:
    """The checksums of the pages of the file itself, whatever is not in it yet."""
    with suppress(sqlite3.Error, OSError, MemoryError, AttributeError):
        if file.stat().st_size > most:
            return None
        with closing(_itself(file)) as db:
            [(size,)] = db.execute("PRAGMA page_size").fetchall()
            # A SQLite may be built without it; then nothing is noted.
            whole = memoryview(db.serialize())
        return array("I", (zlib.crc32(whole[at : at + size]) for at in range(0, len(whole), size)))
    return None


def _itself(file: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro&immutable=1", uri=True)


def _beside(file: Path) -> Path:
    return file.with_name(file.name + ENDING)
