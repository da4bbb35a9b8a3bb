"""A reader of words as they would have been read where an entry stands."""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache
from zoneinfo import ZoneInfo

from joblog.dictation import Context, after, read
from joblog.model import BookEntry, Reading
from joblog.service.desk import Desk
from joblog.service.record import Day, earlier
from joblog.service.rereading import Reader


def reader_for(desk: Desk, day: Day, entry: BookEntry) -> Reader:
    """Reads words as if they had been said instead of those behind `entry`."""
    context = Context(at=_local(desk, entry.at))
    for said in earlier(day, entry):
        context = after(context, Reading(entries=(said.entry,)))
    return _reader(desk, context)


def reader_at(desk: Desk, at: datetime) -> Reader:
    """Reads words typed by themselves, at a moment."""
    return _reader(desk, Context(at=_local(desk, at)))


def _reader(desk: Desk, context: Context) -> Reader:
    # The same words come back at every key press in the input line.
    return lru_cache(maxsize=256)(lambda text: read(text, desk.vocabulary, context))


def _local(desk: Desk, at: datetime) -> datetime:
    return at.astimezone(ZoneInfo(desk.job.zone))
