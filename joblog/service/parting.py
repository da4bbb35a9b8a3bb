"""What an entry can be split into, and which others it can be made one with. Decides nothing."""

from __future__ import annotations

from joblog.book import parting
from joblog.book.errors import BookError
from joblog.model import BookEntry, Entry
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.record import read_entries
from joblog.service.rereading import Reader


@use_case
def parts_of(entry: Entry, text: str, read: Reader) -> tuple[Entry, ...]:
    """The facts that an entry would be split into: by an amount, so much and the rest, exactly; by
    words, what they say.

    Raises `ServiceError`, in one line, for what makes no two facts of it.
    """
    if not text.strip():
        raise ServiceError("type how much goes into the first, or both facts in words")
    by_words = read(text).entries
    facts = [one for one in by_words if one.kind != "correction"]
    if len(facts) > 1 and all(one.kind == entry.kind for one in facts):
        return tuple(facts)
    return parting.shared(entry, text)


@use_case
def together(one: Entry, other: Entry) -> Entry:
    """One entry that says what both say. Raises `ServiceError` where they are not alike."""
    return parting.together(one, other)


def in_all(parts: tuple[Entry, ...]) -> Entry | None:
    """What several facts say together; None where they are not alike."""
    whole, *others = parts
    for one in others:
        try:
            whole = parting.together(whole, one)
        except BookError:
            return None
    return whole


@use_case
def can_be_merged(desk: Desk, entry: BookEntry) -> tuple[BookEntry, ...]:
    """The entries of the job that it can be made one with, the nearest in time first."""
    found = [
        one
        for one in read_entries(desk)
        if one.id != entry.id
        and one.standing != "dropped"
        and in_all((entry.entry, one.entry)) is not None
    ]
    return tuple(sorted(found, key=lambda one: (abs(one.at - entry.at), one.id)))
