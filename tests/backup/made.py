"""Small books to be backed up, and what is in one, to be held against another."""

from __future__ import annotations

import hashlib
import random
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

from joblog.book import Book, decisions, keep
from joblog.model import Entry, Item, Job, Moment, Photo, Plan, PlannedItem, Reading

JOB = Job("Gull Point cottage", "America/New_York", ("north wall",))
FIRST = datetime(2026, 10, 5, 12, tzinfo=UTC)
REMEMBERED = ("backups", "backup told", "backups it went on from", "search")
"""Settings about backups and about an index that is made anew: not the same once restored."""


def small_book(folder: Path, photos: int = 3) -> Path:
    """A book of a job, a day of entries, some photos, a settings file and a sound that waits."""
    with Book.create(folder) as book:
        book.add_job(JOB)
        panel = Item("soffit panel", "sheet", ("panel",))
        book.set_plan(JOB.name, Plan((PlannedItem(panel, Fraction(15)),)))
        a_day(book, 0, photos)
    (folder / "works.toml").write_text("# nothing of his own yet\n")
    (folder / "listening").mkdir()
    (folder / "listening" / "20261005T183107250Z.wav").write_bytes(b"RIFF and so on")
    return folder


def a_day(book: Book, day: int, photos: int = 1) -> None:
    """One more day of work."""
    at = FIRST + timedelta(days=day)
    for number in range(4):
        used = Entry("used", "north wall", None, "soffit panel", Fraction(number + 1), unit="sheet")
        decisions.add_typed(book, JOB.name, Reading((used,)), f"used {number}", at)
    for number in range(photos):
        a_photo(book, f"IMG_{day}_{number}.jpg", at, 1_000 + 7 * number)


def a_photo(book: Book, name: str, at: datetime, length: int) -> Photo:
    content = random.Random(name).randbytes(length)
    path = book.folder.parent / name
    path.write_bytes(content)
    photo = Photo(hashlib.sha256(content).hexdigest(), name, Moment(at, "EXIF"), 4000, 3000)
    keep.keep_photo(book, JOB.name, path, photo)
    path.unlink()
    return photo


def content(folder: Path) -> dict[str, str]:
    """Every row of every table, and every file of a person's by its SHA-256."""
    rows = dict(_rows(folder / "book.sqlite"))
    files = {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for pattern in ("media/??/*", "*.toml", "listening/*.wav")
        for path in folder.glob(pattern)
    }
    return rows | files


def _rows(file: Path) -> Iterator[tuple[str, str]]:
    with closing(sqlite3.connect(file)) as db:
        tables = db.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'said_words%'"
            " AND name <> 'seen_whole'"  # when an original was looked at last
        ).fetchall()
        for (table,) in tables:
            rows = db.execute(f"SELECT * FROM {table}").fetchall()
            mine = [row for row in rows if not set(REMEMBERED) & set(row)]
            yield table, "\n".join(sorted(map(repr, mine)))


def objects(stick: Path) -> list[Path]:
    """All that a backup holds of bytes, in the order of their names."""
    return sorted(path for path in stick.rglob("objects/*/*") if path.is_file())
