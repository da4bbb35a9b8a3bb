"""A small book with two jobs, recordings, photos and what a person wrote, and all that it shows."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

from joblog.book import Book, closed, decisions, entries, keep, signing, ties
from joblog.model import (
    Doubt,
    Entry,
    HeardUtterance,
    Hearing,
    Item,
    Job,
    Moment,
    Photo,
    Plan,
    PlannedItem,
    Reading,
    Recording,
    Utterance,
)
from joblog.reconcile import reconcile

JOB = Job("Gull Point cottage", "America/New_York")
OTHER = Job("Heron House", "America/Chicago")
JOBS = (JOB, OTHER)
AT = datetime(2026, 10, 5, 14, 0, tzinfo=UTC)
PANEL = Item("soffit panel", "sheet", stock_length=Fraction(144))
PLAN = Plan((PlannedItem(PANEL, Fraction(15)),))


def stock(kind: str, quantity: int, place: str | None = None) -> Entry:
    return Entry(
        kind,  # type: ignore[arg-type]
        item="soffit panel",
        quantity=Fraction(quantity),
        unit="sheet",
        place=place,
    )


CAME, USED, LEFT = stock("delivered", 15), stock("used", 3, "north eave"), stock("on_hand", 12)
NINE = stock("used", 9, "north eave")
CUE = Entry("photo", note="the sheathing")


def a_book(folder: Path) -> Book:
    """A recording of three utterances, of which the last puts one right, and two photos."""
    book = Book.create(folder / "book")
    for job in JOBS:
        book.add_job(job)
        book.set_plan(job.name, PLAN)
    recorded(book, folder, "morning", said(CAME), said(USED, doubt="3 or 4?"), said(becomes(NINE)))
    recorded(book, folder, "noon", said(CUE), said(LEFT), hours=2)
    pictured(book, folder, "wall", AT + timedelta(hours=2, seconds=5))
    pictured(book, folder, "yard", AT + timedelta(minutes=1))
    ties.tie_photos(book, JOB.name)
    return book


def becomes(entry: Entry) -> Entry:
    return Entry("correction", action="replace", replacement=entry)


def said(*entries: Entry, doubt: str | None = None) -> Reading:
    return Reading(entries, (Doubt(0, doubt),) if doubt else ())


def recorded(
    book: Book, folder: Path, name: str, *readings: Reading, hours: int = 0, job: Job = JOB
) -> str:
    """Keeps a recording in which these were said, ten seconds apart; its SHA-256."""
    path, sha256 = _a_file(folder, f"{name}.wav")
    recording = Recording(sha256, path.name, Moment(AT + timedelta(hours=hours), "container"), 60.0)
    heard = [
        HeardUtterance(
            Utterance(10.0 * number, 10.0 * number + 5, (Hearing("trade", f"{name} {number}"),)),
            reading,
        )
        for number, reading in enumerate(readings)
    ]
    assert keep.keep_recording(book, job.name, path, recording, heard)
    return sha256


def pictured(book: Book, folder: Path, name: str, taken: datetime, job: Job = JOB) -> str:
    """Keeps a photo; its SHA-256."""
    path, sha256 = _a_file(folder, f"{name}.jpg")
    photo = Photo(sha256, path.name, Moment(taken, "EXIF with offset"), 64, 48)
    assert keep.keep_photo(book, job.name, path, photo)
    return sha256


def wrote(book: Book, *said: Entry, doubt: str | None = None, job: Job = JOB) -> tuple[int, ...]:
    reading = Reading(said, (Doubt(0, doubt),) if doubt else ())
    return decisions.add_typed(book, job.name, reading, "as written", AT)


def shown(book: Book) -> dict[object, object]:
    """All that a person can see of both jobs but how it came about."""
    every = [(job, kept) for job in JOBS for kept in book.entries(job.name)]
    return {
        # An entry whose adding was undone stays readable; to a person it is not there.
        **{
            kept.id: (job.name, kept.at, kept.entry, kept.doubts, kept.standing, kept.looked_at)
            for job, kept in every
            if entries.state(book, kept.id) != entries.NEVER
        },
        **{("ties", job.name): book.ties(job.name) for job in JOBS},
        **{("clocks", job.name): book.clocks(job.name) for job in JOBS},
        **{("photos", job.name): book.photos(job.name) for job in JOBS},
        **{("recordings", job.name): book.recordings(job.name) for job in JOBS},
        **{("balance", job.name): balance(book, job) for job in JOBS},
        **{("plan", job.name): book.plan(job.name) for job in JOBS},
        **{("closed", job.name): closed.closings_of(book, job.name) for job in JOBS},
        **{("signed", job.name): signing.signed(book, job.name) for job in JOBS},
        **{("away", job.name): book.photos(job.name, withdrawn=True) for job in JOBS},
        "catalog": book.catalog(),
    }


def balance(book: Book, job: Job) -> object:
    return reconcile(job, book.plan(job.name), book.entries(job.name), book.catalog())


def _a_file(folder: Path, name: str) -> tuple[Path, str]:
    path = folder / name
    path.write_bytes(name.encode())
    return path, hashlib.sha256(name.encode()).hexdigest()
