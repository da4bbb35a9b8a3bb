"""The book's one SQLite file: opening it, bringing it up to date, and saying plainly what fails."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from joblog.book import (
    schema_of_allowed,
    schema_of_bids,
    schema_of_houses,
    schema_of_owner,
    schema_of_packs,
    schema_of_repeats,
    schema_of_steps,
    schema_of_transfers,
    schema_of_turns,
    seals,
    searching,
)
from joblog.book.database import Database
from joblog.book.errors import BookError

APPLICATION = 0x4A4C_4F47
"""Marks a SQLite file as a book ("JLOG"); kept in SQLite's own `application_id`."""
WAIT = 10.0
"""Seconds to wait for another program that is writing in the same book."""
UNTOUCHED = 16_384
"""Pages (64 MB) that are written beside the file before any goes into it. Until then the file
itself lies still, so that a copy of the folder taken meanwhile fits together."""


def database(path: Path, *, new: bool = False) -> Database:
    """The book's database, at the newest schema, with foreign keys held and every commit on disk.

    A file that is no book, or comes from a newer joblog, is left untouched. Raises `BookError`.
    """
    with plainly(path):
        connection = sqlite3.connect(
            f"{path.resolve().as_uri()}?mode={'rwc' if new else 'rw'}", timeout=WAIT, uri=True
        )
        try:
            _check(connection, path, new)
            db = Database(connection)
            db.execute("PRAGMA journal_mode = WAL")
            db.execute(f"PRAGMA wal_autocheckpoint = {UNTOUCHED}")
            # A commit must outlive a pulled plug, not only a killed program; NORMAL would not.
            db.execute("PRAGMA synchronous = FULL")
            # A migration that makes a table anew needs foreign keys off, as they are at first.
            seals.know(db)
            searching.know(db)
            migrate(db)
            seals.watch(db)
            if searching.behind(db):
                # It is made the next time where another program writes, or nobody may.
                with suppress(sqlite3.OperationalError), writing(db):
                    searching.catch_up(db)
            searching.watch(db)
            db.execute("PRAGMA foreign_keys = ON")
        except BaseException:
            connection.close()
            raise
    return db


def migrate(db: Database, to: int | None = None) -> None:
    """Runs the migrations this book has not had, up to that version or the newest; all of them
    happen, or none.

    The rows are sealed anew in the columns they then have; those that were damaged stay so.
    """
    if version(db) == (len(MIGRATIONS) if to is None else to):
        return
    # Only here: it loads numpy, which would slow down every start.
    from sqlite_utils import Database as Tables

    tables: Any = Tables(db.conn, recursive_triggers=False, execute_plugins=False)
    with writing(db):
        damaged = {table: set(found) for table, found in seals.all_unsound(db).items()}
        for number, migration in enumerate(MIGRATIONS[version(db) : to], version(db) + 1):
            migration(tables)
            db.execute(f"PRAGMA user_version = {number}")
            db.execute(f"PRAGMA application_id = {APPLICATION}")
        seals.seal_all(db, damaged)


