"""An invented job in a real book, and a way to read what is on the screen."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from PIL import Image
from textual.pilot import Pilot

from joblog.book import Book, keep, ties
from joblog.model import (
    Alternative,
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
    PlannedTask,
    Reading,
    Recording,
    Task,
    Utterance,
    Word,
)
from joblog_tui.app import ReviewApp
from tests.tui.first_question import asked as asked

JOB = "Gull Point cottage"
ZONE = ZoneInfo("America/New_York")
MONDAY = date(2026, 10, 5)
TUESDAY = date(2026, 10, 6)
WEDNESDAY = date(2026, 10, 7)
SIZE = (80, 24)


def fill(book: Book, folder: Path) -> None:
    """Monday with two doubts among six entries, Tuesday with one; a photo on Monday."""
    book.add_job(Job(JOB, "America/New_York", ("north eave", "south eave")))
    book.add_job(Job("Empty house", "America/New_York"))
    book.set_plan(
        JOB,
        Plan(
            items=(
                PlannedItem(Item("soffit panel", "sheet"), Fraction(15)),
                PlannedItem(Item("fascia", "stick"), Fraction(7)),
            ),
            tasks=(PlannedTask(Task("hang soffit"), Fraction(18)),),
        ),
    )
    _keep(book, folder, "monday", datetime(2026, 10, 5, 7, 30, tzinfo=ZONE), _monday())
    tuesday = datetime(2026, 10, 6, 8, 0, tzinfo=ZONE)
    _keep(book, folder, "tuesday", tuesday, _tuesday(), trouble="ends early")
    _photograph(book, folder / "eave.jpg", datetime(2026, 10, 5, 7, 30, 24, tzinfo=ZONE))
    ties.tie_photos(book, JOB)


def tell_too_much(book: Book, folder: Path) -> None:
    """On Wednesday more soffit is used than ever came; nobody heard it two ways."""
    used = Entry("used", item="soffit panel", quantity=Fraction(40), unit="sheet")
    wednesday = datetime(2026, 10, 7, 8, 0, tzinfo=ZONE)
    _keep(book, folder, "wednesday", wednesday, [_heard(0, (used,), "used forty sheets of soffit")])


async def until(pilot: Pilot[Any], so: Callable[[], bool]) -> None:
    """Waits for what something else does in its own time, for a minute at most."""
    for _ in range(600):
        await pilot.pause()
        if so():
            return
        await pilot.pause(0.1)
    pytest.fail("it never came")


def screen_text(app: ReviewApp) -> str:
    """The characters on the screen, line by line, as a person sees them."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


def hearing(recognizer: str, text: str, unsure: str = "", also: tuple[str, ...] = ()) -> Hearing:
    words = tuple(
        Word(word, place * 0.4, place * 0.4 + 0.3, 0.3 if word == unsure else 0.95)
        for place, word in enumerate(text.split())
    )
    lines = tuple(Alternative(line, -float(n)) for n, line in enumerate((text, *also), start=1))
    return Hearing(recognizer, text, words, lines, 0.9)


def utterance(*hearings: Hearing, start: float = 0.0) -> Utterance:
    return Utterance(start, start + 4.0, hearings)


def _monday() -> list[HeardUtterance]:
    delivered = Entry("delivered", item="soffit panel", quantity=Fraction(16), unit="sheet")
    measured = Entry(
        "measure", place="north eave", inches=Fraction(191, 16), as_said="11 7/8 heavy"
    )
    used = Entry("used", item="soffit panel", quantity=Fraction(6), unit="sheet")
    spoiled = Entry("spoiled", item="soffit panel", quantity=Fraction(2), unit="sheet")
    note = Entry("note", note="[bold]the wire[/bold] is behind \x1b[31mthe stud")
    photo = Entry("photo", note="the open eave")
    return [
        _heard(0, (delivered,), "delivered sixteen sheets of soffit panel"),
        _heard(
            5,
            (measured,),
            "north eave eleven and seven eighths heavy",
            other="north eave seven and seven eighths heavy",
            unsure="eleven",
            why="the two recognizers heard 11 15/16 and 7 15/16",
        ),
        _heard(
            10,
            (used, spoiled),
            "used six sheets of soffit panel two sheets cracked",
            other="used ten sheets of soffit panel two sheets cracked",
            why="six or ten sheets",
        ),
        _heard(15, (note,), "note the wire is behind the stud"),
        _heard(20, (photo,), "photo the open eave"),
    ]


def _tuesday() -> list[HeardUtterance]:
    used = Entry("used", item="fascia", quantity=Fraction(4), unit="stick")
    return [_heard(0, (used,), "used four sticks of fascia", why="hammering over the number")]


def _heard(
    start: float,
    entries: tuple[Entry, ...],
    text: str,
    other: str | None = None,
    unsure: str = "",
    why: str | None = None,
) -> HeardUtterance:
    doubts = (Doubt(0, why),) if why else ()
    hearings = (hearing("trade", text, unsure), hearing("general free", other or text))
    return HeardUtterance(utterance(*hearings, start=start), Reading(entries, doubts))


def _keep(
    book: Book,
    folder: Path,
    name: str,
    made: datetime,
    heard: list[HeardUtterance],
    trouble: str | None = None,
) -> None:
    path = folder / f"{name}.wav"
    path.write_bytes(name.encode())
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    recording = Recording(sha256, path.name, Moment(made, "container"), 30.0, trouble)
    keep.keep_recording(book, JOB, path, recording, heard)


def _photograph(book: Book, path: Path, taken: datetime) -> None:
    Image.new("RGB", (64, 48), (90, 120, 150)).save(path)
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    keep.keep_photo(
        book, JOB, path, Photo(sha256, path.name, Moment(taken, "EXIF with offset"), 64, 48)
    )
