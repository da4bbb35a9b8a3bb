"""A new book, made under a passing name and put in its place in one step: there, or not there."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from secrets import token_hex

from filelock import Timeout

from joblog.book import media
from joblog.book.errors import BookError
from joblog.book.schema import WAIT, database, plainly

FILE = "book.sqlite"
MEDIA = "media"
OWNER_ONLY = 0o700, 0o600
"""Of a folder and of a file: a book says where somebody works and what he earns."""


def make(folder: Path) -> None:
    """Makes an empty book in a folder, which is made if it is not there.

    What a making that was killed left behind is cleared away. Raises `BookError` where a book is,
    or a part of one: whatever holds anything is left as it is.
    """
    with plainly(folder):
        new = [one for one in folder.parents if not one.exists()]
        folder.parent.mkdir(parents=True, exist_ok=True)
        folder.mkdir(mode=OWNER_ONLY[0], exist_ok=True)
        for one in (folder, *new):  # A book in a folder whose name is not on the disk is not there.
            with suppress(OSError):  # Somebody may be allowed to make one here, and not to look.
                media.settle(one.parent)
        lock = media.in_use(folder / MEDIA)
        try:
            lock.acquire(timeout=WAIT)
        except Timeout:
            raise BookError(
                f"{folder}: another program is at work here. Wait until that is done."
            ) from None
        try:
            _must_hold_nothing(folder)
            for left in folder.glob(f"{FILE}.*.new*"):
                left.unlink()
            passing = folder / f"{FILE}.{token_hex(4)}.new"
            os.close(os.open(passing, os.O_CREAT | os.O_EXCL | os.O_WRONLY, OWNER_ONLY[1]))
            database(passing, new=True).close()
            passing.replace(folder / FILE)
            media.settle(folder)
        finally:
            lock.release()


def begun(file: Path) -> bool:
    """Whether this is what an older joblog left when its making of a book was killed: nothing."""
    if not file.is_file():
        return False
    if not file.stat().st_size:
        return True
    with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=rw", uri=True)) as connection:
        tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
        mark = connection.execute("PRAGMA application_id").fetchone()[0]
    return not tables and not mark


def left_over(folder: Path) -> bool:
    """Whether a folder holds nothing but what a making that was killed in it left behind."""
    return all(
        file.match(f"{FILE}.*.new*") or (file.name == MEDIA and not any(file.glob("*/")))
        for file in folder.iterdir()
    )


def _must_hold_nothing(folder: Path) -> None:
    file = folder / FILE
    if file.exists() and not begun(file):
        database(file).close()  # It says so where the file is no book, or a newer one.
        raise BookError(f"{folder}: a book is here already; open it, or name another folder.")
    beside = [
        name for ending in ("-wal", "-journal") if (name := folder / (FILE + ending)).exists()
    ]
    if beside:
        raise BookError(
            f"{beside[0]}: is a part of a book whose other part, {FILE}, is not here or is in use."
            " Nothing was changed; put it back, or name another folder."
        )
