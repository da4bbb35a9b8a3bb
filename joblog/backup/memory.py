"""What a book remembers of its backups: where they are, when they were made, and of what."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import asdict, dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import uuid4
from zoneinfo import ZoneInfo

from joblog.backup.descent import WENT_ON_FROM
from joblog.backup.nouns import State
from joblog.backup.said import counted
from joblog.book import Book, BookError
from joblog.book.schema import WAIT
from joblog.book.schema_of_packs import BOOK
from joblog.local import day_written

BACKUPS = "backups"
TOLD = "backup told"
FOLDERS = 8
"""So many folders are remembered, those of the latest backups."""
DERIVED = ("setting", "tie", "clock")
"""Tables that change by themselves, or with a backup: nothing new is said by that."""
EVENING = 15
"""The hour from which a day's backup is due."""
LONG = timedelta(days=7)
"""After so long without one it is due at any hour."""


@dataclass(frozen=True, slots=True)
class Mark:
    """What a book held at a moment."""

    exact: str
    """Another one after any change but of what is remembered of backups, or worked out anew."""
    all: str
    """Another one after any change that is a person's."""
    entry: int
    """The number of the newest entry."""
    files: int
    """How many recordings, photos and track logs."""


@dataclass(frozen=True, slots=True)
class Remembered:
    """The latest backup in a folder."""

    folder: str
    at: str
    state: str
    all: str
    entry: int
    files: int
    """As in the `Mark` of what was backed up."""


def identity(book: Book) -> str:
    """Which book this is, wherever its folder lies: the same in all copies of it."""
    known = book.setting(BOOK)
    if known is None:
        known = uuid4().hex
        book.set_setting(BOOK, known)
    return known


def remember(book: Book, folder: Path, state: State, mark: Mark) -> None:
    """Notes that the book was backed up."""
    at = datetime.now(UTC).isoformat()
    new = Remembered(str(folder), at, state.file, mark.all, mark.entry, mark.files)
    others = [one for one in remembered(book) if one.folder != new.folder]
    kept = [asdict(one) for one in (new, *others)][:FOLDERS]
    book.set_setting(BACKUPS, json.dumps(kept, ensure_ascii=False))


def remembered(book: Book) -> tuple[Remembered, ...]:
    """The backups of a book by folder, the latest first."""
    return _noted(book) or ()


def _noted(book: Book) -> tuple[Remembered, ...] | None:
    """None where the note of them is damaged."""
    if BACKUPS in book._hurt("setting"):
        return None
    with suppress(ValueError, TypeError):
        return tuple(Remembered(**one) for one in json.loads(book.setting(BACKUPS) or "[]"))
    return None


def last_folder(book: Book) -> Path:
    """The folder of the latest backup. Raises `BookError` where none was made yet."""
    for one in remembered(book):
        return Path(one.folder)
    if _noted(book) is None:
        raise BookError(
            "the note of where the last backup is is damaged: say joblog backup FOLDER, where"
            " FOLDER is that of the stick."
        )
    raise BookError(
        "no backup was made of this book yet: plug in a stick and say joblog backup FOLDER, where"
        " FOLDER is that of the stick."
    )


def last_at(book: Book, folder: Path) -> str | None:
    """The day of the latest backup in that very folder, in words; None where there was none."""
    for one in remembered(book):
        if one.folder == str(folder):
            return day_written(datetime.fromisoformat(one.at).astimezone().date(), short=True)
    return None


def due(book: Book, now: datetime, *, evening: bool = False) -> str | None:
    """One plain line where a backup is due; None where nothing is new since the last.

    `now` is in the zone of whoever reads it; before the evening it is due only after a week, unless
    it is taken for `evening`. Asked again, it says it again (see `was_told`).
    """
    late = evening or now.hour >= EVENING
    last = next(iter(remembered(book)), None)
    days = len(set(_days_since(book, last.entry if last else 0)))
    if _noted(book) is None:
        return "the note of the last backup is damaged; say joblog backup FOLDER, that of the stick"
    if last is None:
        if not (days or _files(book)) or not (late or days >= LONG.days):
            return None
        lies = "lies" if days == 1 else "lie"
        work = f", and {counted(days, 'days')} of work {lies} here alone" if days else ""
        return f"no backup yet{work}; plug in a stick and say joblog backup FOLDER"
    at = datetime.fromisoformat(last.at).astimezone(now.tzinfo)
    early = not (late or now - at >= LONG)
    if at.date() >= now.date() or early or _all(book._db.conn) == last.all:
        return None
    since = day_written(at.date(), short=True, year=at.year != now.year)
    files = _files(book) - last.files
    work = (
        f"{counted(days, 'days')} of work"
        if days
        else f"{counted(files, 'photos or recordings')} new"
        if files > 0
        else "what you changed since is not in it"
    )
    return f"no backup since {since}, {work}; joblog backup {last.folder}"


def was_told(book: Book, today: date) -> bool:
    """Whether it was told today already."""
    return book.setting(TOLD) == today.isoformat()


def tell(book: Book, today: date) -> None:
    """Notes that it was told today."""
    # Only a note: where another program writes, or nobody may, it is told again.
    book._db.execute("PRAGMA busy_timeout = 0")
    with suppress(BookError):
        book.set_setting(TOLD, today.isoformat())
    book._db.execute(f"PRAGMA busy_timeout = {int(WAIT * 1000)}")


def mark_of(db: sqlite3.Connection) -> Mark:
    """What a book holds now."""
    [(newest, files)] = db.execute(
        f"SELECT (SELECT coalesce(max(id), 0) FROM entry), {_HOW_MANY}"
    ).fetchall()
    return Mark(_sum(db, _EXACT, (BACKUPS, TOLD, WENT_ON_FROM)), _all(db), newest, files)


_EXACT = (
    "of NOT IN ('tie', 'clock')"
    " AND (of <> 'setting' OR (key NOT IN (?, ?, ?, 'search') AND key NOT LIKE 'clocks of %'))"
)
"""What is worked out from the rest, and noted in settings, comes about again by itself."""


def _all(db: sqlite3.Connection) -> str:
    return _sum(db, f"of NOT IN ({', '.join('?' * len(DERIVED))})", DERIVED)


def _sum(db: sqlite3.Connection, where: str, values: tuple[str, ...]) -> str:
    rows = db.execute(
        f"SELECT of, count(*), sum(checksum) FROM seal WHERE {where} GROUP BY of", values
    )
    return hashlib.sha256(repr(sorted(rows)).encode()).hexdigest()[:32]


def _files(book: Book) -> int:
    [row] = book._rows(f"SELECT {_HOW_MANY} AS count")
    return int(row["count"])


_HOW_MANY = (
    "((SELECT count(*) FROM recording) + (SELECT count(*) FROM photo)"
    " + (SELECT count(*) FROM track))"
)


def _days_since(book: Book, entry: int) -> Iterator[date]:
    """The days, where each job is, of the entries after that one."""
    # An hour has one day, and there are few of them.
    query = (
        "SELECT DISTINCT substr(at, 1, 13) AS hour, zone FROM entry JOIN job ON job.id = job"
        " WHERE entry.id > ?"
    )
    for row in book._rows(query, entry):
        with suppress(ValueError, OSError, KeyError):  # of a damaged row
            hour = datetime.fromisoformat(f"{row['hour']}:00+00:00")
            yield hour.astimezone(ZoneInfo(row["zone"])).date()
