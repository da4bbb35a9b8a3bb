"""Writing one job of a book into one file."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import joblog
from joblog.book import Book, media
from joblog.book.hurt import OTHER, WORDS
from joblog.book.moves import came_to
from joblog.book.nouns import lines_of
from joblog.book.packed import came_text
from joblog.book.rows import Row, moment_text
from joblog.book.schema import version
from joblog.book.schema_of_packs import BOOK
from joblog.book.seals import tables
from joblog.book.transfers import first_closed
from joblog.packing import file as files
from joblog.packing.columns import SORTS
from joblog.packing.gather import Rows, gather
from joblog.packing.nouns import FORM, Head, Packed, PackError
from joblog.packing.state import Shared, digest, shared, state

PACKED = ("packed_job", "packed_row", "packed_state")
"""Tables whose rows tell where others come from."""
CATALOG = {"item": "catalog_item", "task": "catalog_task"}
BESIDE = "beside"
"""What else goes along: what came to the job and what it cost, and when other jobs were closed."""


def pack(book: Book, job: str, file: Path) -> Packed:
    """Writes a job, with all that is or was in it and all that tells of it, into one file.

    It is read again before it takes its name. An older pack of the same job is replaced; any other
    file that is there stays. Raises `PackError`.
    """
    if not file.parent.is_dir():
        raise PackError(f"{file.parent}: is not there. Name a folder that is.")
    number = book._job(job)["id"]
    book._db.execute("BEGIN")  # All that is read is of one moment.
    try:
        found = gather(book._db, number)
        _must_be_whole(book, job, found)
        made = book_id(book)
        known = shared(book._db, made)
        head = Head(
            FORM, joblog.__version__, version(book._db), made, number, job, datetime.now(UTC),
            digest(state(found, known)),
        )  # fmt: skip
        rows: dict[str, Iterable[Any]] = {
            **found,
            **_come_from(book, found, known),
            **_catalog(book, found),
            BESIDE: [_beside(book, job, found)],
        }
    finally:
        book._db.rollback()
    from joblog.packing.load import loaded

    _must_be_its_own(file, *known.origin("job", number))
    originals = {
        row["sha256"]: (row["name"], book.store / row["media"])
        for table in media.TABLES
        for row in found[table]
    }
    missing = files.write(
        file, _head(head), rows, {one: place for one, (_, place) in originals.items()}, loaded
    )
    return Packed(
        file,
        job,
        file.stat().st_size,
        sum(row["job"] == number for row in found["entry"]),
        len(originals) - len(missing),
        tuple(originals[one][0] for one in missing),
    )


def book_id(book: Book) -> str:
    """What tells this book, and its copies, from all others."""
    known = book.setting(BOOK)
    if known is None:
        raise PackError(f"{book.folder}: does not know its own id; say joblog check")
    return known


def _head(head: Head) -> dict[str, Any]:
    return {
        "form": head.form,
        "joblog": head.joblog,
        "schema": head.schema,
        "book": head.book,
        "job": head.job,
        "name": head.name,
        "packed_at": moment_text(head.packed_at),
        "digest": head.digest,
    }


def _must_be_whole(book: Book, job: str, found: Rows) -> None:
    columns = tables(book._db)
    for table, rows in found.items():
        hurt = book._hurt(table)
        own = sorted((place, name.strip('"')) for name, _, place in columns[table] if place)
        for row in rows if hurt else ():
            key = "|".join(str(row[name]) for _, name in own)
            if key in hurt:
                what = WORDS.get(table, OTHER).name(book, table, key)
                raise PackError(
                    f"{job}: was not packed, for {what} is damaged in this book. Say joblog check;"
                    " it tells what can be done."
                )


def _must_be_its_own(file: Path, book: str, job: int) -> None:
    """Raises `PackError` where something else is there than an older pack of the same job."""
    if not (file.exists() or file.is_symlink()):
        return
    from joblog.packing.load import origin_of

    with suppress(PackError):
        if not file.is_symlink() and origin_of(file) == (book, job):
            return
    raise PackError(f"{file}: is there already, and is no pack of this job. Name another file.")


def _come_from(book: Book, found: Rows, known: Shared) -> Rows:
    """Where the rows and their jobs come from, and what this job was packed as before."""
    jobs = {row["id"] for row in found["job"]}
    numbers = {(sort, row["id"]) for sort in SORTS if sort != "job" for row in found[sort]}
    [job, *_] = found["job"]
    db = book._db
    return {
        "packed_job": [row for row in db.query("SELECT * FROM packed_job") if row["job"] in jobs],
        "packed_row": [
            {"sort": sort, "number": number, "book": made, "number_there": there}
            for (sort, number), (made, there) in known.rows.items()
            if (sort, number) in numbers
        ],
        "packed_state": [*db.query("SELECT * FROM packed_state WHERE job = ?", [job["id"]])],
    }


def _beside(book: Book, job: str, found: Rows) -> Row:
    over = first_closed(book)
    return {
        "came": json.loads(came_text(came_to(book, job))),
        "closed": [
            [row["id"], moment_text(over[row["name"]])]
            for row in found["job"][1:]
            if row["name"] in over
        ],
    }


def _catalog(book: Book, found: Rows) -> dict[str, list[Row]]:
    """The lines of the catalog that the job names, and those that these are variants of."""
    named = set(_names(found))
    kept: dict[str, list[Row]] = {}
    for sort, table in CATALOG.items():
        lines = {row["name"]: row for row in lines_of(book, sort)}
        fresh = named & lines.keys()
        chosen: set[str] = set()
        while fresh:
            chosen |= fresh
            above = {json.loads(lines[name]["more"]).get("variant_of") for name in fresh}
            fresh = {name for name in above if name in lines} - chosen
        kept[table] = [row for name, row in lines.items() if name in chosen]
    return kept


_NAMING: Mapping[str, tuple[str, ...]] = {
    "entry_version": ("content",), "closing": ("plan", "figures"), "bid": ("content",),
}  # fmt: skip
"""Where names of items and tasks stand in JSON."""


def _names(found: Rows) -> Iterable[str]:
    for table in ("planned_item", "planned_task"):
        for row in found[table]:
            yield row["name"]
            yield row.get("task", "")
    for table, columns in _NAMING.items():
        for row in found[table]:
            for column in columns:
                yield from _texts(json.loads(row[column]))


def _texts(value: Any) -> Iterable[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | dict):
        for one in value.values() if isinstance(value, dict) else value:
            yield from _texts(one)
