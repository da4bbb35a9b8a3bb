"""Whether a book that is there is the very one that is asked for: what was killed in its last step,
or was said twice, is done already."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

from joblog.backup import descent, memory
from joblog.backup.medium import found
from joblog.backup.nouns import Kept, Restored
from joblog.backup.restoring import chosen, fit_for_this_system
from joblog.backup.stated import states_in
from joblog.book import Book, BookError, media, schema
from joblog.book.making import FILE, MEDIA


def restored_already(
    folder: Path, there: Path, *, at: date | None = None, copy: int | None = None
) -> Restored | None:
    """What `restore` would make, where the book that is `there` is exactly that; else None."""
    try:
        with schema.plainly(folder):
            place = found(folder.absolute())
            states = states_in(place)[0]
            state = chosen(place, states, descent.parted(states), at, copy)
            same = _holds(there, state.version, state.mark) and all(
                _is_there(there, one) for one in state.beside
            )
    except BookError:
        return None
    return Restored(there, state, (), already=True) if same else None


def copied_already(book: Book, there: Path) -> bool:
    """Whether the book that is `there` is exactly this one."""
    if not (there / FILE).is_file() or there.resolve() == book.folder.resolve():
        return False
    try:
        with schema.plainly(there):
            return _holds(
                there, schema.version(book._db.conn), memory.mark_of(book._db.conn).exact
            ) and all(
                (there / one.name).read_bytes() == one.read_bytes()
                for one in book.folder.glob("*.toml")
            )
    except BookError:
        return False


def _holds(there: Path, version: int, mark: str) -> bool:
    # It is only looked at: opened as a book, one of an older version would be changed.
    uri = f"{(there / FILE).resolve().as_uri()}?mode=ro"
    with closing(sqlite3.connect(uri, uri=True)) as db:
        if (schema.version(db), memory.mark_of(db).exact) != (version, mark):
            return False
        return all(
            (there / MEDIA / place).is_file() for (place,) in db.execute(media.in_all("media"))
        )


def _is_there(there: Path, one: Kept) -> bool:
    return media.is_whole(there / fit_for_this_system(one.name), one.sha256)
