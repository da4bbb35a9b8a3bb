"""When something was, as against when it was told: "yesterday we used nine sheets"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from joblog.model import BookEntry


@dataclass(frozen=True, slots=True, eq=False)
class Same:
    """Entries as a key: two are the same where they hold the very same entries, as most do when a
    job is looked over again after a decision."""

    entries: tuple[BookEntry, ...]

    def __hash__(self) -> int:
        return hash(tuple(map(id, self.entries)))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and tuple(map(id, self.entries)) == tuple(
            map(id, other.entries)
        )


def when_it_was(kept: BookEntry, zone: ZoneInfo) -> BookEntry:
    """The entry at the same hour of the day it holds for, where that day has passed.

    A day still to come, of something to do, leaves it where it was told.
    """
    day = kept.entry.day
    if day is None:
        return kept
    local = kept.at.astimezone(zone)
    if day >= local.date():
        return kept
    return replace(kept, at=datetime.combine(day, local.time(), zone).astimezone(kept.at.tzinfo))
