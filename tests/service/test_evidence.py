"""What can be listened to, looked at and gone back to: where it lies, and what is not there."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PIL import Image

from joblog.book import keep
from joblog.model import BookEntry, Look, Moment, Photo, Position, Track, TrackPoint
from joblog.service import Desk, ServiceError, decide, record, taking_in
from joblog.service.gallery import gallery
from joblog.service.pictures import copy_to_show, small
from joblog.service.sound import AFTER, AROUND, command_for, stretch_of
from joblog.service.taking_in import write_down
from joblog.service.whereabouts import where_said, where_taken

HERE, THERE = Position(38.62, -70.41, None, 5.0), Position(38.63, -70.42, None, 5.0)


def said(desk: Desk, kind: str) -> BookEntry:
    [entry] = [one for one in record.read_entries(desk) if one.entry.kind == kind]
    return entry


def photos_of(desk: Desk, entry: BookEntry) -> list[Photo]:
    return [photo for photo, _ in record.pictures(desk, entry.id)]


def eave(desk: Desk) -> Photo:
    [photo] = [one for one in record.photos(desk) if one.name == "eave.jpg"]
    return photo


def photographed(
    desk: Desk, folder: Path, name: str, later: timedelta, at: Position, sharp: float = 9.0
) -> Photo:
    path = folder / name
    Image.new("RGB", (9, 9), (len(name), 7, 9)).save(path)
    taken = Moment(eave(desk).taken.at + later, "EXIF with offset")
    sha256, look = hashlib.sha256(path.read_bytes()).hexdigest(), Look("0f" * 8, sharp, 0.5)
    photo = Photo(sha256, name, taken, 9, 9, at, look=look)
    keep.keep_photo(desk.book, desk.job.name, path, photo)
    return photo


def walked(desk: Desk, folder: Path, *minutes: float) -> None:
    """A track with a point at each of so many minutes after the photo of the eave."""
    path = folder / "walk.gpx"
    path.write_text(f"walk {minutes}")
    begun = eave(desk).taken.at.timestamp()
    points = tuple(TrackPoint(begun + 60 * later, THERE) for later in minutes)
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    keep.keep_track(desk.book, desk.job.name, path, Track(sha256, path.name, points))


def test_a_stretch_begins_a_little_before_the_words_and_not_before_the_recording(
    desk: Desk,
) -> None:
    first, second = stretch_of(desk, said(desk, "used")), stretch_of(desk, said(desk, "photo"))
    assert (first.start, first.end) == (0.0, 3.0 + AFTER)
    assert (second.name, second.said_from, second.said_to) == ("monday.wav", 20.0, 23.0)
    assert second.path.read_bytes() == b"monday"


def test_around_it_are_ten_seconds_more_and_no_more_than_there_are(desk: Desk) -> None:
    around = stretch_of(desk, said(desk, "photo"), around=True)
    assert (around.start, around.end) == (20.0 - AROUND, 23.0 + AROUND)


def test_what_was_typed_and_what_is_gone_have_no_sound(desk: Desk) -> None:
    [typed] = taking_in.write_down(desk, "used one sheet of soffit")
    spoken = said(desk, "photo")
    with pytest.raises(ServiceError, match="this was typed"):
        stretch_of(desk, typed)
    stretch_of(desk, spoken).path.unlink()
    with pytest.raises(ServiceError, match=r"monday\.wav: this recording is gone"):
        stretch_of(desk, spoken)


def test_where_a_photo_was_taken_its_camera_knows_best(desk: Desk, tmp_path: Path) -> None:
    placed = photographed(desk, tmp_path, "placed.png", timedelta(minutes=1), HERE)
    walked(desk, tmp_path, 0, 1, 2)
    found = where_taken(desk, placed)
    assert (found.text, found.how) == ("38.620000, -70.410000", "by its camera")


def test_where_something_was_said_a_track_knows(desk: Desk, tmp_path: Path) -> None:
    walked(desk, tmp_path, -1, 0, 1)
    found = where_said(desk, said(desk, "photo"))
    assert (found.text, found.how) == ("38.630000, -70.420000", "by the track walk.gpx")
    assert where_taken(desk, eave(desk)).how == "by the track walk.gpx"


def test_without_a_track_the_nearest_photo_in_time_stands_for_it_and_is_named(
    desk: Desk, tmp_path: Path
) -> None:
    photographed(desk, tmp_path, "far.png", timedelta(hours=4), THERE)
    photographed(desk, tmp_path, "nearer.png", timedelta(minutes=-5), HERE)
    found = where_taken(desk, eave(desk))
    nearest = "it has no place of its own; nearest is photo nearer.png, 5 min earlier"
    assert (found.position, found.how) == (HERE, nearest)


def test_a_point_of_a_track_that_is_nearer_than_any_photo_stands_for_it(
    desk: Desk, tmp_path: Path
) -> None:
    photographed(desk, tmp_path, "far.png", timedelta(hours=-4), HERE)
    walked(desk, tmp_path, 30, 31)
    found = where_taken(desk, eave(desk))
    assert found.position == THERE and found.how.endswith("track walk.gpx, 30 min later")


def test_a_photo_of_another_day_says_nothing_of_this_one(desk: Desk, tmp_path: Path) -> None:
    photographed(desk, tmp_path, "later.png", timedelta(days=1), HERE)
    with pytest.raises(ServiceError, match="no photo and no track of this day"):
        where_said(desk, said(desk, "photo"))


def test_the_photos_of_an_entry_are_those_tied_to_it(desk: Desk) -> None:
    photo, used = said(desk, "photo"), said(desk, "used")
    assert photos_of(desk, photo) == [eave(desk)]
    assert photos_of(desk, used) == []
    decide.withdraw(desk, eave(desk).sha256)
    assert photos_of(desk, photo) == []


def test_of_alike_photos_the_best_one_comes_first(desk: Desk, tmp_path: Path) -> None:
    entry = said(desk, "photo")
    blurred = photographed(desk, tmp_path, "blurred.png", timedelta(seconds=2), HERE, 5.0)
    sharp = photographed(desk, tmp_path, "sharp.png", timedelta(seconds=9), HERE, 90.0)
    decide.tie(desk, blurred.sha256, entry.id)
    decide.tie(desk, sharp.sha256, entry.id)
    assert [one.name for one in photos_of(desk, entry)] == [
        "eave.jpg",
        "sharp.png",
        "blurred.png",
    ]


def test_a_copy_to_show_is_the_same_bytes_and_nothing_of_it_stays(
    desk: Desk, tmp_path: Path
) -> None:
    shows = f"""