def version(db: Database | sqlite3.Connection) -> int:
    """How many migrations this book has had."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


@contextmanager
def writing(db: Database) -> Iterator[None]:
    """One transaction that is alone in writing from its first moment: all of it, or nothing."""
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
        db.execute("COMMIT")
    except BaseException:
        db.rollback()
        raise


@contextmanager
def part(db: Database) -> Iterator[None]:
    """A part of the transaction that is under way: all of it, or nothing of this part."""
    db.execute("SAVEPOINT part")
    try:
        yield
    except BaseException:
        # Some errors, such as a full disk, have taken back all of it already.
        if db.conn.in_transaction:
            db.execute("ROLLBACK TO part")
            db.execute("RELEASE part")
        raise
    db.execute("RELEASE part")


@contextmanager
def plainly(path: Path) -> Iterator[None]:
    """Turns what SQLite and the operating system say about `path` into a `BookError`."""
    try:
        yield
    except sqlite3.Error as error:
        raise BookError(f"{path}: {_words(str(error))}") from error
    except UnicodeDecodeError as error:  # of a text that was to be in SQLite's own message
        raise BookError(f"{path}: {_words('malformed')}") from error
    except OSError as error:
        raise BookError(f"{path}: {operating_system_words(error)}") from error


def operating_system_words(error: OSError) -> str:
    """What the system refused and what to do about it, without the name of the file."""
    return (
        _SYSTEM.get(type(error)) or _NUMBERED.get(error.errno or 0) or str(error.strerror or error)
    )


def _check(connection: sqlite3.Connection, path: Path, new: bool) -> None:
    mark = int(connection.execute("PRAGMA application_id").fetchone()[0])
    tables = int(connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0])
    if mark == APPLICATION and version(connection) > len(MIGRATIONS):
        raise BookError(
            f"{path}: was written by a newer joblog (book version {version(connection)}; this "
            f"one knows {len(MIGRATIONS)}). Nothing was changed; install the newer joblog."
        )
    if not (mark or tables or new):
        raise BookError(
            f"{path}: this book was begun and never finished; it holds nothing. Say joblog new"
            " again."
        )
    if mark != APPLICATION and (tables or not new):
        raise BookError(f"{path}: is not a joblog book. Nothing was changed; name another folder.")
    if mark == APPLICATION and new:
        raise BookError(f"{path}: a book is here already; open it, or name another folder.")


def _words(said: str) -> str:
    return next((words for part, words in _SQLITE.items() if part in said), said)


_FULL = "the disk is full. Make room and run the same again; what was finished is kept."
_NOT_ALLOWED = "there is no permission to write here. Change it, or name another folder."
_DAMAGED = (
    "is damaged and cannot be opened. Leave it where it is, and make the book again from the last"
    " backup: joblog restore FOLDER --book NEW. Originals that are newer lie here in the folder"
    " media; add them with joblog add."
)
_FAILING = (
    "the disk does not read or write as it should. Look whether it is plugged in and has room, and"
    " run the same again; if that does not help, take another one."
)
_SQLITE = {
    "disk is full": _FULL,
    "disk I/O error": _FAILING,
    "locked": "another program is writing in this book. Close it and run the same again.",
    "readonly": _NOT_ALLOWED,
    "unable to open": "cannot be opened. Check that the folder is there and may be written.",
    "not a database": "is not a joblog book. Nothing was changed; name another folder.",
    "malformed": _DAMAGED,
    "Could not decode": _DAMAGED,
    "already exists": _DAMAGED,
    "no such": _DAMAGED,
}
_SYSTEM: dict[type[OSError], str] = {
    FileNotFoundError: "is not there. Check the name.",
    PermissionError: "there is no permission to read or write it. Change it and run again.",
    NotADirectoryError: "a file is in the way where a folder should be. Name another folder.",
    FileExistsError: "a file is in the way where a folder should be. Name another folder.",
    IsADirectoryError: "is a folder where a file should be.",
}
_TOO_LARGE = (
    "the file would be larger than this disk takes; one of FAT takes none of 4 GB. Name a folder on"
    " another disk."
)
_NUMBERED = {
    errno.ENOSPC: _FULL, errno.EDQUOT: _FULL, errno.EROFS: _NOT_ALLOWED, errno.EFBIG: _TOO_LARGE,
    errno.EIO: _FAILING,
}  # fmt: skip


def _first(db: Database) -> None:
    """Everything: jobs and plans, recordings and what was heard, entries and their history."""
    # Exact numbers are TEXT ("95/8", "13.50"). REAL is for clocks, positions and opinions only.
    for statement in _FIRST.split(";\n\n"):
        db.execute(statement)


_FIRST = """
CREATE TABLE job (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    zone TEXT NOT NULL,
    places TEXT NOT NULL
) STRICT;

CREATE TABLE planned_item (
    job INTEGER NOT NULL REFERENCES job,
    ordinal INTEGER NOT NULL,
    name TEXT NOT NULL,
    unit TEXT NOT NULL,
    spoken TEXT NOT NULL,
    also TEXT NOT NULL,
    stock_length TEXT,
    quantity TEXT NOT NULL,
    unit_cost TEXT,
    opening TEXT NOT NULL,
    PRIMARY KEY (job, ordinal)
) STRICT, WITHOUT ROWID;

