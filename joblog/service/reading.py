"""What holds of what was said, and words read as they would have been read at their moment."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.book.earlier import standing_before
from joblog.model import BookEntry, Reading
from joblog.service.desk import Desk
from joblog.service.errors import use_case
from joblog.service.record import Day
from joblog.service.rereading import Reader

if TYPE_CHECKING:
    from joblog.dictation import Context


@use_case
def said_before(desk: Desk, at: datetime) -> tuple[BookEntry, ...]:
    """What stands of what was said and written on that day of the job until `at`, oldest first."""
    return standing_before(desk.book, desk.job.name, at)


def context_after(desk: Desk, said: Iterable[BookEntry], at: datetime) -> Context:
    """What holds at a moment after these were said: the place, the item, and what words mean."""
    from joblog.dictation import Context, after

    facts = tuple(one.entry for one in said)
    return after(Context(at=_local(desk, at)), Reading(facts))


def reader_for(desk: Desk, day: Day, entry: BookEntry) -> Reader:
    """Reads words as if they had been said instead of those behind `entry`."""
    before = [
        one
        for one in said_before(desk, entry.at)
        if (one.at, one.id) < (entry.at, entry.id) and not _said_together(one, entry)
    ]
    return _reader(desk, context_after(desk, before, entry.at))


def _said_together(one: BookEntry, other: BookEntry) -> bool:
    """Whether both come of the same words."""
    if other.utterance is not None:
        return one.utterance == other.utterance
    return (one.utterance, one.at, one.said) == (None, other.at, other.said)


def reader_at(desk: Desk, at: datetime) -> Reader:
    """Reads words typed by themselves, at a moment, after all that was said until then."""
    return _reader(desk, context_after(desk, said_before(desk, at), at))


def _reader(desk: Desk, context: Context) -> Reader:
    from joblog.dictation import read

    # The same words come back at every key press in the input line.
    return lru_cache(maxsize=256)(lambda text: read(text, desk.vocabulary, context))


def _local(desk: Desk, at: datetime) -> datetime:
    return at.astimezone(ZoneInfo(desk.job.zone)).replace(tzinfo=None)
