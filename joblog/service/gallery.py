"""The photos of a day, or of the job, as they are looked through, and the entries without one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, Photo, Tie
from joblog.service.desk import Desk
from joblog.service.errors import use_case
from joblog.service.record import alike_among, local_day, put_right, unanswered


@dataclass(frozen=True, slots=True)
class Shown:
    """A photo with what it belongs to, or an entry that calls for one and has none."""

    at: datetime
    """The photo's camera's clock put right."""
    photo: Photo | None
    entry: BookEntry | None = None
    """That the photo belongs to, the first one it was tied to; or that lacks a photo."""
    tie: Tie | None = None
    others: int = 0
    """How many more entries it belongs to."""
    among: tuple[int, int] | None = None
    """Its place among those that show the same, 1 for the best, and how many there are."""

    @property
    def lacking(self) -> bool:
        return self.photo is None

    @property
    def loose(self) -> bool:
        """Whether the photo belongs to nothing that was said."""
        return self.entry is None

    @property
    def settled(self) -> bool:
        """Whether there is nothing to see to: it belongs to an entry, for sure."""
        return self.photo is not None and self.tie is not None and self.tie.sure


@use_case
def gallery(desk: Desk, day: date | None = None) -> tuple[Shown, ...]:
    """By time, but alike photos together, the best one first."""
    name = desk.job.name
    entries = {entry.id: entry for entry in desk.book.entries(name, day)}
    ties = desk.book.ties(name)
    photos = _photos(desk, day, entries, ties)
    lacking = [Shown(one.at, None, one) for one in _lacking(desk, entries.values(), ties)]
    # What lacks a photo stands where it would be, but never among photos that are alike.
    first = {id(one): min(each.at for each in group) for group in photos for one in group}
    together = [one for group in photos for one in group] + lacking
    return tuple(sorted(together, key=lambda one: first.get(id(one), one.at)))


def _photos(
    desk: Desk, day: date | None, entries: dict[int, BookEntry], ties: Sequence[Tie]
) -> list[list[Shown]]:
    """In groups of alike ones, each in the order in which it is shown."""
    tied: dict[str, list[Tie]] = defaultdict(list)
    for tie in ties:
        tied[tie.photo].append(tie)
    # Read once: another program may be adding photos meanwhile.
    there = {photo.sha256: photo for photo in desk.book.photos(desk.job.name, day)}
    right = put_right(desk)
    groups = alike_among(desk, there.values())
    together = {one for group in groups for one in group}

    def shown(sha256: str, among: tuple[int, int] | None) -> Shown:
        its = sorted(tied[sha256], key=lambda tie: abs(tie.seconds))
        tie = its[0] if its else None
        entry = None if tie is None else entries.get(tie.entry) or desk.book.entry(tie.entry)
        photo = there[sha256]
        at = right[sha256][0] if sha256 in right else photo.taken.at
        return Shown(at, photo, entry, tie, max(0, len(its) - 1), among)

    return [[shown(one, None)] for one in there if one not in together] + [
        [shown(one, (at, len(group))) for at, one in enumerate(group, 1)] for group in groups
    ]


def _lacking(
    desk: Desk, entries: Iterable[BookEntry], ties: Sequence[Tie]
) -> tuple[BookEntry, ...]:
    zone = ZoneInfo(desk.job.zone)
    days: dict[date, list[BookEntry]] = defaultdict(list)
    for one in entries:
        days[local_day(one.at, zone)].append(one)
    return tuple(
        lacks
        for told in days.values()
        # Else what knows pictures is not even loaded.
        if any(one.entry.kind in ("covered", "photo") for one in told)
        for lacks in unanswered(told, ties)
    )
