"""A reader of words as they would have been read where an entry stands."""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING

from joblog.model import BookEntry
from joblog.service.desk import Desk
from joblog.service.rereading import Reader
from joblog.service.said import context_after, said_before

if TYPE_CHECKING:
    from joblog.dictation import Context


def reader_instead(desk: Desk, entry: BookEntry) -> Reader:
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
