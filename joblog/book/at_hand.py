"""Names that are in a book, for a command line that completes them: read in a blink.

The book is not opened for it: what that takes to load would be felt at every press of the key. A
name that is not there any more, or not readable, is no harm here.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path
from typing import Literal, NamedTuple
from zoneinfo import ZoneInfo

FILE = "book.sqlite"

Of = Literal[
    "jobs", "items", "tasks", "places", "days", "recordings", "originals", "cameras", "entries"
]
"""Names of what. `originals` are recordings and photos, `entries` the numbers of those that
count."""


class Name(NamedTuple):
    """A name, and what may be shown beside it."""

    name: str
    beside: str = ""


def names(folder: Path, of: Of, job: str | None = None) -> tuple[Name, ...]:
    """Names from the book in a folder, of one job where that is named; none where there is none."""
    with suppress(sqlite3.Error, OSError, ValueError, LookupError):
        file = (folder / FILE).resolve(strict=True)
        with closing(sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True, timeout=0.1)) as db:
            return tuple(dict.fromkeys(_LOOKED_UP[of](db, job)))
    return ()


def _jobs(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    found = db.execute("SELECT * FROM job ORDER BY id DESC")
    columns = [column[0] for column in found.description]
    for row in found:
        job_of = dict(zip(columns, row, strict=True))
        if not job_of.get("beside"):
            yield Name(job_of["name"])


def _items(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    yield from _planned(db, "item", job)
    known = [Name(*row) for row in db.execute("SELECT name, unit FROM catalog_item ORDER BY name")]
    if not known:
        from joblog.catalog.lines import starter_catalog

        known = [Name(item.name, item.unit) for item in starter_catalog().items]
    yield from known


def _tasks(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    yield from _planned(db, "task", job)
    for (name,) in db.execute("SELECT name FROM catalog_task ORDER BY name"):
        yield Name(name)


def _places(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    yield from _planned(db, "place", job)
    for (places,) in db.execute("SELECT places FROM job WHERE name = ?1 OR ?1 IS NULL", (job,)):
        yield from map(Name, json.loads(places))


def _planned(
    db: sqlite3.Connection, what: Literal["item", "task", "place"], job: str | None
) -> Iterator[Name]:
    beside = "unit" if what == "item" else "''"
    query = (
        f"SELECT planned_{what}.name, {beside} FROM planned_{what} JOIN job ON job = job.id"
        " WHERE job.name = ?1 OR ?1 IS NULL ORDER BY job.id DESC, ordinal"
    )
    for row in db.execute(query, (job,)):
        yield Name(*row)


def _days(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    """The days of what was said or photographed, latest first."""
    # An hour has one day, and there are few of them.
    query = (
        "SELECT DISTINCT substr(at, 1, 13), zone FROM"
        " (SELECT job, at FROM entry UNION ALL SELECT job, taken_at FROM photo"
        " UNION ALL SELECT job, made_at FROM recording) JOIN job ON job = job.id"
        " WHERE at IS NOT NULL AND (job.name = ?1 OR ?1 IS NULL)"
    )
    days = {
        datetime.fromisoformat(f"{hour}:00+00:00").astimezone(ZoneInfo(zone)).date()
        for hour, zone in db.execute(query, (job,))
    }
    for day in sorted(days, reverse=True):
        yield Name(f"{day:%Y-%m-%d}", f"{day:%A}")


def _named(table: Literal["recording", "photo"]) -> Callable[..., Iterator[Name]]:
    when = {"recording": "made_at", "photo": "taken_at"}[table]
    query = (
        f"SELECT {table}.name, substr({when}, 1, 10) FROM {table} JOIN job ON job = job.id"
        f" WHERE job.name = ?1 OR ?1 IS NULL ORDER BY {when} DESC"
    )

    def look_up(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
        for name, day in db.execute(query, (job,)):
            yield Name(name, day or "")

    return look_up


def _originals(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    yield from _named("recording")(db, job)
    yield from _named("photo")(db, job)


def _cameras(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    query = (
        "SELECT DISTINCT camera FROM photo JOIN job ON job = job.id"
        " WHERE camera <> '' AND (job.name = ?1 OR ?1 IS NULL)"
    )
    for (camera,) in db.execute(query, (job,)):
        yield Name(camera)


LATEST = 100
"""So many entries are offered; who wants an older one knows its number."""


def _entries(db: sqlite3.Connection, job: str | None) -> Iterator[Name]:
    query = (
        "SELECT entry.id, content, standing FROM entry JOIN job ON entry.job = job.id"
        " JOIN entry_version AS last ON last.entry = entry.id AND last.version ="
        " (SELECT max(version) FROM entry_version WHERE entry = entry.id)"
        " WHERE job.name = ?1 OR ?1 IS NULL ORDER BY entry.id DESC LIMIT ?2"
    )
    from joblog.form import describe, entry_from_json

    for id, content, standing in db.execute(query, (job, LATEST)):
        if standing != "dropped":
            yield Name(str(id), describe(entry_from_json(json.loads(content))))


_LOOKED_UP: dict[Of, Callable[[sqlite3.Connection, str | None], Iterator[Name]]] = {
    "jobs": _jobs,
    "items": _items,
    "tasks": _tasks,
    "places": _places,
    "days": _days,
    "recordings": _named("recording"),
    "originals": _originals,
    "cameras": _cameras,
    "entries": _entries,
}
