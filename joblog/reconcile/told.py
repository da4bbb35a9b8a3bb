"""When something was, as against when it was told: "yesterday we used nine sheets"."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

from joblog.model import BookEntry


def when_it_was(kept: BookEntry, zone: ZoneInfo) -> BookEntry:
    """The entry at the same hour of the day it holds for, where that day has passed.

    A day still to come, of something to do, leaves it where it was told.
    """
    local = kept.at.astimezone(zone)
    day = kept.entry.day
    if day is None or day >= local.date():
        return kept
    return replace(kept, at=datetime.combine(day, local.time(), zone).astimezone(kept.at.tzinfo))
