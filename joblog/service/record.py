"""What the record of a job holds: its days, one day of it, and what stands behind an entry."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.book import closed
from joblog.book.ties import BY_HAND
from joblog.model import (
    BookEntry,
    BookUtterance,
    ClockCorrection,
    Closing,
    Photo,
    Reconciliation,
    Recording,
    Tie,
)
from joblog.reconcile import reconcile, sensed
from joblog.reconcile.hours import attended
from joblog.reconcile.wanted import wanted_of
from joblog.service.desk import Desk, once, read_catalog, refresh
from joblog.service.errors import ServiceError, use_case
from joblog.service.stock import came

if TYPE_CHECKING:
    from PIL.Image import Image


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
    photos: tuple[Photo, ...] = ()
    ties: tuple[Tie, ...] = ()
    troubles: tuple[str, ...] = ()
    """Recordings and photos of this day that something is wrong with, and what."""
    alike: tuple[tuple[str, ...], ...] = ()
    """Groups of photos that show the same, the best one first."""
    unanswered: tuple[BookEntry, ...] = ()
    """Entries that speak of a photo, or of work to be covered, and have none."""
    put_right: Mapping[str, tuple[datetime, ClockCorrection]] = field(default_factory=dict)
    """By SHA-256, the photos of the day whose camera's clock was put right: when, and by what."""

    @property
    def doubts(self) -> int:
        return sum(1 for entry in self.entries if entry.open)


@dataclass(frozen=True, slots=True)
class Evidence:
    """An entry with what else there is of it."""

    entry: BookEntry
    recording: str | None
    """Name of the recording it was heard in; None where it was typed."""
    photos: tuple[Photo, ...]
    """Those tied to it, nearest in time first."""


@use_case
def read_entries(desk: Desk, day: date | None = None) -> tuple[BookEntry, ...]:
    """The entries of a day, or of the job, with the doubts that the whole job casts on them."""
    every = once(desk, "entries", lambda: _sensed(desk))
    return every if day is None else said_on(every, day, ZoneInfo(desk.job.zone))


def _sensed(desk: Desk) -> tuple[BookEntry, ...]:
    entries = desk.book.entries(desk.job.name)
    return sensed(desk.job, desk.plan, entries, read_catalog(desk), came(desk))


def said_on(entries: Sequence[BookEntry], day: date, zone: ZoneInfo) -> tuple[BookEntry, ...]:
    """Those of one day among entries in the order of time."""
    start, end = (
        datetime.combine(day + timedelta(days=days), time(), zone).astimezone(UTC)
        for days in (0, 1)
    )
    first = bisect_left(entries, start, key=lambda one: one.at)
    return tuple(entries[first : bisect_left(entries, end, first, key=lambda one: one.at)])


@use_case
def not_looked_at(desk: Desk, day: date | None = None) -> tuple[BookEntry, ...]:
    """The entries of a day, or of the job, that nobody doubts and no person has looked at."""
    return tuple(one for one in read_entries(desk, day) if one.standing == "heard" and not one.open)


@use_case
def days(desk: Desk) -> tuple[date, ...]:
    """The days on which anything was said, typed or photographed, in order."""
    return desk.book.days(desk.job.name)


@use_case
def read_balance(desk: Desk) -> Reconciliation:
    """The job squared up as it now stands."""
    return once(
        desk,
        "balance",
        lambda: reconcile(
            desk.job,
            desk.plan,
            desk.book.entries(desk.job.name),
            read_catalog(desk),
            came(desk),
        ),
    )


@use_case
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


