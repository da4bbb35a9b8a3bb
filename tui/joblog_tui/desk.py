"""What every screen works on, read from the book: the days of a job, and one day of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

from joblog.book import Book, closed
from joblog.model import (
    BookEntry,
    BookUtterance,
    Catalog,
    Job,
    Photo,
    Plan,
    Reconciliation,
    Recording,
    Tie,
    Vocabulary,
)
from joblog.plan import vocabulary
from joblog.reconcile import reconcile, sensed


@dataclass(slots=True)
class Desk:
    """A book, opened at one job. All screens share one desk, and so one catalog and its words."""

    book: Book
    job: Job
    plan: Plan
    catalog: Catalog
    vocabulary: Vocabulary


@dataclass(frozen=True, slots=True)
class DayLine:
    """One day in the list of days."""

    day: date
    entries: int
    doubts: int
    photos: int
    crew_hours: Fraction | None


@dataclass(frozen=True, slots=True)
class Day:
    """All there is of one day. Entries that wait for a person come first, then by time."""

    day: date
    entries: tuple[BookEntry, ...] = ()
    utterances: dict[int, BookUtterance] | None = None
    recordings: tuple[Recording, ...] = ()
    """Those of the whole job: one may begin before midnight."""
    photos: tuple[Photo, ...] = ()
    ties: tuple[Tie, ...] = ()
    doubts_elsewhere: tuple[tuple[date, int], ...] = ()
    """Other days with doubts, and how many each has."""
    troubles: tuple[str, ...] = ()
    """Recordings and photos of this day that something is wrong with, and what."""

    @property
    def doubts(self) -> int:
        return sum(1 for entry in self.entries if entry.open)

    @property
    def doubts_in_job(self) -> int:
        return self.doubts + sum(count for _, count in self.doubts_elsewhere)


@dataclass(frozen=True, slots=True)
class Evidence:
    """An entry with what else there is of it."""

    entry: BookEntry
    recording: str | None
    """Name of the recording it was heard in; None where it was typed."""
    photos: tuple[Photo, ...]
    """Those tied to it, nearest in time first."""


def open_desk(book: Book, job: str) -> Desk:
    """The desk for one job. Raises BookError when the book has no such job."""
    found = book.job(job)
    plan, catalog = book.plan(job), book.catalog()
    return Desk(book, found, plan, catalog, vocabulary(plan, found, catalog))


def read_catalog(desk: Desk) -> Catalog:
    """The catalog as it now stands in the book; words typed from here on are read by it."""
    return _known(desk, desk.book.catalog())


def change_catalog(desk: Desk, change: Callable[[Catalog], Catalog]) -> Catalog:
    """The catalog after the change. What `change` raises passes through, and nothing is changed."""
    return _known(desk, desk.book.change_catalog(change))


def _known(desk: Desk, catalog: Catalog) -> Catalog:
    if catalog != desk.catalog:
        desk.catalog = catalog
        desk.vocabulary = vocabulary(desk.plan, desk.job, catalog)
    return catalog


def read_entries(desk: Desk) -> tuple[BookEntry, ...]:
    """All entries of the job, with the doubts that they cast on each other."""
    return sensed(desk.job, desk.plan, desk.book.entries(desk.job.name), read_catalog(desk))


def read_balance(desk: Desk) -> Reconciliation:
    """The job squared up as it now stands."""
    return reconcile(desk.job, desk.plan, desk.book.entries(desk.job.name), read_catalog(desk))


def read_evidence(desk: Desk, ids: Sequence[int]) -> dict[int, Evidence]:
    """These entries by their numbers, in that order, with their recordings and photos."""
    name = desk.job.name
    every = {entry.id: entry for entry in read_entries(desk)}
    names = {recording.sha256: recording.name for recording in desk.book.recordings(name)}
    photos = {photo.sha256: photo for photo in desk.book.photos(name)}
    ties = sorted(desk.book.ties(name), key=lambda tie: abs(tie.seconds))
    return {
        id: Evidence(
            every[id],
            _recording_of(desk, every[id], names),
            tuple(photos[tie.photo] for tie in ties if tie.entry == id and tie.photo in photos),
        )
        for id in ids
        if id in every
    }


def _recording_of(desk: Desk, entry: BookEntry, names: dict[str, str]) -> str | None:
    if entry.utterance is None:
        return None
    sha256 = desk.book.utterance(entry.utterance).recording
    # An entry that was moved here by itself was heard in a recording of another job.
    return names.get(sha256) or desk.book.recording(sha256).name


def jobs_that_teach(folder: Path) -> int:
    """How many jobs the rates are learned from now, those from paper too; for any thread."""
    # Kept out of the start of the review, which needs no rates.
    from joblog.rates.learned import key_of, past_of

    with Book.open(folder) as book:
        history, _ = closed.history(book)
    return len({key_of(past.job) for past in past_of(history)})


def read_days(desk: Desk) -> tuple[DayLine, ...]:
    """Every day on which anything was said, typed or photographed, in order."""
    entries = read_entries(desk)
    zone = ZoneInfo(desk.job.zone)
    counted = Counter(local_day(entry.at, zone) for entry in entries)
    doubtful = Counter(local_day(entry.at, zone) for entry in entries if entry.open)
    pictured = Counter(local_day(photo.taken.at, zone) for photo in desk.book.photos(desk.job.name))
    hours = {line.day: line.crew_hours for line in read_balance(desk).days}
    return tuple(
        DayLine(day, counted[day], doubtful[day], pictured[day], hours.get(day))
        for day in desk.book.days(desk.job.name)
    )


def read_day(desk: Desk, day: date) -> Day:
    """One day of the job, with what was heard and photographed on it."""
    everything = read_entries(desk)
    zone = ZoneInfo(desk.job.zone)
    elsewhere = Counter(local_day(entry.at, zone) for entry in everything if entry.open)
    elsewhere.pop(day, None)
    photos = tuple(desk.book.photos(desk.job.name, day))
    recordings = desk.book.recordings(desk.job.name)
    kept: list[Recording | Photo] = [r for r in recordings if local_day(r.made.at, zone) == day]
    kept += photos
    return Day(
        day=day,
        entries=doubtful_first(e for e in everything if local_day(e.at, zone) == day),
        utterances={said.id: said for said in desk.book.utterances(desk.job.name, day)},
        recordings=recordings,
        photos=photos,
        ties=tuple(desk.book.ties(desk.job.name)),
        doubts_elsewhere=tuple(sorted(elsewhere.items())),
        troubles=tuple(f"{one.name}: {one.trouble}" for one in kept if one.trouble),
    )


def doubtful_first(entries: Iterable[BookEntry]) -> tuple[BookEntry, ...]:
    """Entries that wait for a person before all others, each part by time."""
    return tuple(sorted(entries, key=lambda entry: (not entry.open, entry.at, entry.id)))


def photos_of(day: Day, entry: BookEntry) -> tuple[tuple[Photo, Tie], ...]:
    """The photos tied to an entry, nearest in time first, each with its tie."""
    pictures = {photo.sha256: photo for photo in day.photos}
    tied = [tie for tie in day.ties if tie.entry == entry.id and tie.photo in pictures]
    tied.sort(key=lambda tie: abs(tie.seconds))
    return tuple((pictures[tie.photo], tie) for tie in tied)


def heard(day: Day, entry: BookEntry) -> BookUtterance | None:
    """The utterance an entry was read from; None for a typed one."""
    if entry.utterance is None or day.utterances is None:
        return None
    return day.utterances.get(entry.utterance)


def recording_of(day: Day, entry: BookEntry) -> str | None:
    """Name of the recording an entry was heard in; None for a typed one."""
    said = heard(day, entry)
    if said is None:
        return None
    return next((one.name for one in day.recordings if one.sha256 == said.recording), None)


def earlier(day: Day, entry: BookEntry) -> Sequence[BookEntry]:
    """The entries of the same recording that were said before this one, in the order said."""
    spoken = heard(day, entry)
    if spoken is None:
        return ()
    before = [
        other
        for other in day.entries
        if (said := heard(day, other)) is not None
        and said.recording == spoken.recording
        and (other.at, other.id) < (entry.at, entry.id)
        and other.standing != "dropped"
    ]
    return sorted(before, key=lambda other: (other.at, other.id))


def local_day(at: datetime, zone: ZoneInfo) -> date:
    return at.astimezone(zone).date()
