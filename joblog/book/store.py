"""The book itself: what is in it, and everything that can be done to it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from types import TracebackType
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from filelock import Timeout

from joblog.book import closed, media, rows
from joblog.book.history import Version, spoken, versions
from joblog.book.media import Stowed
from joblog.book.rows import Row, moment_text
from joblog.book.schema import BookError, database, plainly, writing
from joblog.catalog.lines import starter_catalog
from joblog.model import (
    BookEntry,
    BookUtterance,
    Catalog,
    Closing,
    HeardUtterance,
    History,
    Job,
    Photo,
    Plan,
    Reading,
    Reconciliation,
    Recording,
    Tie,
)

FILE = "book.sqlite"
MEDIA = "media"


class Book:
    """An open book. Use it in one thread; another thread or program opens the folder again.

    Every method raises `BookError`, in words for a person, when the disk or the book refuses, and
    for a job, entry or original that is not there. What a method writes is all there when it
    returns, or not at all.

    >>> with Book.open(Path("my-jobs")) as book:
    ...     for entry in book.entries("Gull Point cottage"):
    ...         print(entry.said)
    """

    def __init__(self, folder: Path, *, new: bool = False) -> None:
        self.folder = folder
        self._db = database(folder / FILE, new=new)

    @classmethod
    def create(cls, folder: Path) -> Book:
        """A new, empty book in a folder, which is made if it is not there."""
        with plainly(folder):
            folder.mkdir(parents=True, exist_ok=True)
        return cls(folder, new=True)

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
        self._db.close()

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

    def jobs(self) -> tuple[Job, ...]:
        """In the order in which they were added."""
        return tuple(map(rows.job_from, self._rows("SELECT * FROM job ORDER BY id")))

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
                for ordinal, line in enumerate(lines):
                    self._insert(table, {"job": number, "ordinal": ordinal, **line})

    def plan(self, job: str) -> Plan:
        """The job's plan, empty when it has none; items, tasks and places as they were set."""
        number = self._job(job)["id"]
        items, tasks, places = (
            self._rows(f"SELECT * FROM {table} WHERE job = ? ORDER BY ordinal", number)
            for table in ("planned_item", "planned_task", "planned_place")
        )
        return Plan(
            tuple(map(rows.planned_item_from, items)),
            tuple(map(rows.planned_task_from, tasks)),
            tuple(row["name"] for row in places),
        )

    def catalog(self) -> Catalog:
        """The items and tasks of this book; the starter catalog until it is changed."""
        items = tuple(
            map(rows.item_from, self._rows("SELECT * FROM catalog_item ORDER BY ordinal"))
        )
        tasks = tuple(
            map(rows.task_from, self._rows("SELECT * FROM catalog_task ORDER BY ordinal"))
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
                for ordinal, line in enumerate(lines):
                    self._insert(table, {"ordinal": ordinal, **line})
        return catalog

    # --- what is in it ------------------------------------------------------------------------

    def days(self, job: str) -> tuple[date, ...]:
        """The days, where the job is, on which anything was said, typed or photographed."""
        row = self._job(job)
        moments = self._rows(
            "SELECT at FROM entry WHERE job = :job UNION SELECT taken_at FROM photo"
            " WHERE job = :job UNION SELECT made_at FROM recording WHERE job = :job",
            job=row["id"],
        )
        return tuple(sorted({rows.local_day(moment["at"], row["zone"]) for moment in moments}))

    def entries(self, job: str, day: date | None = None) -> tuple[BookEntry, ...]:
        """Every entry as it stands now, dropped ones too, in the order in which they were said."""
        return self._entries(*self._of(job, day, "entry.at"))

    def entry(self, id: int) -> BookEntry:
        """An entry as it stands now."""
        return self.versions(id)[-1]

    def versions(self, id: int) -> tuple[BookEntry, ...]:
        """Everything an entry has been, oldest first."""
        found = self._entries("entry.id = :id", {"id": id}, every=True)
        if not found:
            raise BookError(f"there is no entry {id} in this book")
        return found

    def recordings(self, job: str) -> tuple[Recording, ...]:
        """In the order in which they were made."""
        where, values = self._of(job, None, "made_at")
        found = self._rows(
            f"SELECT * FROM recording WHERE {where} ORDER BY made_at, sha256", **values
        )
        return tuple(map(rows.recording_from, found))

    def utterance(self, id: int) -> BookUtterance:
        """What was heard, with every hearing; the chosen one first."""
        found = self._utterances("utterance.id = :id", {"id": id})
        if not found:
            raise BookError(f"there is no utterance {id} in this book")
        return found[0]

    def utterances(self, job: str, day: date | None = None) -> tuple[BookUtterance, ...]:
        """In the order in which they were said, those with nothing in them too."""
        return self._utterances(*self._of(job, day, "utterance.at"))

    def photos(self, job: str, day: date | None = None) -> tuple[Photo, ...]:
        """In the order in which they were taken."""
        where, values = self._of(job, day, "taken_at")
        found = self._rows(f"SELECT * FROM photo WHERE {where} ORDER BY taken_at, sha256", **values)
        return tuple(map(rows.photo_from, found))

    def ties(self, job: str) -> tuple[Tie, ...]:
        """Which entries the job's photos belong to, in the order of the photos."""
        where, values = self._of(job, None, "taken_at")
        found = self._rows(
            "SELECT tie.* FROM tie JOIN photo ON photo.sha256 = tie.photo"
            f" WHERE {where} ORDER BY taken_at, photo, entry",
            **values,
        )
        return tuple(map(rows.tie_from, found))

    @property
    def store(self) -> Path:
        """The folder of the originals."""
        return self.folder / MEDIA

    def media(self, sha256: str) -> Path:
        """The original of a recording or photo."""
        found = self._originals("sha256 = ?", sha256)
        if not found:
            raise BookError(f"there is no recording or photo {sha256[:12]} in this book")
        return self.store / str(found[0]["media"])

    def holds(self, sha256: str) -> str | None:
        """The job that has this recording or photo, None when the book does not have it."""
        return next((str(row["job"]) for row in self._originals("sha256 = ?", sha256)), None)

    def lengths(self) -> frozenset[int]:
        """The lengths in bytes of all originals: a file of another length is certainly new."""
        return frozenset(row["bytes"] for row in self._originals("true"))

    # --- what comes in ------------------------------------------------------------------------

    @contextmanager
    def taking_in(self) -> Iterator[None]:
        """Held while files are copied in; `BookError` when that is going on already."""
        with plainly(self.folder):
            lock = media.in_use(self.store)
            try:
                lock.acquire()
            except Timeout:
                raise BookError(
                    f"{self.folder}: files are being taken in already. Wait until that is done."
                ) from None
        try:
            yield
        finally:
            lock.release()

    def keep_recording(
        self, job: str, path: Path, recording: Recording, heard: Sequence[HeardUtterance]
    ) -> bool:
        """Keeps a recording, all that was heard in it and the entries that were read from that.

        "Scratch that" and the like, said in the recording, are done to the entry before them.
        False when the book has it already; then nothing changes.
        """
        number = self._job(job)["id"]
        if self.holds(recording.sha256):
            return False
        stowed = self._stowed(path, recording.sha256)
        with self._writing():
            if self.holds(recording.sha256):
                return False
            row = {"job": number, "media": stowed.media, "bytes": stowed.bytes}
            self._insert("recording", {**rows.recording_row(recording), **row})
            self._keep_heard(number, recording, heard)
        return True

    def keep_photo(self, job: str, path: Path, photo: Photo) -> bool:
        """Keeps a photo. False when the book has it already; then nothing changes."""
        number = self._job(job)["id"]
        if self.holds(photo.sha256):
            return False
        stowed = self._stowed(path, photo.sha256)
        with self._writing():
            if self.holds(photo.sha256):
                return False
            row = {"job": number, "media": stowed.media, "bytes": stowed.bytes}
            self._insert("photo", {**rows.photo_row(photo), **row})
        return True

    def tie_photos(self, job: str) -> None:
        """Ties the job's photos to its entries anew; every change of an entry does so by itself."""
        with self._writing():
            self._tie_photos(job)

    # --- what a person changes ----------------------------------------------------------------

    def add_typed(self, job: str, reading: Reading, said: str, at: datetime) -> tuple[int, ...]:
        """Adds what a person wrote, as if said at `at`; the ids of the entries."""
        number = self._job(job)["id"]
        now = datetime.now(UTC)
        with self._writing():
            ids = tuple(
                self._keep_entry(number, None, ordinal, at, told, [now])
                for ordinal, told in enumerate(spoken([(reading, said)], "typed"))
            )
            self._tie_photos(job)
        return ids

    def accept(self, id: int) -> BookEntry:
        """It is right as it stands; its doubts are settled."""
        with self._writing():
            now = self.entry(id)
            if now.standing == "accepted" and now.change != "typed":
                return now
            self._add_version(id, Version(now.entry, (), "accepted", "accepted", now.said))
        return self.entry(id)

    def drop(self, id: int) -> BookEntry:
        """It does not count; it stays readable."""
        with self._writing():
            now = self.entry(id)
            if now.standing == "dropped":
                return now
            self._add_version(id, Version(now.entry, (), "dropped", "dropped", now.said))
            self._tie_photos(self._job_of(id))
        return self.entry(id)

    def correct(self, id: int, reading: Reading, said: str) -> tuple[BookEntry, ...]:
        """Puts the reading's first entry in the place of this one and its others beside it.

        The entries as they then stand, the changed one first. Raises `BookError` for a reading
        without an entry.
        """
        made = versions(reading, said, "corrected")
        if not made:
            raise BookError(f"nothing that could be noted was read in {said!r}")
        with self._writing():
            self.entry(id)
            number = self._add_version(id, made[0])
            added = [self._add_beside(id, number, version) for version in made[1:]]
            self._tie_photos(self._job_of(id))
        return tuple(map(self.entry, [id, *added]))

    def undo(self, id: int) -> BookEntry:
        """Takes back the last change that is not taken back yet; the entry as it then stands.

        What a correction had added beside the entry is dropped. Raises `BookError` when nothing
        is left to take back.
        """
        with self._writing():
            every = self.versions(id)
            told = self._told(id)
            undone = _effective(told, len(every))
            if undone == 1:
                raise BookError(f"entry {id} is as it was first noted; there is nothing to undo")
            restored = _effective(told, undone - 1)
            old = every[restored - 1]
            version = Version(old.entry, old.doubts, old.standing, "undone", old.said)
            self._add_version(id, version, restores=restored)
            for added in self._rows(
                "SELECT id FROM entry WHERE beside = ? AND beside_version = ?", id, undone
            ):
                self._take_away(added["id"])
            self._tie_photos(self._job_of(id))
        return self.entry(id)

    # --- closed jobs, and what they teach -----------------------------------------------------

    def close_job(
        self,
        job: str,
        day: date,
        figures: Reconciliation,
        entries: Sequence[BookEntry] | None = None,
    ) -> Closing:
        """Freezes the figures of a job, with the plan and the entries that they rest on.

        `day` is the one it counts for when rates are learned. Closing again adds a closing, and
        the earlier ones stay. A catalog that changes later reopens nothing by itself. With
        `entries`, those that the figures were made of, it raises `BookError` where one of them
        has changed meanwhile.
        """
        return closed.close_job(self, job, day, figures, entries)

    def closing(self, job: str) -> Closing | None:
        """How a job was last closed, and what has changed since; None while it never was."""
        return next(iter(self.closings_of(job)[-1:]), None)

    def closings_of(self, job: str) -> tuple[Closing, ...]:
        """Every time that a job was closed, oldest first, each with what has changed since."""
        return closed.closings(self, "closing.job = ?", self._job(job)["id"])

    def closings(self) -> tuple[Closing, ...]:
        """The newest closing of every job that was ever closed, in the order of the jobs."""
        return closed.closings(self, closed.NEWEST)

    def history(self) -> tuple[History, tuple[str, ...]]:
        """What all closed jobs teach, those from paper too, and a line on each that is left out.

        A job that was reopened teaches nothing until it is closed again.
        """
        return closed.history(self)

    def past(self) -> History:
        """The earlier jobs from paper, in the order of their days."""
        return closed.past(self)

    def keep_past(self, earlier: History) -> int:
        """Keeps earlier jobs from paper; how many of their lines are new, or say otherwise now.

        A line takes the place of the one of the same job, day and item or task.
        """
        return closed.keep_past(self, earlier)

    def drop_past(self, job: str) -> int:
        """Drops an earlier job that came from paper; how many lines it had."""
        return closed.drop_past(self, job)

    # --- rows ---------------------------------------------------------------------------------

    def _keep_heard(self, job: int, recording: Recording, heard: Sequence[HeardUtterance]) -> None:
        moments = [recording.made.at + timedelta(seconds=h.utterance.start) for h in heard]
        ids = [
            self._keep_utterance(recording.sha256, ordinal, moment, one)
            for ordinal, (moment, one) in enumerate(zip(moments, heard, strict=True))
        ]
        said = [(one.reading, _chosen_text(one)) for one in heard]
        for ordinal, told in enumerate(spoken(said, "heard")):
            # A version that was heard is as old as the words: intake run again writes it alike.
            changed = [moments[version.part] for version in told]
            part = told[0].part
            self._keep_entry(job, ids[part], ordinal, moments[part], told, changed)

    def _keep_utterance(
        self, recording: str, ordinal: int, at: datetime, heard: HeardUtterance
    ) -> int:
        utterance = heard.utterance
        id = self._insert(
            "utterance",
            {
                "recording": recording,
                "ordinal": ordinal,
                "at": moment_text(at),
                "start": float(utterance.start),
                "end": float(utterance.end),
                "unread": heard.reading.unread,
            },
        )
        for number, hearing in enumerate(utterance.hearings):
            row = {"utterance": id, "ordinal": number, **rows.hearing_row(hearing)}
            self._insert("hearing", row)
        return id

    def _keep_entry(
        self,
        job: int,
        utterance: int | None,
        ordinal: int,
        at: datetime,
        told: Sequence[Version],
        changed: Sequence[datetime],
    ) -> int:
        row = {"job": job, "utterance": utterance, "ordinal": ordinal, "at": moment_text(at)}
        id = self._insert("entry", row)
        for number, version in enumerate(told):
            self._add_version(id, version, changed[min(number, len(changed) - 1)])
        return id

    def _add_beside(self, id: int, number: int, version: Version) -> int:
        [row] = self._rows("SELECT job, utterance, ordinal, at FROM entry WHERE id = ?", id)
        added = self._insert("entry", {**row, "beside": id, "beside_version": number})
        self._add_version(added, version)
        return added

    def _add_version(
        self,
        id: int,
        version: Version,
        changed_at: datetime | None = None,
        restores: int | None = None,
    ) -> int:
        number = max(self._told(id), default=0) + 1
        self._insert(
            "entry_version",
            {
                "entry": id,
                "version": number,
                "content": rows.content(version.entry),
                "standing": version.standing,
                "change": version.change,
                "changed_at": moment_text(changed_at or datetime.now(UTC)),
                "said": version.said,
                "restores": restores,
            },
        )
        for ordinal, why in enumerate(version.doubts):
            row = {"entry": id, "version": number, "ordinal": ordinal, "why": why}
            self._insert("doubt", row)
        return number

    def _take_away(self, id: int) -> None:
        now = self.entry(id)
        if now.standing != "dropped":
            self._add_version(id, Version(now.entry, (), "dropped", "undone", now.said))

    def _tie_photos(self, job: str) -> None:
        photos = self.photos(job)
        if not photos:
            return
        from joblog.photos import tie

        ties = tie(photos, self.entries(job))
        if ties == self.ties(job):
            return
        self._db.execute(
            "DELETE FROM tie WHERE photo IN (SELECT sha256 FROM photo WHERE job = ?)",
            [self._job(job)["id"]],
        )
        for one in ties:
            self._insert("tie", rows.tie_row(one))

    def _job_of(self, id: int) -> str:
        [row] = self._rows(
            "SELECT name FROM job JOIN entry ON entry.job = job.id WHERE entry.id = ?", id
        )
        return str(row["name"])

    def _told(self, id: int) -> dict[int, int | None]:
        """The versions of an entry and, of those that took a change back, which they restored."""
        found = self._rows("SELECT version, restores FROM entry_version WHERE entry = ?", id)
        return {row["version"]: row["restores"] for row in found}

    def _entries(self, where: str, values: Row, *, every: bool = False) -> tuple[BookEntry, ...]:
        newest = "(SELECT max(version) FROM entry_version WHERE entry = entry.id)"
        chosen = f"{where}" if every else f"{where} AND version = {newest}"
        tables = f"FROM entry JOIN entry_version ON entry_version.entry = entry.id WHERE {chosen}"
        doubts: dict[tuple[int, int], list[str]] = {}
        for row in self._rows(
            "SELECT doubt.* FROM doubt JOIN (SELECT entry.id AS id, version AS number"
            f" {tables}) ON doubt.entry = id AND doubt.version = number ORDER BY doubt.ordinal",
            **values,
        ):
            doubts.setdefault((row["entry"], row["version"]), []).append(row["why"])
        found = self._rows(
            f"SELECT entry.*, entry_version.* {tables}"
            " ORDER BY entry.at, entry.ordinal, entry.id, version",
            **values,
        )
        return tuple(
            rows.entry_from(row, tuple(doubts.get((row["id"], row["version"]), ())))
            for row in found
        )

    def _utterances(self, where: str, values: Row) -> tuple[BookUtterance, ...]:
        tables = (
            f"FROM utterance JOIN recording ON recording.sha256 = utterance.recording WHERE {where}"
        )
        hearings: dict[int, list[Row]] = {}
        for row in self._rows(
            f"SELECT * FROM hearing WHERE utterance IN (SELECT utterance.id {tables})"
            " ORDER BY utterance, ordinal",
            **values,
        ):
            hearings.setdefault(row["utterance"], []).append(row)
        found = self._rows(f"SELECT utterance.* {tables} ORDER BY utterance.at, id", **values)
        return tuple(
            rows.utterance_from(row, tuple(map(rows.hearing_from, hearings.get(row["id"], []))))
            for row in found
        )

    def _of(self, job: str, day: date | None, moment: str) -> tuple[str, Row]:
        """The condition that picks a job, and a day of it, and the values in it."""
        row = self._job(job)
        if day is None:
            return "job = :job", {"job": row["id"]}
        start, end = rows.bounds(day, row["zone"])
        where = f"job = :job AND {moment} >= :start AND {moment} < :end"
        return where, {"job": row["id"], "start": start, "end": end}

    def _job(self, name: str) -> Row:
        found = self._rows("SELECT * FROM job WHERE name = ?", name)
        if not found:
            known = ", ".join(job.name for job in self.jobs()) or "none"
            raise BookError(f"there is no job called {name!r} in this book; it has: {known}")
        return found[0]

    def _originals(self, where: str, *values: Any) -> list[Row]:
        return self._rows(
            "SELECT job.name AS job, media, bytes FROM (SELECT sha256, job, media, bytes FROM"
            " recording UNION ALL SELECT sha256, job, media, bytes FROM photo) original"
            f" JOIN job ON job.id = original.job WHERE {where}",
            *values,
        )

    def _stowed(self, path: Path, sha256: str) -> Stowed:
        with plainly(path):
            if path.is_relative_to(self.store):
                place = path.relative_to(self.store).as_posix()
                return Stowed(path.stem, place, path.stat().st_size)
            with self.taking_in():
                stowed = media.stow(self.store, path)
        if stowed.sha256 != sha256:
            raise BookError(f"{path}: changed while it was being read. Add it again.")
        return stowed

    @contextmanager
    def _writing(self) -> Iterator[None]:
        with plainly(self.folder), writing(self._db):
            yield

    def _insert(self, table: str, row: Row) -> int:
        return int(self._db.table(table).insert(row).last_rowid or 0)

    def _rows(self, sql: str, *values: Any, **named: Any) -> list[Row]:
        with plainly(self.folder):
            return list(self._db.query(sql, named or values))


def _chosen_text(heard: HeardUtterance) -> str:
    return heard.utterance.hearings[0].text if heard.utterance.hearings else ""


def _effective(told: dict[int, int | None], version: int) -> int:
    """The version whose state this one shows: itself, or the one that an undo restored."""
    return told[version] or version