@use_case
def behind(desk: Desk) -> dict[int, str]:
    """The recording, with the time in it, and the photos behind each entry of the job."""
    name = desk.job.name
    names = {one.sha256: one.name for one in desk.book.recordings(name)}
    names |= {one.sha256: one.name for one in desk.book.photos(name)}
    heard_as = {one.id: one for one in desk.book.utterances(name)}
    found: dict[int, list[str]] = {}
    for kept in desk.book.entries(name):
        if kept.utterance is not None:
            # One that was moved here by itself was heard in a recording of another job.
            one = heard_as.get(kept.utterance) or desk.book.utterance(kept.utterance)
            heard_in = names.get(one.recording) or desk.book.recording(one.recording).name
            minutes, seconds = divmod(int(one.utterance.start), 60)
            found[kept.id] = [f"{heard_in} at {minutes}:{seconds:02}"]
    for tie in desk.book.ties(name):
        found.setdefault(tie.entry, []).append(f"photo {names[tie.photo]}")
    return {entry: ", ".join(parts) for entry, parts in found.items()}


@use_case
def recordings(desk: Desk) -> tuple[Recording, ...]:
    """In the order in which they were made."""
    return desk.book.recordings(desk.job.name)


@use_case
def photos(desk: Desk, day: date | None = None) -> tuple[Photo, ...]:
    """In the order in which they were taken."""
    return desk.book.photos(desk.job.name, day)


@use_case
def ties(desk: Desk) -> tuple[Tie, ...]:
    """Which entries the photos of the job belong to."""
    return desk.book.ties(desk.job.name)


@use_case
def alike(desk: Desk, day: date | None = None) -> tuple[tuple[str, ...], ...]:
    """Groups of photos of one day that show the same, as SHA-256, the best one first."""
    return alike_among(desk, desk.book.photos(desk.job.name, day))


def alike_among(desk: Desk, photos: Collection[Photo]) -> tuple[tuple[str, ...], ...]:
    """Groups of those that show the same, as SHA-256, the best one first."""
    if len(photos) < 2:
        return ()
    # Kept out of the start of the review.
    from joblog.photos.alike import groups

    return groups(photos, desk.job.zone)


@use_case
def clocks(desk: Desk, day: date | None = None) -> tuple[ClockCorrection, ...]:
    """What the clocks of the job's cameras were off by on each day, or on this one."""
    found = desk.book.clocks(desk.job.name)
    return tuple(one for one in found if day is None or one.day == day)


@use_case
def corrected_moments(desk: Desk) -> dict[str, datetime]:
    """When each photo of the job was taken, by its SHA-256, its camera's clock put right."""
    right = put_right(desk)
    return {
        photo.sha256: right[photo.sha256][0] if photo.sha256 in right else photo.taken.at
        for photo in desk.book.photos(desk.job.name)
    }


@use_case
def put_right(desk: Desk, day: date | None = None) -> dict[str, tuple[datetime, ClockCorrection]]:
    """The photos of the job, or of a day of it, whose camera's clock was put right: when they were
    taken, and by what."""
    found = desk.book.clocks(desk.job.name)
    if not any(one.sure and one.seconds for one in found):
        return {}
    # Only here does the record need what knows pictures; the review starts quicker without.
    from joblog.photos.clock import by_clock, put_right

    zone, clocks = ZoneInfo(desk.job.zone), by_clock(found)
    photos = desk.book.photos(desk.job.name, day)
    every = ((one, put_right(one, clocks, zone)) for one in photos)
    return {photo.sha256: (at, by) for photo, (at, by) in every if by is not None}


def unspoken(photos: Iterable[Photo], ties: Iterable[Tie]) -> tuple[Photo, ...]:
    """The photos that nobody spoke of and nobody tied by hand."""
    spoken = {tie.photo for tie in ties if tie.cue is not None or tie.reason == BY_HAND}
    return tuple(photo for photo in photos if photo.sha256 not in spoken)


def unanswered(entries: Iterable[BookEntry], ties: Iterable[Tie]) -> tuple[BookEntry, ...]:
    """The entries that call for a photo, of themselves or of work to be covered, and have none."""
    from joblog.photos.cues import spoken_cues

    has = {id for tie in ties for id in (tie.entry, tie.cue)}
    said = sorted(entries, key=lambda entry: (entry.at, entry.id))
    return tuple(entry for entry in spoken_cues(said) if entry.id not in has)


