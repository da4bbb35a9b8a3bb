"""A day as it went."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, decisions, keep
from joblog.model import Entry, Moment, Photo, Reading
from joblog.service import Desk, open_desk
from joblog.service.timeline import LONG, TOGETHER, Mark, missing_counts, read_timeline
from tests.tui.evening import JOB, MONDAY, TUESDAY, WEDNESDAY, ZONE, fill

NOON = datetime(2026, 10, 7, 12, tzinfo=ZONE)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        fill(made, tmp_path)
        yield made


@pytest.fixture
def desk(book: Book) -> Desk:
    return open_desk(book, JOB)


def say(book: Book, entry: Entry, at: datetime) -> int:
    return decisions.add_typed(book, JOB, Reading((entry,)), "said", at)[0]


def photograph(book: Book, folder: Path, at: datetime, name: str) -> str:
    """A photo that has no picture in it: nobody looks at it here."""
    path = folder / name
    path.write_bytes(name.encode())
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    taken = Moment(at, "EXIF with offset")
    keep.keep_photo(book, JOB, path, Photo(sha256, name, taken, 4, 3))
    return sha256


def of(marks: tuple[Mark, ...], what: str) -> list[Mark]:
    return [mark for mark in marks if mark.what == what]


def test_it_holds_what_was_recorded_and_said_in_the_order_of_time(desk: Desk) -> None:
    marks = read_timeline(desk, MONDAY).marks
    assert [mark.what for mark in marks] == ["recording", *["entry"] * 6]
    assert [mark.at for mark in marks] == sorted(mark.at for mark in marks)
    recording = marks[0]
    assert recording.until is not None
    assert recording.until - recording.at == timedelta(seconds=30)


def test_a_photo_near_what_it_belongs_to_stands_on_its_line(desk: Desk, book: Book) -> None:
    [tie] = book.ties(JOB)
    marks = read_timeline(desk, MONDAY).marks
    [line] = [mark for mark in marks if mark.entry and mark.entry.id == tie.entry]
    assert [photo.name for photo in line.photos] == ["eave.jpg"]
    assert of(marks, "photos") == []


def test_a_photo_far_from_what_it_belongs_to_has_a_line_of_its_own(
    desk: Desk, book: Book, tmp_path: Path
) -> None:
    entry = say(book, Entry("note", note="the brake is bent"), NOON)
    sha256 = photograph(book, tmp_path, NOON + 2 * TOGETHER, "brake.jpg")
    decisions.tie(book, sha256, entry)
    marks = read_timeline(desk, WEDNESDAY).marks
    assert [mark.what for mark in marks] == ["entry", "photos"]
    assert len(marks[0].photos) == 1
    assert marks[1].unspoken == 0


def test_photos_of_one_stretch_are_one_line(desk: Desk, book: Book, tmp_path: Path) -> None:
    for minute in range(14):
        photograph(book, tmp_path, NOON + timedelta(minutes=minute), f"{minute}.jpg")
    [line] = read_timeline(desk, WEDNESDAY).marks
    assert len(line.photos) == 14
    assert (line.at, line.until) == (NOON, NOON + timedelta(minutes=13))
    assert line.unspoken == 14


def test_photos_far_apart_are_two_lines(desk: Desk, book: Book, tmp_path: Path) -> None:
    photograph(book, tmp_path, NOON, "one.jpg")
    photograph(book, tmp_path, NOON + TOGETHER, "two.jpg")
    photograph(book, tmp_path, NOON + 2 * TOGETHER + timedelta(seconds=1), "three.jpg")
    marks = read_timeline(desk, WEDNESDAY).marks
    assert [len(mark.photos) for mark in marks] == [2, 1]


def test_words_between_them_part_photos(desk: Desk, book: Book, tmp_path: Path) -> None:
    photograph(book, tmp_path, NOON, "one.jpg")
    photograph(book, tmp_path, NOON + timedelta(minutes=8), "two.jpg")
    entry = say(book, Entry("weather", fahrenheit=Fraction(41)), NOON + timedelta(minutes=4))
    for tie in book.ties(JOB):
        if tie.entry == entry:
            decisions.untie(book, tie.photo, tie.entry)
    marks = read_timeline(desk, WEDNESDAY).marks
    assert [mark.what for mark in marks] == ["photos", "entry", "photos"]


def test_a_long_silence_is_shown(desk: Desk, book: Book) -> None:
    say(book, Entry("note", note="before"), NOON)
    say(book, Entry("note", note="after"), NOON + LONG)
    marks = read_timeline(desk, WEDNESDAY).marks
    assert [mark.what for mark in marks] == ["entry", "silence", "entry"]
    assert (marks[1].at, marks[1].until) == (NOON, NOON + LONG)


def test_a_short_silence_is_not(desk: Desk, book: Book) -> None:
    say(book, Entry("note", note="before"), NOON)
    say(book, Entry("note", note="after"), NOON + LONG - timedelta(seconds=1))
    assert of(read_timeline(desk, WEDNESDAY).marks, "silence") == []


def test_hours_at_work_stand_where_they_began(desk: Desk, book: Book) -> None:
    start, stop = NOON.replace(hour=7), NOON.replace(hour=16)
    say(book, Entry("start", time=start.time()), NOON)
    say(book, Entry("stop", time=stop.time()), NOON + timedelta(hours=1))
    [work] = of(read_timeline(desk, WEDNESDAY).marks, "work")
    assert (work.at, work.until) == (start, stop)
    assert work.hours is not None
    assert work.hours.crew_hours == 9


def test_hours_without_a_stop_are_not_known(desk: Desk, book: Book) -> None:
    say(book, Entry("start", time=NOON.time()), NOON)
    [work] = of(read_timeline(desk, WEDNESDAY).marks, "work")
    assert work.hours is not None
    assert work.hours.crew_hours is None


def test_what_other_days_say_of_it_stands_before_and_after(desk: Desk, book: Book) -> None:
    due = say(book, Entry("todo", note="bring the brake", day=TUESDAY), NOON - timedelta(days=2))
    later = say(book, Entry("weather", fahrenheit=Fraction(41), day=TUESDAY), NOON)
    marks = read_timeline(desk, TUESDAY).marks
    assert marks[0].what == "due"
    assert marks[0].entry is not None
    assert marks[0].entry.id == due
    assert marks[-1].what == "told later"
    assert marks[-1].entry is not None
    assert marks[-1].entry.id == later


def test_a_count_that_is_missing_belongs_to_the_last_day_that_told_of_it(desk: Desk) -> None:
    [missing] = missing_counts(desk, MONDAY)
    assert missing.gap is not None
    assert missing.gap.name == "soffit panel"
    assert missing_counts(desk, TUESDAY) == ()


def test_it_counts_what_waits_here_and_elsewhere(desk: Desk) -> None:
    day = read_timeline(desk, MONDAY)
    assert (day.doubts, day.doubts_elsewhere) == (2, 1)
    assert (day.entries, len(day.photos)) == (6, 1)


def test_a_recording_with_something_wrong_is_named(desk: Desk) -> None:
    assert read_timeline(desk, TUESDAY).troubles == ("tuesday.wav: ends early",)


def test_a_clock_that_was_put_right_moves_the_photos(desk: Desk, book: Book) -> None:
    decisions.set_clock(book, JOB, "unnamed camera", [MONDAY], 3600.0)
    [line] = of(read_timeline(desk, MONDAY).marks, "photos")
    assert line.at == book.photos(JOB)[0].taken.at + timedelta(hours=1)
