"""All that a book says of a job, however its rows are numbered there."""

from __future__ import annotations

from typing import Any

from joblog.book import Book, bids, closed, houses, signing, steps
from joblog.book.ground import fence, tracks
from joblog.book.moves import came_to
from joblog.form import to_json
from joblog.packing.columns import ROWS_OF_HOUSES
from joblog.service.desk import open_desk
from joblog.service.learning import past_in_book
from joblog.service.record import read_balance, read_day
from joblog.service.search import search

Told = dict[str, Any]


def told(book: Book, job: str, *words: str) -> Told:
    """By what it is: what is found by these words, too. Entries stand for their numbers."""
    desk = open_desk(book, job)
    every = book.entries(job)
    said: Told = {
        "job": book.job(job),
        "plan": book.plan(job),
        "squared up": read_balance(desk),
        "entries": [[book.versions(one.id)] for one in every],
        "days": [read_day(desk, day) for day in book.days(job)],
        "closings": closed.closings_of(book, job),
        "rates": [one for one in past_in_book(book).history.uses if one.job == job],
        "hours": [one for one in past_in_book(book).history.work if one.job == job],
        "history": [one for one in steps.steps(book, job) if not one.what.startswith("catalog")],
        "came": came_to(book, job),
        "recordings": book.recordings(job),
        "utterances": book.utterances(job),
        "photos": [*book.photos(job), *book.photos(job, withdrawn=True)],
        "ties": book.ties(job),
        "clocks": book.clocks(job),
        "fence": fence(book, job),
        "tracks": [one for one in tracks(book) if book.holds(one.sha256) == job],
        "house": houses.house_of(book, job),
        "bids": [(one.at, one.bid) for one in bids.bids_of(book, job)],
        "signed": sorted(signing.signed(book, job).items()),
        "found": [
            (one.job, one.day, one.at, one.text, one.marks, one.photo, one.recording)
            for typed in words
            for one in search(desk, typed, every_job=False)
        ],
    }
    return {name: _without_numbers(book, to_json(value)) for name, value in said.items()}


_OF_ENTRIES = {"entry", "entries", "left_out", "without_amount", "changed", "cue"}


def _without_numbers(book: Book, value: Any, key: str = "") -> Any:
    if isinstance(value, dict):
        # The numbers of steps, bids and utterances tell nothing.
        return {
            name: _without_numbers(book, one, name)
            for name, one in value.items()
            if name not in ("id", "utterance")
        }
    if key == "told" or key == "told_on":
        return sorted(
            repr([_without_numbers(book, one, "entry") for one in pair]) for pair in value
        )
    if key == "jobs" and isinstance(value, list):
        return sorted(value)
    if isinstance(value, list):
        return [_without_numbers(book, one, key) for one in value]
    if key in _OF_ENTRIES and type(value) is int:
        first = book.versions(value)[0]
        return f"{first.at.isoformat()} {first.entry.kind} {first.said}"
    if key in ROWS_OF_HOUSES and value.startswith("entry "):
        return _without_numbers(book, int(value.split()[1]), "entry")
    return value


def apart(one: Told, other: Told) -> list[str]:
    """Of what two books do not say the same."""
    return [name for name in one if one[name] != other[name]]
