"""Books to pack from and to unpack into, with something in them of all that a book may hold."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from uuid import uuid4

from joblog.book import Book, bids, closed, decisions, houses, keep, parting, signing, steps
from joblog.book.schema_of_packs import BOOK
from joblog.catalog.lines import with_item, with_task
from joblog.model import (
    Entry,
    Fence,
    House,
    Item,
    Job,
    Plan,
    PlannedItem,
    PlannedTask,
    Position,
    Reading,
    Task,
    Track,
    TrackPoint,
)  # fmt: skip
from joblog.service.closing import close, draft_closing
from joblog.service.desk import open_desk
from tests.book.test_bids import bid
from tests.book.two_jobs import (
    AT,
    CAME,
    CUE,
    JOB,
    LEFT,
    OTHER,
    PANEL,
    USED,
    a_book,
    pictured,
    recorded,
    said,
    stock,
)  # fmt: skip

DAY = date(2026, 10, 5)
LATER = datetime(2026, 10, 6, 14, 0, tzinfo=UTC)
FASCIA = Item("wide fascia", "stick", ("fascia",), stock_length=Fraction(144))
HANG = Task("hang soffit", unit="ft")
PLAN = Plan(
    (PlannedItem(PANEL, Fraction(15)), PlannedItem(FASCIA, Fraction(8), opening=Fraction(2))),
    (PlannedTask(HANG, Fraction(12)),),
    ("north eave",),
)


def new_book(folder: Path) -> Book:
    """An empty book with an id of its own; in tests new books are copies of one."""
    book = Book.create(folder)
    book.set_setting(BOOK, uuid4().hex)
    return book


def full_book(folder: Path) -> Book:
    """Two jobs, with decisions of nearly every kind; the first is closed."""
    folder.mkdir(exist_ok=True)
    book = a_book(folder)
    book.set_setting(BOOK, uuid4().hex)
    one, other = JOB.name, OTHER.name
    decisions.change_catalog(book, lambda now: with_task(with_item(now, FASCIA), HANG))
    decisions.load_plan(book, one, PLAN)
    first, second, *_ = [kept for kept in book.entries(one) if kept.entry.kind != "correction"]
    decisions.accept(book, first.id)
    decisions.edit(book, second.id, "place", "south eave")
    [third] = wrote(book, stock("used", 4, "south eave"), minutes=30)
    [fourth] = wrote(book, stock("used", 2, "south eave"), minutes=31)
    parting.merge(book, third, fourth)
    [gone] = wrote(book, stock("spoiled", 1), minutes=32)
    decisions.drop(book, gone)
    # Between the jobs: an entry that left, one that came, a photo and a recording that moved, and
    # what each tells of the other.
    [left] = wrote(book, stock("delivered", 7), minutes=33)
    decisions.move(book, left, job=other)
    [came] = wrote(book, stock("used", 1), minutes=34, job=OTHER)
    decisions.move(book, came, job=one)
    decisions.move_original(book, pictured(book, folder, "moved", AT, OTHER), one)
    decisions.move_original(book, recorded(book, folder, "left", said(USED), hours=3), other)
    wrote(book, replace(stock("moved", 3), to_job=one), minutes=35, job=OTHER)
    wrote(book, replace(stock("moved", 1), to_job="Some other house"), minutes=36)
    _photos(book, folder)
    houses.keep_house(book, one, House(attic=Fraction(144), attic_row=f"entry {first.id}"))
    bids.keep_bid(book, bid(), None)
    bids.keep_bid(book, bid("25%"), None)
    steps.undo_last(book, one)
    signing.sign_off(book, one, DAY)
    for kept in book.entries(one):
        if kept.open:
            decisions.accept(book, kept.id)
    desk = open_desk(book, one)
    close(desk, draft_closing(desk, DAY))
    closed.reopen(book, one)
    steps.undo_last(book, one)
    book.set_setting(f"cut of {one}: list {'0' * 16}", "4")
    return book


def _photos(book: Book, folder: Path) -> None:
    one, *_, last = book.photos(JOB.name)
    [cue] = [kept for kept in book.entries(JOB.name) if kept.entry.kind == CUE.kind]
    decisions.tie(book, last.sha256, cue.id)
    decisions.set_clock(book, JOB.name, "a camera", [DAY], 3600)
    decisions.set_fence(book, JOB.name, Fence(43.5, -70.25, 80.0, "set by hand"))
    decisions.withdraw_photo(book, one.sha256)
    log = folder / "day.gpx"
    log.write_bytes(b"a log")
    at = AT.timestamp()
    points = tuple(TrackPoint(at + more, Position(43.5, -70.25)) for more in (0.0, 60.0))
    from joblog.book.media import fingerprint

    keep.keep_track(book, JOB.name, log, Track(fingerprint(log), log.name, points))


def wrote(book: Book, *entries: Entry, minutes: int = 0, job: Job = JOB) -> tuple[int, ...]:
    """What a person wrote so many minutes after the others; the ids of the entries."""
    at = AT + timedelta(minutes=minutes)
    return decisions.add_typed(book, job.name, Reading(entries), "as written", at)


def goes_on(book: Book, folder: Path, job: str = JOB.name) -> None:
    """One more day on a job: a recording, what was written, decisions, and one undone."""
    folder.mkdir(exist_ok=True)
    noun = Job(job, book.job(job).zone)
    hours = int((LATER - AT) / timedelta(hours=1))
    recorded(book, folder, f"next day {folder.name}", said(CAME, LEFT), hours=hours, job=noun)
    [typed] = wrote(book, stock("used", 5, "porch"), job=noun)
    decisions.edit(book, typed, "quantity", "6")
    decisions.set_fence(book, job, Fence(43.5, -70.25, 60.0, "set by hand"))
    decisions.drop(book, typed)
    steps.undo_last(book, job)


def rows_of(book: Book) -> dict[str, list[tuple[object, ...]]]:
    """Everything in the book, row by row."""
    tables = book._rows("SELECT name FROM sqlite_master WHERE type = 'table'")
    return {
        row["name"]: sorted(map(repr, book._tuples(f"SELECT * FROM {row['name']}", {})))
        for row in tables
        if not row["name"].startswith(("said_words", "sqlite"))
    }