@use_case
def versions(desk: Desk, entry: int) -> tuple[BookEntry, ...]:
    """Everything an entry has been, oldest first."""
    return desk.book.versions(entry)


@use_case
def original(desk: Desk, sha256: str) -> Path:
    """The file of a recording or photo, as it came in."""
    return desk.book.media(sha256)


def thumbnail(original: Path, size: tuple[int, int]) -> Image:
    """A photo turned the right way up and made to fit into `size`, width and height in pixels."""
    # Kept out of the start of the review.
    from joblog.book.looking import drawn

    return drawn(original, size)


@use_case
def changed_since(desk: Desk) -> bool:
    """Whether anything was written into the book since this was last asked, here or elsewhere.

    The first time it is False. It reads no row where nothing was, so it may be asked every second;
    where something was, the plan and the catalog on the desk are read anew.
    """
    before, desk.seen = desk.seen, desk.book.written()
    changed = before is not None and before != desk.seen
    if changed:
        refresh(desk)
    return changed


@use_case
def last_closing(desk: Desk) -> Closing | None:
    """How the job was last closed, and what has changed since; None while it never was."""
    return closed.closing(desk.book, desk.job.name)


@use_case
def day_named(desk: Desk, day: date | None) -> date:
    """That day, else the last one of the job. Raises `ServiceError` while nothing was said."""
    days = desk.book.days(desk.job.name)
    if day is None and not days:
        raise ServiceError(f"{desk.job.name}: nothing was said yet; add recordings first.")
    return day or days[-1]


def _recording_of(desk: Desk, entry: BookEntry, names: dict[str, str]) -> str | None:
    if entry.utterance is None:
        return None
    sha256 = desk.book.utterance(entry.utterance).recording
    # An entry that was moved here by itself was heard in a recording of another job.
    return names.get(sha256) or desk.book.recording(sha256).name


@use_case
def read_days(desk: Desk) -> tuple[DayLine, ...]:
    """Every day on which anything was said, typed or photographed, in order."""
    entries = read_entries(desk)
    zone = ZoneInfo(desk.job.zone)
    doubtful = Counter(local_day(entry.at, zone) for entry in entries if entry.open)
    pictured = desk.book.photographed(desk.job.name)
    # The hours alone: squaring the whole job up for them would take ten times as long.
    hours = {line.day: line.crew_hours for line in attended(desk.job, entries)}
    return tuple(
        DayLine(
            day,
            len(said_on(entries, day, zone)),
            doubtful[day],
            pictured.get(day, 0),
            hours.get(day),
        )
        for day in desk.book.days(desk.job.name)
    )


@use_case
def read_day(desk: Desk, day: date) -> Day:
    """One day of the job, with what was heard and photographed on it."""
    zone = ZoneInfo(desk.job.zone)
    photos = tuple(desk.book.photos(desk.job.name, day))
    tied = tuple(desk.book.ties(desk.job.name))
    kept: list[Recording | Photo] = [
        one
        for one in desk.book.recordings(desk.job.name)
        if local_day(one.made.at, zone) == day and one.standing == "kept"
    ]
    kept += photos
    told = said_on(read_entries(desk), day, zone)
    return Day(
        day=day,
        entries=doubtful_first(told),
        photos=photos,
        ties=tied,
        troubles=tuple(f"{one.name}: {one.trouble}" for one in kept if one.trouble),
        alike=alike_among(desk, photos),
        unanswered=unanswered_of(told, tied),
        put_right=put_right(desk, day),
    )


def unanswered_of(told: Sequence[BookEntry], tied: Sequence[Tie]) -> tuple[BookEntry, ...]:
    """As `unanswered`, of one day."""
    if not any(one.entry.kind in ("covered", "photo") for one in told):
        return ()  # What knows pictures is not even loaded.
    return unanswered(told, tied)


