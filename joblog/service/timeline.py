"""One day as it went: recordings, photos, entries, hours at work, silences and what is missing."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, DayHours, Gap, Photo, Recording, Tie
from joblog.reconcile.hours import attended
from joblog.service.desk import Desk
from joblog.service.errors import use_case
from joblog.service.filling_in import Missing, missing_of
from joblog.service.record import (
    due_among,
    local_day,
    put_right,
    read_balance,
    read_entries,
    said_on,
    told_later_among,
    unanswered_of,
)
from joblog.service.signing import Signed, signed

TOGETHER = timedelta(minutes=10)
"""Photos no further apart than this, with no words between them, are one stretch; and one that is
no further from the entry that it belongs to stands on its line."""
LONG = timedelta(hours=2)
"""A silence as long as this is shown."""

What = Literal["due", "work", "recording", "entry", "photos", "silence", "told later", "missing"]


@dataclass(frozen=True, slots=True)
class Mark:
    """One line of the day. Which fields it has depends on what it is."""

    what: What
    at: datetime
    """When it began, in UTC."""
    until: datetime | None = None
    """When it ended: a recording, a stretch of photos, the photos of an entry, work, a silence."""
    entry: BookEntry | None = None
    """Of an entry, and of what other days say of this one."""
    recording: Recording | None = None
    photos: tuple[Photo, ...] = ()
    """Of a stretch, in the order of time; of an entry those that belong to it."""
    unspoken: int = 0
    """Of a stretch: how many of its photos belong to nothing that was said."""
    unanswered: bool = False
    """Of an entry that speaks of a photo, or of work to be covered: there is none."""
    hours: DayHours | None = None
    gap: Gap | None = None
    """A count that is missing."""
    missing: Missing | None = None
    """What would fill that gap, or hours at work that are not known."""


@dataclass(frozen=True, slots=True)
class Timeline:
    """One day, oldest first. What was said before for it stands first, what is missing last."""

    day: date
    marks: tuple[Mark, ...]
    doubts: int
    doubts_elsewhere: int
    """Doubts on the other days of the job."""
    entries: int
    photos: tuple[Photo, ...]
    troubles: tuple[str, ...]
    """Recordings and photos that something is wrong with, and what."""
    unanswered: int
    """Entries that speak of a photo, or of work to be covered, and have none."""
    signed: Signed | None
    """That the day was signed off, and what changed since; None where it was not."""


@use_case
def read_timeline(desk: Desk, day: date) -> Timeline:
    """The day as it now stands, without the counts that are missing; see `missing_counts`."""
    zone = ZoneInfo(desk.job.zone)
    everything = read_entries(desk)
    told = said_on(everything, day, zone)
    photos = desk.book.photos(desk.job.name, day)
    right = put_right(desk, day)
    taken = {one.sha256: right.get(one.sha256, (one.taken.at,))[0] for one in photos}
    ties = desk.book.ties(desk.job.name)
    recordings: list[Recording] = [
        one
        for one in desk.book.recordings(desk.job.name)
        if one.standing == "kept" and local_day(one.made.at, zone) == day
    ]
    lacking = {one.id for one in unanswered_of(told, ties)}
    lines = [
        *map(_recorded, recordings),
        *_entries(told, photos, taken, ties, lacking),
        *_stretches(_by_themselves(photos, taken, ties, told), taken, ties, told),
    ]
    later = told_later_among(everything, day, zone)
    hours = [line for line in attended(desk.job, everything) if line.day == day]
    lines.sort(key=lambda mark: (mark.at, _ORDER[mark.what]))
    return Timeline(
        day=day,
        marks=(
            *(Mark("due", one.at, entry=one) for one in due_among(everything, day, zone)),
            *_with_silences([*_work(hours, zone), *lines]),
            *(Mark("told later", one.at, entry=one) for one in later),
        ),
        doubts=sum(one.open for one in told),
        doubts_elsewhere=sum(one.open for one in everything) - sum(one.open for one in told),
        entries=len(told),
        photos=photos,
        troubles=tuple(
            f"{name}: {trouble}"
            for name, trouble in (
                *((one.name, one.trouble) for one in recordings),
                *((one.name, one.trouble) for one in photos),
            )
            if trouble
        ),
        unanswered=len(lacking),
        signed=signed(desk, day).get(day),
    )


@use_case
def missing_counts(desk: Desk, day: date) -> tuple[Mark, ...]:
    """The counts that the job lacks of what was last told of on this day.

    By itself, because it squares the whole job up.
    """
    zone = ZoneInfo(desk.job.zone)
    squared = read_balance(desk)
    gaps = [gap for gap in squared.gaps if gap.settled_by == "count" and gap.entries]
    if not gaps:
        return ()
    when = {one.id: one.at for one in read_entries(desk)}
    last = [(gap, max(when[id] for id in gap.entries)) for gap in gaps]
    return tuple(
        Mark("missing", at, gap=gap, missing=missing_of(gap, squared))
        for gap, at in last
        if local_day(at, zone) == day
    )


_ORDER: dict[What, int] = {"work": 0, "recording": 1, "entry": 2, "photos": 3}
"""At one moment, what holds the others stands first."""


def _recorded(one: Recording) -> Mark:
    until = one.made.at + timedelta(seconds=one.seconds)
    return Mark("recording", one.made.at, until, recording=one)


def _entries(
    told: Sequence[BookEntry],
    photos: Sequence[Photo],
    taken: Mapping[str, datetime],
    ties: Iterable[Tie],
    lacking: set[int],
) -> Iterator[Mark]:
    pictures = {photo.sha256: photo for photo in photos}
    of: dict[int, list[Photo]] = {}
    for tie in ties:
        if tie.photo in pictures:
            of.setdefault(tie.entry, []).append(pictures[tie.photo])
    for one in told:
        tied = tuple(of.get(one.id, ()))
        near = [taken[photo.sha256] for photo in tied if _near(taken[photo.sha256], one.at)]
        until = max((one.at, *near)) if near else None
        yield Mark("entry", one.at, until, one, photos=tied, unanswered=one.id in lacking)


def _near(one: datetime, other: datetime) -> bool:
    return abs(one - other) <= TOGETHER


def _by_themselves(
    photos: Iterable[Photo],
    taken: Mapping[str, datetime],
    ties: Iterable[Tie],
    told: Iterable[BookEntry],
) -> list[Photo]:
    """The photos that do not stand on the line of an entry, in the order of time."""
    at = {one.id: one.at for one in told}
    on_a_line = {
        tie.photo
        for tie in ties
        if tie.entry in at and tie.photo in taken and _near(taken[tie.photo], at[tie.entry])
    }
    alone = [photo for photo in photos if photo.sha256 not in on_a_line]
    return sorted(alone, key=lambda photo: (taken[photo.sha256], photo.name))


def _stretches(
    photos: Iterable[Photo],
    taken: Mapping[str, datetime],
    ties: Iterable[Tie],
    told: Iterable[BookEntry],
) -> Iterator[Mark]:
    """Photos that follow each other, with no words between them, are one line.

    `taken` is when, each camera's clock put right.
    """
    spoken = {tie.photo for tie in ties}
    said = sorted(one.at for one in told)
    stretch: list[Photo] = []
    for photo in photos:
        before = taken[stretch[-1].sha256] if stretch else None
        if before is not None and _apart(before, taken[photo.sha256], said):
            yield _stretch(stretch, taken, spoken)
            stretch = []
        stretch.append(photo)
    if stretch:
        yield _stretch(stretch, taken, spoken)


def _apart(one: datetime, other: datetime, said: Sequence[datetime]) -> bool:
    return other - one > TOGETHER or bisect_right(said, one) != bisect_right(said, other)


def _stretch(photos: Sequence[Photo], taken: Mapping[str, datetime], spoken: set[str]) -> Mark:
    return Mark(
        "photos",
        taken[photos[0].sha256],
        taken[photos[-1].sha256],
        photos=tuple(photos),
        unspoken=sum(photo.sha256 not in spoken for photo in photos),
    )


def _work(days: Sequence[DayHours], zone: ZoneInfo) -> Iterator[Mark]:
    for one in days:
        begun, ended = (_clock(one.day, clock, zone) for clock in (one.started, one.stopped))
        at = begun or ended or datetime.combine(one.day, time(), zone)
        missing = Missing("turns", day=one.day) if one.crew_hours is None else None
        yield Mark("work", at, ended, hours=one, missing=missing)


def _clock(day: date, clock: time | None, zone: ZoneInfo) -> datetime | None:
    return None if clock is None else datetime.combine(day, clock, zone)


def _with_silences(marks: Sequence[Mark]) -> Iterator[Mark]:
    """With a line wherever nothing was said or photographed for long."""
    heard: datetime | None = None
    for mark in marks:
        if mark.what != "work":
            if heard is not None and mark.at - heard >= LONG:
                yield Mark("silence", heard, mark.at)
            heard = max(filter(None, (heard, mark.until, mark.at)))
        yield mark


def with_missing(timeline: Timeline, missing: Sequence[Mark]) -> Timeline:
    """The same day with the counts that are missing at its end."""
    return replace(timeline, marks=(*timeline.marks, *missing))