from pathlib import Path
from joblog.book import Book
from joblog.service import open_desk, record
from joblog.service.taking_in import Written, keep_typed, write_down, write_notes
from joblog.service.pictures import copy_to_show
with Book.open(Path({str(desk.book.folder)!r})) as book:
    desk = open_desk(book, {desk.job.name!r})
    [photo] = record.photos(desk)
    copy = copy_to_show(desk, photo)
    print(copy, copy.read_bytes() == book.media(photo.sha256).read_bytes())
"""
    done = subprocess.run([sys.executable, "-c", shows], capture_output=True, text=True)
    copy, same = done.stdout.rsplit(maxsplit=1)
    assert same == "True" and not Path(copy).exists()


def test_of_a_photo_that_is_gone_there_is_no_copy(desk: Desk) -> None:
    desk.book.media(eave(desk).sha256).unlink()
    with pytest.raises(ServiceError, match=r"eave\.jpg: this photo is gone from the book's folder"):
        copy_to_show(desk, eave(desk))


def test_what_cannot_be_drawn_says_why_without_the_name_in_the_store(
    desk: Desk, tmp_path: Path
) -> None:
    torn = tmp_path / "0123abcd.png"
    torn.write_bytes(b"\x89PNG torn")
    with pytest.raises(ServiceError, match=r"^this photo is damaged or cut off, or no photo"):
        small(torn, (32, 32))
    with pytest.raises(ServiceError, match=r"^this photo is gone"):
        small(tmp_path / "nowhere.png", (32, 32))


def test_the_gallery_shows_photos_by_time_and_what_lacks_one_where_it_would_be(
    desk: Desk, tmp_path: Path
) -> None:
    local = eave(desk).taken.at.astimezone(ZoneInfo(desk.job.zone))
    [covered] = taking_in.write_down(
        desk, "covered the flashing at the south eave", local + timedelta(hours=1)
    )
    photographed(desk, tmp_path, "late.png", timedelta(hours=2), HERE)
    first, second, third = gallery(desk)
    assert (first.photo, first.settled, first.loose) == (eave(desk), True, False)
    assert (second.entry, second.lacking) == (covered, True)
    assert third.photo is not None and third.photo.name == "late.png" and third.loose


def test_of_one_day_the_gallery_shows_no_other(desk: Desk, tmp_path: Path) -> None:
    photographed(desk, tmp_path, "later.png", timedelta(days=1), HERE)
    day = eave(desk).taken.at.date()
    assert [one.photo for one in gallery(desk, day)] == [eave(desk)]
    assert gallery(desk, day + timedelta(days=5)) == ()


def test_an_entry_shows_its_own_sound_and_pictures_and_a_typed_one_has_no_sound(desk: Desk) -> None:
    used = said(desk, "used")
    [typed] = write_down(desk, "note the gate sticks", datetime(2026, 10, 5, 9))
    heard = record.sound_of(desk, used)
    assert heard is not None
    assert heard[0].utterance.hearings[0].text == "north eave used three sheets of soffit"
    assert heard[1].name == "monday.wav"
    assert record.sound_of(desk, typed) is None
    called_for = said(desk, "photo")
    assert [photo.name for photo, _ in record.pictures(desk, called_for.id)] == ["eave.jpg"]
    assert record.pictures(desk, typed.id) == ()


def test_what_nobody_looked_at_is_what_was_heard_without_a_doubt(desk: Desk) -> None:
    [day] = record.days(desk)
    used, called_for = said(desk, "used"), said(desk, "photo")
    assert {one.id for one in record.not_looked_at(desk, day)} == {used.id, called_for.id}
    decide.accept(desk, used.id)
    assert [one.id for one in record.not_looked_at(desk)] == [called_for.id]


def test_what_plays_a_stretch_is_told_its_file_and_its_seconds(desk: Desk) -> None:
    wanted = stretch_of(desk, said(desk, "used"))
    told = " ".join(command_for(desk, wanted, slower=True))
    assert str(wanted.path) in told