CREATE TABLE planned_task (
    job INTEGER NOT NULL REFERENCES job,
    ordinal INTEGER NOT NULL,
    name TEXT NOT NULL,
    spoken TEXT NOT NULL,
    hours TEXT NOT NULL,
    hourly_cost TEXT,
    PRIMARY KEY (job, ordinal)
) STRICT, WITHOUT ROWID;

CREATE TABLE planned_place (
    job INTEGER NOT NULL REFERENCES job,
    ordinal INTEGER NOT NULL,
    name TEXT NOT NULL,
    PRIMARY KEY (job, ordinal)
) STRICT, WITHOUT ROWID;

CREATE TABLE recording (
    sha256 TEXT PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job,
    name TEXT NOT NULL,
    media TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    made_at TEXT NOT NULL,
    made_source TEXT NOT NULL,
    seconds REAL NOT NULL,
    trouble TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE utterance (
    id INTEGER PRIMARY KEY,
    recording TEXT NOT NULL REFERENCES recording,
    ordinal INTEGER NOT NULL,
    at TEXT NOT NULL,
    "start" REAL NOT NULL,
    "end" REAL NOT NULL,
    unread TEXT NOT NULL,
    UNIQUE (recording, ordinal)
) STRICT;

CREATE TABLE hearing (
    utterance INTEGER NOT NULL REFERENCES utterance,
    ordinal INTEGER NOT NULL,
    recognizer TEXT NOT NULL,
    text TEXT NOT NULL,
    words TEXT NOT NULL,
    alternatives TEXT NOT NULL,
    confidence REAL NOT NULL,
    PRIMARY KEY (utterance, ordinal)
) STRICT, WITHOUT ROWID;

CREATE TABLE entry (
    id INTEGER PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job,
    utterance INTEGER REFERENCES utterance,
    ordinal INTEGER NOT NULL,
    at TEXT NOT NULL,
    beside INTEGER REFERENCES entry,
    beside_version INTEGER,
    FOREIGN KEY (beside, beside_version) REFERENCES entry_version (entry, version)
) STRICT;

CREATE INDEX entry_in_time ON entry (job, at, id);

CREATE INDEX entry_of_utterance ON entry (utterance);

CREATE INDEX entry_beside ON entry (beside) WHERE beside IS NOT NULL;

CREATE TABLE entry_version (
    entry INTEGER NOT NULL REFERENCES entry,
    version INTEGER NOT NULL CHECK (version >= 1),
    content TEXT NOT NULL,
    standing TEXT NOT NULL CHECK (standing IN ('heard', 'accepted', 'dropped')),
    change TEXT NOT NULL
        CHECK (change IN ('heard', 'typed', 'accepted', 'corrected', 'dropped', 'undone')),
    changed_at TEXT NOT NULL,
    said TEXT NOT NULL,
    restores INTEGER CHECK (restores < version),
    PRIMARY KEY (entry, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE doubt (
    entry INTEGER NOT NULL,
    version INTEGER NOT NULL,
    ordinal INTEGER NOT NULL,
    why TEXT NOT NULL,
    PRIMARY KEY (entry, version, ordinal),
    FOREIGN KEY (entry, version) REFERENCES entry_version (entry, version)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER a_version_is_never_overwritten BEFORE UPDATE ON entry_version
BEGIN SELECT RAISE(ABORT, 'a version is never overwritten'); END;

CREATE TRIGGER a_version_is_never_deleted BEFORE DELETE ON entry_version
BEGIN SELECT RAISE(ABORT, 'a version is never deleted'); END;

CREATE TABLE photo (
    sha256 TEXT PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job,
    name TEXT NOT NULL,
    media TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    taken_at TEXT NOT NULL,
    taken_source TEXT NOT NULL,
    width INTEGER NOT NULL,
    height INTEGER NOT NULL,
    latitude REAL,
    longitude REAL,
    altitude REAL,
    orientation INTEGER NOT NULL,
    camera TEXT,
    trouble TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE tie (
    photo TEXT NOT NULL REFERENCES photo,
    entry INTEGER NOT NULL REFERENCES entry,
    reason TEXT NOT NULL,
    seconds REAL NOT NULL,
    PRIMARY KEY (photo, entry)
) STRICT, WITHOUT ROWID
"""


def _second(db: Database) -> None:
    """The catalog, and all that it knows of an item or a task in the plan as well."""
    for statement in _SECOND.split(";\n\n"):
        db.execute(statement)


_SECOND = """
ALTER TABLE planned_item ADD COLUMN more TEXT NOT NULL DEFAULT '{}';

ALTER TABLE planned_task ADD COLUMN more TEXT NOT NULL DEFAULT '{}';

CREATE TABLE catalog_item (
    ordinal INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    unit TEXT NOT NULL,
    spoken TEXT NOT NULL,
    also TEXT NOT NULL,
    stock_length TEXT,
    more TEXT NOT NULL
) STRICT;

CREATE TABLE catalog_task (
    ordinal INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    spoken TEXT NOT NULL,
    more TEXT NOT NULL
) STRICT
"""


def _third(db: Database) -> None:
    """What a plan says of its parts, closed jobs, and earlier jobs from paper."""
    for statement in _THIRD.split(";\n\n"):
        db.execute(statement)


_THIRD = """
ALTER TABLE planned_item ADD COLUMN net TEXT;

ALTER TABLE planned_item ADD COLUMN offcut TEXT NOT NULL DEFAULT '0';

ALTER TABLE planned_item ADD COLUMN source TEXT NOT NULL DEFAULT '';

ALTER TABLE planned_task ADD COLUMN quantity TEXT;

ALTER TABLE planned_task ADD COLUMN source TEXT NOT NULL DEFAULT '';

CREATE TABLE closing (
    id INTEGER PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job,
    day TEXT NOT NULL,
    closed_at TEXT NOT NULL,
    versions INTEGER NOT NULL,
    plan_mark TEXT NOT NULL,
    taught TEXT NOT NULL,
    rests_on TEXT NOT NULL,
    plan TEXT NOT NULL,
    figures TEXT NOT NULL
) STRICT;

CREATE INDEX closing_of_job ON closing (job, id);

CREATE TRIGGER a_closing_is_never_overwritten BEFORE UPDATE ON closing
BEGIN SELECT RAISE(ABORT, 'a closing is never overwritten'); END;

CREATE TRIGGER a_closing_is_never_deleted BEFORE DELETE ON closing
BEGIN SELECT RAISE(ABORT, 'a closing is never deleted'); END;

CREATE TABLE past_use (
    job_key TEXT NOT NULL,
    day TEXT NOT NULL,
    item_key TEXT NOT NULL,
    job TEXT NOT NULL,
    item TEXT NOT NULL,
    net TEXT NOT NULL,
    consumed TEXT NOT NULL,
    geometric TEXT,
    family TEXT,
    fahrenheit TEXT,
    depth TEXT,
    crew INTEGER,
    PRIMARY KEY (job_key, day, item_key)
) STRICT, WITHOUT ROWID;

CREATE TABLE past_work (
    job_key TEXT NOT NULL,
    day TEXT NOT NULL,
    task_key TEXT NOT NULL,
    job TEXT NOT NULL,
    task TEXT NOT NULL,
    quantity TEXT NOT NULL,
    crew_hours TEXT NOT NULL,
    fahrenheit TEXT,
    depth TEXT,
    crew INTEGER,
    PRIMARY KEY (job_key, day, task_key)
) STRICT, WITHOUT ROWID
"""


def _sealed(db: Database) -> None:
    """A seal for every row, and when each original was last seen to be whole."""
    db.execute(seals.SEAL_TABLE)
    db.execute(
        "CREATE TABLE seen_whole (sha256 TEXT PRIMARY KEY, at TEXT NOT NULL) STRICT, WITHOUT ROWID"
    )


def _sound_prints(db: Database) -> None:
    """What each recording sounds like, so that the same sound is known however it comes."""
    db.execute(
        "CREATE TABLE sound_print (recording TEXT PRIMARY KEY REFERENCES recording,"
        " exact TEXT NOT NULL, words TEXT NOT NULL) STRICT, WITHOUT ROWID"
    )


def _photo_details(db: Database) -> None:
    """What else a photo tells: its error and direction, its two clocks, its look, its kind."""
    for column in (
        "position_error REAL",
        "direction REAL",
        "north TEXT",
        "clock TEXT",
        "satellites TEXT",
        "likeness TEXT",
        "sharpness REAL",
        "brightness REAL",
        "remarks TEXT NOT NULL DEFAULT '[]'",
    ):
        db.execute(f"ALTER TABLE photo ADD COLUMN {column}")


def _clocks(db: Database) -> None:
    """What cameras' clocks were off by, found and set by hand; and how sure a tie is."""
    for statement in _CLOCKS.split(";\n\n"):
        db.execute(statement)


_CLOCKS = """
CREATE TABLE clock (
    job INTEGER NOT NULL REFERENCES job,
    camera TEXT NOT NULL,
    day TEXT NOT NULL,
    seconds REAL NOT NULL,
    drift REAL NOT NULL,
    around TEXT NOT NULL,
    confidence REAL NOT NULL,
    reason TEXT NOT NULL,
    cues INTEGER NOT NULL,
    source TEXT NOT NULL,
    PRIMARY KEY (job, camera, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE hand_clock (
    job INTEGER NOT NULL REFERENCES job,
    camera TEXT NOT NULL,
    day TEXT NOT NULL,
    seconds REAL NOT NULL,
    PRIMARY KEY (job, camera, day)
) STRICT, WITHOUT ROWID;

ALTER TABLE tie ADD COLUMN margin REAL;

ALTER TABLE tie ADD COLUMN sure INTEGER NOT NULL DEFAULT 1 CHECK (sure IN (0, 1));

ALTER TABLE tie ADD COLUMN cue INTEGER REFERENCES entry
"""


def _ground(db: Database) -> None:
    """Fences of jobs that a person set, and logs of tracks."""
    db.execute(
        "CREATE TABLE fence (job INTEGER PRIMARY KEY REFERENCES job, latitude REAL NOT NULL,"
        " longitude REAL NOT NULL, radius REAL NOT NULL) STRICT"
    )
    # One text for all points: a day has tens of thousands, and they come and go together.
    db.execute(
        "CREATE TABLE track (sha256 TEXT PRIMARY KEY, job INTEGER NOT NULL REFERENCES job,"
        " name TEXT NOT NULL, media TEXT NOT NULL, bytes INTEGER NOT NULL, began REAL NOT NULL,"
        " ended REAL NOT NULL, points TEXT NOT NULL, trouble TEXT) STRICT, WITHOUT ROWID"
    )


def _scored(db: Database) -> None:
    """The lines that were put to every recognizer, and how loud an utterance was."""
    for column in ("scored TEXT NOT NULL DEFAULT '[]'", "level REAL", "noise REAL"):
        db.execute(f"ALTER TABLE utterance ADD COLUMN {column}")


def _split_and_merged(db: Database) -> None:
    """Entries that were split, and such as were merged into one."""
    schema_of_steps.more_changes(db, ("split", "merged"))


def _one_history(db: Database) -> None:
    """What else can be undone: closings, signatures of days, photos that count no more."""
    db.execute(
        "ALTER TABLE photo ADD COLUMN standing TEXT NOT NULL DEFAULT 'kept'"
        " CHECK (standing IN ('kept', 'withdrawn'))"
    )
    # A closing is never overwritten, so that it was taken back stands beside it.
    db.execute(
        "CREATE TABLE closing_undone (closing INTEGER PRIMARY KEY REFERENCES closing) STRICT"
    )
    db.execute(
        "CREATE TABLE signing (job INTEGER NOT NULL REFERENCES job, day TEXT NOT NULL,"
        " at TEXT NOT NULL, rests_on TEXT NOT NULL, PRIMARY KEY (job, day)) STRICT, WITHOUT ROWID"
    )
    db.execute("CREATE INDEX step_job_of_step ON step_job (step)")


MIGRATIONS: tuple[Callable[[Database], None], ...] = (
    _first,
    _second,
    _third,
    schema_of_steps.steps,
    _sealed,
    _sound_prints,
    _photo_details,
    _clocks,
    _ground,
    _scored,
    searching.begin,
    _split_and_merged,
    _one_history,
    schema_of_bids.bids,
    schema_of_allowed.tasks_of_items,
    schema_of_transfers.transfers,
    schema_of_houses.houses,
    schema_of_owner.owner_only,
    schema_of_repeats.repeats,
    schema_of_packs.packs,
    schema_of_turns.turns,
)
"""In order, never changed once released; a book's version is how many of them it has had."""
