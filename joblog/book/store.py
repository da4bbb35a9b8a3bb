"""The book: one SQLite file and its originals. What is in it, read as nouns and written as rows."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Callable, Collection, Container, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from datetime import date, datetime
from functools import partial
from pathlib import Path
from types import TracebackType
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from joblog.book import media, rows, seals, searching
from joblog.book.damaged import among, hurt_entries, legible, shown, sound
from joblog.book.database import Database
from joblog.book.errors import BookError
from joblog.book.hurt import FIGURES, Damage, damaged_rows
from joblog.book.making import FILE, MEDIA, begun, make
from joblog.book.remembered import Placed, Remembered
from joblog.book.rows import Row
from joblog.book.schema import part, plainly, writing
from joblog.book.soundness import opened
from joblog.catalog.lines import starter_catalog
from joblog.model import (
    BookEntry,
    BookUtterance,
    Catalog,
    ClockCorrection,
    Hearing,
    Job,
    Kind,
    Photo,
    Plan,
    Recording,
    Tie,
)

TURNED_BACK = "last writes"
"""The setting that says what became of the writes before joblog was stopped, until it is told."""
PLANNED = ("planned_item", "planned_task", "planned_place")
"""The tables of a plan. Who writes in them forgets first what was there (`_forget`)."""


class Book:
    """An open book. Use it in one thread; another thread or program opens the folder again.

    Every method raises `BookError`, in words for a person, when the disk or the book refuses, and
    for a job, entry or original that is not there. What a method writes is all there when it
    returns, or not at all.

    >>> with Book.open(Path("my-jobs")) as book:
    ...     for entry in book.entries("Gull Point cottage"):
    ...         print(entry.said)
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._sound = opened(folder / FILE)
        self._remembered = Remembered()
        self._at_first_write: Callable[[], None] | None = None
        """Begins the one transaction of a run, where a run is under way (`repeating`)."""
        if (turned := self._sound.turned_back) is not None:
            with suppress(BookError):  # Where nothing may be written, nothing is noted.
                self.set_setting(TURNED_BACK, "lost" if turned.lost else "turned back")

    @property
    def _db(self) -> Database:
        return self._sound.db

    @classmethod
    def create(cls, folder: Path) -> Book:
        """A new, empty book in a folder, which is made if it is not there.

        Killed at any instant and run again, it does what is left to do.
        """
        make(folder)
        return cls(folder)

    @classmethod
    def at(cls, folder: Path) -> Book:
        """The book in a folder; a new one where there is none, or none that was finished."""
        with plainly(folder):
            none = not (folder / FILE).is_file() or begun(folder / FILE)
        return cls.create(folder) if none else cls.open(folder)

    @classmethod
    def open(cls, folder: Path) -> Book:
        """The book in a folder, brought up to date."""
        if not (folder / FILE).is_file():
            raise BookError(f"{folder}: there is no book here. Make one, or name another folder.")
        book = cls(folder)
        with plainly(folder):
            media.sweep(book.store)
        return book

    def close(self) -> None:
        self._sound.close()

    def __enter__(self) -> Book:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # --- jobs and their plans -----------------------------------------------------------------

    def add_job(self, job: Job) -> None:
        """Raises `BookError` when there is one of that name, or no such time zone."""
        try:
            ZoneInfo(job.zone)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            raise BookError(
                f"there is no time zone {job.zone!r}; write it like America/New_York"
            ) from None
        with self._writing():
            if self._rows("SELECT 1 FROM job WHERE name = ?", job.name):
                raise BookError(f"there is a job called {job.name!r} already; name it otherwise")
            places = json.dumps(job.places, ensure_ascii=False)
            self._insert("job", {"name": job.name, "zone": job.zone, "places": places})

    def begin_job(self, job: Job) -> None:
        """`add_job`, or nothing where that very job was begun already and holds nothing yet."""
        if job not in self.jobs() or self.days(job.name) or self.plan(job.name) != Plan():
            self.add_job(job)

    def jobs(self) -> tuple[Job, ...]:
        """In the order in which they were added; without those that are here only as far as a
        packed job has to do with them."""
        found = self._legible("job", "SELECT * FROM job ORDER BY id")
        return tuple(rows.job_from(row) for row in found if not row.get("beside"))

    def names_of_jobs(self) -> tuple[str, ...]:
        """Of all jobs, the newest first."""
        return tuple(job.name for job in reversed(self.jobs()))

    def job(self, name: str) -> Job:
        return rows.job_from(self._job(name))

    def set_plan(self, job: str, plan: Plan) -> None:
        """Puts this plan in the place of the one before."""
        number = self._job(job)["id"]
        tables: dict[str, list[Row]] = {
            "planned_item": [rows.planned_item_row(item) for item in plan.items],
            "planned_task": [rows.planned_task_row(task) for task in plan.tasks],
            "planned_place": [{"name": name} for name in plan.places],
        }
        with self._writing():
            for table, lines in tables.items():
                self._db.execute(f"DELETE FROM {table} WHERE job = ?", [number])
                self._forget(table, f"{number}|")
                numbered = [{"ordinal": ordinal, **line} for ordinal, line in enumerate(lines)]
                self._insert_all(table, [{"job": number, **line} for line in numbered])

    def plan(self, job: str) -> Plan:
        """The job's plan, empty when it has none; items, tasks and places as they were set."""
        number = self._job(job)["id"]
        items, tasks, places = (
            self._kept(table, f"SELECT * FROM {table} WHERE job = ? ORDER BY ordinal", number)
            for table in PLANNED
        )
        return Plan(
            tuple(map(rows.planned_item_from, items)),
            tuple(map(rows.planned_task_from, tasks)),
            tuple(row["name"] for row in places),
        )

    def catalog(self) -> Catalog:
        """The items and tasks of this book; the starter catalog until it is changed."""
        items = tuple(
            map(
                rows.item_from,
                self._kept("catalog_item", "SELECT * FROM catalog_item ORDER BY ordinal"),
            )
        )
        tasks = tuple(
            map(
                rows.task_from,
                self._kept("catalog_task", "SELECT * FROM catalog_task ORDER BY ordinal"),
            )
        )
        return Catalog(items, tasks) if items or tasks else starter_catalog()

    def change_catalog(self, change: Callable[[Catalog], Catalog]) -> Catalog:
        """Puts what `change` makes of the catalog in its place; the catalog as it then stands.

        Nobody else writes in between. What `change` raises passes through, and nothing is changed.
        """
        with self._writing():
            catalog = change(self.catalog())
            tables = {
                "catalog_item": [rows.item_row(item) for item in catalog.items],
                "catalog_task": [rows.task_row(task) for task in catalog.tasks],
            }
            for table, lines in tables.items():
                self._db.execute(f"DELETE FROM {table}")
                self._forget(table, "")
                numbered = [{"ordinal": ordinal, **line} for ordinal, line in enumerate(lines)]
                self._insert_all(table, numbered)
        return catalog

    def setting(self, name: str) -> str | None:
        """What was kept under that name, such as the job that was used last; None for nothing."""
        found = self._rows("SELECT value FROM setting WHERE name = ?", name)
        return str(found[0]["value"]) if found else None

    def set_setting(self, name: str, value: str | None) -> None:
        """Keeps a value under a name in the place of the one before; None forgets it."""
        with self._writing():
            if value is None:
                self._db.execute("DELETE FROM setting WHERE name = ?", [name])
            else:
                self._db.execute("INSERT OR REPLACE INTO setting VALUES (?, ?)", [name, value])

    @contextmanager
    def together(self) -> Iterator[None]:
        """What is decided inside is there together, or not at all."""
        with self._writing():
            yield

    def written(self) -> tuple[int, int]:
        """How far the book is written: another value after any write, from here or elsewhere."""
        # The first moves with what other connections commit, the second with our own.
        [(elsewhere,)] = self._db.execute("PRAGMA data_version").fetchall()
        return int(elsewhere), self._db.conn.total_changes

    # --- what is in it ------------------------------------------------------------------------

    def days(self, job: str) -> tuple[date, ...]:
        """The days, where the job is, on which anything was said, typed or photographed."""
        row = self._job(job)
        found = self._rows(
            "SELECT taken_at AS at FROM photo WHERE job = :job AND standing IS NOT 'withdrawn'"
            " UNION ALL SELECT made_at FROM recording WHERE job = :job AND standing = 'kept'",
            job=row["id"],
        )
        days = {_day(moment["at"], row["zone"]) for moment in found}
        days.update(self._days_told(row["id"], row["zone"]))
        return tuple(sorted(day for day in days if day))

    def _days_told(self, job: int, zone: str) -> Iterator[date | None]:
        """The days of its entries: the first moment of each is found by the index."""
        first, after = "SELECT min(at) AS at FROM entry WHERE job = ? AND at >= ?", ""
        while (moment := self._rows(first, job, after)[0]["at"]) is not None:
            day = _day(moment, zone)
            if day is None:  # A damaged moment may stand before or behind sound ones of its day.
                every = self._rows("SELECT at FROM entry WHERE job = ?", job)
                yield from (_day(one["at"], zone) for one in every)
                return
            yield day
            after = rows.bounds(day, zone)[1]

    def entries(self, job: str, day: date | None = None) -> tuple[BookEntry, ...]:
        """Every entry as it stands now, dropped ones too, in the order in which they were said."""
        if day is not None or hurt_entries(self._hurt, self._rows):
            return self._entries(*self._of(job, day, "at", "entry."))
        number = self._job(job)["id"]
        return self._remembered.of(number, self.written()[0], partial(self._placed, number))

    def entry(self, id: int) -> BookEntry:
        """An entry as it stands now."""
        return self.versions(id)[-1]

    def versions(self, id: int) -> tuple[BookEntry, ...]:
        """Everything an entry has been, oldest first."""
        found = self._entries("entry.id = :id", {"id": id}, every=True)
        if not found:
            raise BookError(f"there is no entry {id} in this book")
        return found

    def job_of(self, id: int) -> str:
        """The job that an entry belongs to."""
        found = self._rows(
            "SELECT name FROM job JOIN entry ON entry.job = job.id WHERE entry.id = ?", id
        )
        if not found:
            raise BookError(f"there is no entry {id} in this book")
        return str(found[0]["name"])

    def entries_of_kind(self, kind: Kind) -> dict[str, tuple[BookEntry, ...]]:
        """By job, the entries of all jobs that are of one kind now, dropped ones too."""
        newest = "(SELECT max(version) FROM entry_version WHERE entry = entry.id)"
        found = self._rows(
            "SELECT job.name, entry.id FROM job JOIN entry ON entry.job = job.id"
            f" JOIN entry_version ON entry_version.entry = entry.id AND version = {newest}"
            " WHERE json_valid(content) AND json_extract(content, '$.kind') = ?"
            " ORDER BY job.id, entry.at, entry.ordinal, entry.id",
            kind,
        )
        by_job: dict[str, list[BookEntry]] = {}
        for row in found:
            by_job.setdefault(row["name"], []).append(self.entry(row["id"]))
        return {job: tuple(mine) for job, mine in by_job.items()}

    def priced(self) -> tuple[tuple[str, int, str, datetime, date | None], ...]:
        """Job, number and item of every price, and every delivery with one, of all jobs, with when
        it was told and the day it was told of; doubtful and dropped ones too."""
        newest = "(SELECT max(version) FROM entry_version WHERE entry = entry.id)"
        found = self._rows(
            "SELECT job.name AS job, entry.id AS id, entry.at AS at,"
            " json_extract(content, '$.item') AS item, json_extract(content, '$.day') AS day"
            " FROM job JOIN entry ON entry.job = job.id"
            f" JOIN entry_version ON entry_version.entry = entry.id AND version = {newest}"
            " WHERE json_valid(content) AND json_extract(content, '$.unit_cost') IS NOT NULL"
            " AND json_extract(content, '$.kind') IN ('price', 'delivered')"
            " AND json_extract(content, '$.item') IS NOT NULL"
        )
        return tuple(
            (
                row["job"],
                row["id"],
                row["item"],
                datetime.fromisoformat(row["at"]),
                date.fromisoformat(row["day"]) if row["day"] else None,
            )
            for row in found
        )

    def recordings(self, job: str) -> tuple[Recording, ...]:
        """In the order in which they were made."""
        where, values = self._of(job, None, "made_at")
        order = f"SELECT * FROM recording WHERE {where} ORDER BY made_at, sha256"
        return tuple(map(rows.recording_from, self._legible("recording", order, **values)))

    def recording(self, sha256: str) -> Recording:
        """A recording, kept or withdrawn."""
        found = self._legible("recording", "SELECT * FROM recording WHERE sha256 = ?", sha256)
        if not found:
            raise BookError(f"there is no recording {sha256[:12]} in this book")
        return rows.recording_from(found[0])

    def utterance(self, id: int) -> BookUtterance:
        """What was heard, with every hearing; the chosen one first."""
        found = self._utterances("utterance.id = :id", {"id": id})
        if not found:
            raise BookError(f"there is no utterance {id} in this book")
        return found[0]

    def hearings_among(self, ids: Collection[int]) -> dict[int, tuple[Hearing, ...]]:
        """By utterance, what was heard, the chosen hearing first; without what else it may have
        been. One that is not there has none."""
        found: dict[int, tuple[Hearing, ...]] = {}
        for some in _batched(sorted(ids), 500):
            for row in self._kept(
                "hearing",
                "SELECT utterance, ordinal, recognizer, text, words, confidence FROM hearing"
                f" WHERE utterance IN ({', '.join(map(str, some))}) ORDER BY utterance, ordinal",
            ):
                heard = rows.hearing_from({**row, "alternatives": "[]"})
                found[row["utterance"]] = (*found.get(row["utterance"], ()), heard)
        return found

    def utterances(self, job: str, day: date | None = None) -> tuple[BookUtterance, ...]:
        """In the order in which they were said, those with nothing in them too."""
        return self._utterances(*self._of(job, day, "utterance.at"))

    def photos(
        self, job: str, day: date | None = None, *, withdrawn: bool = False
    ) -> tuple[Photo, ...]:
        """Those that count, or those that were withdrawn, in the order in which they were taken."""
        where, values = self._of(job, day, "taken_at")
        # What is damaged is no text that anybody wrote, and is shown.
        standing = f"standing {'IS' if withdrawn else 'IS NOT'} 'withdrawn'"
        order = f"SELECT * FROM photo WHERE {where} AND {standing} ORDER BY taken_at, sha256"
        return tuple(map(rows.photo_from, self._legible("photo", order, **values)))

    def photographed(self, job: str) -> dict[date, int]:
        """How many photos were taken on each day, where the job is."""
        row = self._job(job)
        found = self._rows(
            "SELECT taken_at AS at FROM photo WHERE job = ? AND standing IS NOT 'withdrawn'",
            row["id"],
        )
        days = (_day(photo["at"], row["zone"]) for photo in found)
        return Counter(day for day in days if day)

    def photo(self, sha256: str) -> Photo:
        found = self._legible("photo", "SELECT * FROM photo WHERE sha256 = ?", sha256)
        if not found:
            raise BookError(f"there is no photo {sha256[:12]} in this book")
        return rows.photo_from(found[0])

    def ties(self, job: str) -> tuple[Tie, ...]:
        """Which entries the job's photos belong to, in the order of the photos."""
        where, values = self._of(job, None, "taken_at")
        found = self._kept(
            "tie",
            "SELECT tie.* FROM tie JOIN photo ON photo.sha256 = tie.photo"
            f" WHERE {where} ORDER BY taken_at, photo, entry",
            **values,
        )
        return tuple(map(rows.tie_from, found))

    def ties_of(self, entry: int) -> tuple[Tie, ...]:
        """The photos that count and belong to one entry, nearest in time first."""
        found = self._kept(
            "tie",
            "SELECT tie.* FROM tie JOIN photo ON photo.sha256 = tie.photo"
            " JOIN entry ON entry.id = tie.entry AND entry.job = photo.job"
            " WHERE tie.entry = :entry AND photo.standing IS NOT 'withdrawn'"
            " ORDER BY abs(seconds), taken_at, photo",
            entry=entry,
        )
        return tuple(map(rows.tie_from, found))

    def clocks(self, job: str) -> tuple[ClockCorrection, ...]:
        """What the clocks of the job's cameras were off by, by camera and day."""
        order = "SELECT * FROM clock WHERE job = ? ORDER BY camera, day"
        found = self._kept("clock", order, self._job(job)["id"])
        return tuple(map(rows.clock_from, found))

    def found(self, typed: str, job: str, *, every_job: bool = True) -> Iterator[Row]:
        """Where all that was typed was said, of this job first, then newest first; see `find`."""
        here = self._job(job)["id"]
        with plainly(self.folder):
            yield from searching.find(self._db, typed, here, every_job=every_job)

    @property
    def finds_by_index(self) -> bool:
        """Whether SQLite has an index for `found`; without one every line is looked at."""
        with plainly(self.folder):
            return searching.indexed(self._db)

    @property
    def store(self) -> Path:
        """The folder of the originals."""
        return self.folder / MEDIA

    def media(self, sha256: str) -> Path:
        """The original of a recording, photo or track log."""
        found = self._originals("sha256 = ?", sha256)
        if not found:
            raise BookError(f"there is no recording or photo {sha256[:12]} in this book")
        return self.store / str(found[0]["media"])

    def holds(self, sha256: str) -> str | None:
        """The job that has this original, None when the book does not have it."""
        return next((str(row["job"]) for row in self._originals("sha256 = ?", sha256)), None)

    def lengths(self) -> frozenset[int]:
        """The lengths in bytes of all originals: a file of another length is certainly new."""
        return frozenset(row["bytes"] for row in self._originals("true"))

    def damage(self) -> tuple[Damage, ...]:
        """The rows that figures rest on and that are not as they were written; nothing counts them.

        `verify` looks at all the rest as well.
        """
        return tuple(damaged_rows(self, FIGURES))

    # --- rows, for the rooms of the book alone ------------------------------------------------

    def _entries(self, where: str, values: Row, *, every: bool = False) -> tuple[BookEntry, ...]:
        hurt = hurt_entries(self._hurt, self._rows)
        whole = tuple(one for _, one in self._whole(where, values, hurt, every=every))
        return among(whole, self._damaged(hurt, where, values, every)) if hurt else whole

    def _whole(
        self, where: str, values: Row, hurt: Container[int] = (), *, every: bool = False
    ) -> Iterator[Placed]:
        """The entries that are not hurt, each with what it stands in order by."""
        doubts: dict[tuple[int, int], tuple[str, ...]] = {}
        for entry, version, why in self._tuples(
            "SELECT doubt.entry, doubt.version, why FROM entry JOIN doubt ON doubt.entry = entry.id"
            f" WHERE {where} ORDER BY doubt.ordinal",
            values,
        ):
            doubts[entry, version] = (*doubts.get((entry, version), ()), why)
        found = self._tuples(
            "SELECT entry.at AS said_at, entry.ordinal, entry.id, version, entry_version.at AS at,"
            " content, standing, change, changed_at, said, utterance, origin"
            f" FROM entry JOIN entry_version ON entry_version.entry = entry.id WHERE {where}"
            " ORDER BY entry.at, entry.ordinal, entry.id, version",
            values,
        )
        # All versions are read, for to find the newest of each takes SQLite longer; it is the last.
        shown = found if every else {row[2]: row for row in found}.values()
        for row in shown:
            id, version = row[2], row[3]
            if id not in hurt:
                told = doubts.get((id, version), ())
                yield row[:3], rows.entry_of(id, version, told, *row[4:])

    def _placed(self, job: int, ids: Iterable[int] | None) -> Iterator[Placed]:
        """The entries of a job, all or some, each with what it stands in order by."""
        if ids is None:
            wheres = [("entry.job = :job", {"job": job})]
        else:
            # As many as any SQLite takes at once.
            wheres = [
                (f"entry.id IN ({', '.join(map(str, some))}) AND entry.job = :job", {"job": job})
                for some in _batched(sorted(ids), 500)
            ]
        for where, values in wheres:
            yield from self._whole(where, values)

    def _damaged(
        self, hurt: Mapping[int, str], where: str, values: Row, every: bool
    ) -> Iterator[BookEntry]:
        """The damaged entries that are asked for, or may be: of some it is not known any more."""
        asked = {row["id"] for row in self._rows(f"SELECT id FROM entry WHERE {where}", **values)}
        lost = set() if "id" in values else set(self._hurt("entry"))
        for id, why in hurt.items():
            if id in asked or str(id) in lost:
                yield from shown(id, why, self._hurt, self._rows, every=every)

    def _utterances(self, where: str, values: Row) -> tuple[BookUtterance, ...]:
        tables = (
            f"FROM utterance JOIN recording ON recording.sha256 = utterance.recording WHERE {where}"
        )
        hearings: dict[int, list[Row]] = {}
        for row in self._kept(
            "hearing",
            f"SELECT * FROM hearing WHERE utterance IN (SELECT utterance.id {tables})"
            " ORDER BY utterance, ordinal",
            **values,
        ):
            hearings.setdefault(row["utterance"], []).append(row)
        order = f"SELECT utterance.* {tables} ORDER BY utterance.at, id"
        found = self._kept("utterance", order, **values)
        return tuple(
            rows.utterance_from(row, tuple(map(rows.hearing_from, hearings.get(row["id"], []))))
            for row in found
        )

    def _of(self, job: str, day: date | None, moment: str, table: str = "") -> tuple[str, Row]:
        """The condition that picks a job, and a day of it, and the values in it."""
        row = self._job(job)
        where = f"{table}job = :job"
        if day is None:
            return where, {"job": row["id"]}
        start, end = rows.bounds(day, row["zone"])
        where = f"{where} AND {table}{moment} >= :start AND {table}{moment} < :end"
        return where, {"job": row["id"], "start": start, "end": end}

    def _job(self, name: str) -> Row:
        found = self._legible("job", "SELECT * FROM job WHERE name = ?", name)
        if not found:
            known = ", ".join(job.name for job in self.jobs()) or "none"
            raise BookError(f"there is no job called {name!r} in this book; it has: {known}")
        return found[0]

    def _originals(self, where: str, *values: Any) -> list[Row]:
        return self._rows(
            "SELECT job.name AS job, media, bytes FROM"
            f" ({media.in_all('sha256, job, media, bytes')}) original"
            f" JOIN job ON job.id = original.job WHERE {where}",
            *values,
        )

    @contextmanager
    def _writing(self, *, decides: bool = True) -> Iterator[None]:
        """What is written inside is there together or not at all; inside another, part of it.

        A run of a command is one transaction, from its first write to its end. Without `decides`
        it is a note beside it, which may be there without the rest.
        """
        with plainly(self.folder):
            if not self._db.conn.in_transaction:
                self._sound.before_writing()
                if decides and self._at_first_write is not None:
                    self._at_first_write()
            inside = self._db.conn.in_transaction
            try:
                with part(self._db) if inside else writing(self._db):
                    yield
            except BaseException:
                self._remembered.forget()
                raise

    def _insert(self, table: str, row: Row) -> int:
        return self._db.insert(table, row)

    def _insert_all(self, table: str, rows: Iterable[Row]) -> None:
        self._db.insert_all(table, rows)

    def _rows(self, sql: str, *values: Any, **named: Any) -> list[Row]:
        with plainly(self.folder):
            try:
                return list(self._db.query(sql, named or values))
            except sqlite3.DatabaseError as error:
                if not self._sound.rescued(error):
                    raise
                return list(self._db.query(sql, named or values))

    def _tuples(self, sql: str, values: Row) -> list[tuple[Any, ...]]:
        """As `_rows`, for thousands of them."""
        with plainly(self.folder):
            try:
                return self._db.execute(sql, values).fetchall()
            except sqlite3.DatabaseError as error:
                if not self._sound.rescued(error):
                    raise
                return self._db.execute(sql, values).fetchall()

    def _kept(self, table: str, sql: str, *values: Any, **named: Any) -> list[Row]:
        """Rows of a table without those that are damaged; `damage` names these."""
        hurt = self._hurt(table)
        return [row for row in self._rows(sql, *values, **named) if sound(row, table, hurt)]

    def _legible(self, table: str, sql: str, *values: Any, **named: Any) -> list[Row]:
        """Rows of a table, the damaged ones as far as they can be read."""
        hurt = self._hurt(table)
        found = self._rows(sql, *values, **named)
        return [row if sound(row, table, hurt) else legible(row) for row in found]

    def _hurt(self, table: str) -> Mapping[str, bool]:
        """The keys of the damaged rows of a table; True for those that are gone."""
        with plainly(self.folder):
            return self._sound.of(table)

    def _forget(self, table: str, beginning: str) -> None:
        """Asks no more for lost rows in whose place others are being put."""
        if table in PLANNED:
            self._remembered.changes_plan(int(beginning.removesuffix("|")))
        gone = [key for key, is_gone in self._hurt(table).items() if is_gone]
        seals.forget_gone(self._db, table, [key for key in gone if key.startswith(beginning)])


def _day(moment: str, zone: str) -> date | None:
    """None where a damaged row holds no moment any more."""
    try:
        return rows.local_day(moment, zone)
    except ValueError:
        return None


def _batched(ids: Sequence[int], size: int) -> Iterator[Sequence[int]]:
    """So many at a time."""
    for first in range(0, len(ids), size):
        yield ids[first : first + size]