@use_case
def due(desk: Desk, day: date) -> tuple[BookEntry, ...]:
    """What was said before for this day and still stands, in the order in which it was said: to do,
    needed and not come since, an inspection, a visit."""
    return due_among(read_entries(desk), day, ZoneInfo(desk.job.zone))


@use_case
def told_later(desk: Desk, day: date) -> tuple[BookEntry, ...]:
    """What was said afterwards to have been on this day, in the order in which it was said."""
    return told_later_among(read_entries(desk), day, ZoneInfo(desk.job.zone))


def due_among(entries: Sequence[BookEntry], day: date, zone: ZoneInfo) -> tuple[BookEntry, ...]:
    """As `due`, among all entries of the job."""
    wanted = {id for one in wanted_of(entries, {}) for id in one.entries}
    return tuple(
        one
        for one in _holding_for(entries, day)
        if one.entry.kind in ("todo", "needed", "inspection", "visit")
        and local_day(one.at, zone) < day
        and (one.entry.kind != "needed" or one.open or one.id in wanted)
    )


def told_later_among(
    entries: Sequence[BookEntry], day: date, zone: ZoneInfo
) -> tuple[BookEntry, ...]:
    """As `told_later`, among all entries of the job."""
    return tuple(one for one in _holding_for(entries, day) if local_day(one.at, zone) > day)


def _holding_for(entries: Sequence[BookEntry], day: date) -> Iterable[BookEntry]:
    return (one for one in entries if one.entry.day == day and one.standing != "dropped")


def doubtful_first(entries: Iterable[BookEntry]) -> tuple[BookEntry, ...]:
    """Entries that wait for a person before all others, each part by time."""
    return tuple(sorted(entries, key=lambda entry: (not entry.open, entry.at, entry.id)))


@use_case
def pictures(desk: Desk, entry: int) -> tuple[tuple[Photo, Tie], ...]:
    """The photos tied to one entry, the best of its like and nearest in time first, with ties.

    It reads nothing else of the day.
    """
    tied = desk.book.ties_of(entry)
    photos = {tie.photo: desk.book.photo(tie.photo) for tie in tied}
    behind = _behind_a_better(alike_among(desk, tuple(photos.values())), set(photos))
    nearest = sorted(tied, key=lambda tie: tie.photo in behind)
    return tuple((photos[tie.photo], tie) for tie in nearest)


@use_case
def sound_of(desk: Desk, entry: BookEntry) -> tuple[BookUtterance, Recording] | None:
    """What was heard of an entry, and the recording it is in; None for a typed one."""
    if entry.utterance is None:
        return None
    said = desk.book.utterance(entry.utterance)
    return said, desk.book.recording(said.recording)


def gallery(day: Day) -> tuple[Photo, ...]:
    """The photos of the day as they are looked through: in time, but alike ones together."""
    pictures = {photo.sha256: photo for photo in day.photos}
    of = {one: group for group in day.alike for one in group}
    shown: dict[str, Photo] = {}
    for photo in sorted(day.photos, key=lambda photo: (photo.taken.at, photo.name)):
        for one in of.get(photo.sha256, (photo.sha256,)):
            shown.setdefault(one, pictures[one])
    return tuple(shown.values())


def place_among_alike(day: Day, photo: Photo) -> str:
    """Such as "1 of 4 alike"; "" for one that is like no other of the day."""
    from joblog.photos.alike import rank

    found = rank(day.alike).get(photo.sha256)
    return f"{found[0]} of {found[1]} alike" if found else ""


def _behind_a_better(alike: Iterable[Sequence[str]], among: set[str]) -> set[str]:
    """Those of which a better one that is alike stands among the same."""
    return {one for group in alike for one in [one for one in group if one in among][1:]}


def local_day(at: datetime, zone: ZoneInfo) -> date:
    return at.astimezone(zone).date()
