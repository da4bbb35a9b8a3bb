"""A desk at an invented job, with a photo, a recording of two facts and a typed line."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PIL import Image

from joblog.book import Book, keep, ties
from joblog.dictation import read
from joblog.model import (
    HeardUtterance,
    Hearing,
    Item,
    Job,
    Moment,
    Photo,
    Plan,
    PlannedItem,
    Recording,
    Utterance,
)
from joblog.service import Desk, open_desk

JOB = Job("Corner porch", "America/Chicago", ("north eave", "south eave"))
ZONE = ZoneInfo(JOB.zone)
MORNING = datetime(2026, 10, 5, 8, 0, tzinfo=ZONE)
SAID = ("north eave used three sheets of soffit", "photo of the north eave")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        made.add_job(JOB)
        made.add_job(Job("Mill house", JOB.zone))
        panel = Item("soffit panel", "sheet", spoken=("soffit",))
        made.set_plan(JOB.name, Plan(items=(PlannedItem(panel, Fraction(5)),)))
        yield made


@pytest.fixture
def desk(book: Book, tmp_path: Path) -> Desk:
    desk = open_desk(book, JOB.name)
    sound = tmp_path / "monday.wav"
    sound.write_bytes(b"monday")
    heard = tuple(
        HeardUtterance(
            Utterance(start=20.0 * at, end=20.0 * at + 3, hearings=(Hearing("trade", text),)),
            read(text, desk.vocabulary),
        )
        for at, text in enumerate(SAID)
    )
    sha256 = hashlib.sha256(b"monday").hexdigest()
    recording = Recording(sha256, sound.name, Moment(MORNING, "file name"), 60.0)
    keep.keep_recording(book, JOB.name, sound, recording, heard)
    picture = tmp_path / "eave.jpg"
    Image.new("RGB", (8, 8), "grey").save(picture)
    taken = Moment(MORNING.replace(second=21), "EXIF in job zone")
    photo = Photo(
        hashlib.sha256(picture.read_bytes()).hexdigest(), picture.name, taken, width=8, height=8
    )
    keep.keep_photo(book, JOB.name, picture, photo)
    ties.tie_photos(book, JOB.name)
    return desk
