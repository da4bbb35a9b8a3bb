"""Photos of a day that show the same stand together, the best one first."""

from __future__ import annotations

import hashlib
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from PIL import Image

from joblog.book import keep, ties
from joblog.model import Look, Moment, Photo
from joblog.service import Desk, record

MONDAY = date(2026, 10, 5)
CUE = datetime(2026, 10, 5, 13, 0, 20, tzinfo=UTC)


def kept(desk: Desk, folder: Path, name: str, seconds: float, look: Look) -> Photo:
    path = folder / name
    Image.new("RGB", (8, 8), (len(name), int(seconds) % 256, 9)).save(path)
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    taken = Moment(CUE + timedelta(seconds=seconds), "EXIF with offset")
    photo = Photo(sha256, name, taken, 8, 8, look=look)
    keep.keep_photo(desk.book, desk.job.name, path, photo)
    return photo


def a_burst(desk: Desk, folder: Path) -> tuple[Photo, Photo, Photo]:
    blurred = kept(desk, folder, "blurred.png", 30, Look("0f0f3333aaaac3c3", 20.0, 0.5))
    sharp = kept(desk, folder, "sharp.png", 32, Look("0f0f3333aaaac3c2", 90.0, 0.5))
    other = kept(desk, folder, "other.png", 31, Look("f0f0cccc55553c3c", 50.0, 0.5))
    ties.tie_photos(desk.book, desk.job.name)
    return blurred, sharp, other


def test_alike_photos_of_a_day_are_a_group_with_the_sharpest_first(
    desk: Desk, tmp_path: Path
) -> None:
    blurred, sharp, other = a_burst(desk, tmp_path)
    day = record.read_day(desk, MONDAY)
    assert day.alike == record.alike(desk, MONDAY) == ((sharp.sha256, blurred.sha256),)
    assert record.place_among_alike(day, sharp) == "1 of 2 alike"
    assert record.place_among_alike(day, blurred) == "2 of 2 alike"
    assert record.place_among_alike(day, other) == ""


def test_the_gallery_keeps_alike_ones_together_and_leaves_none_out(
    desk: Desk, tmp_path: Path
) -> None:
    a_burst(desk, tmp_path)
    names = [photo.name for photo in record.gallery(record.read_day(desk, MONDAY))]
    assert names == ["eave.jpg", "sharp.png", "blurred.png", "other.png"]


def test_an_entry_shows_the_best_of_its_photos_first(desk: Desk, tmp_path: Path) -> None:
    blurred, sharp, other = a_burst(desk, tmp_path)
    [entry] = [one for one in record.read_entries(desk) if one.entry.kind == "photo"]
    for photo in (blurred, sharp, other):
        desk.book._db.execute("DELETE FROM tie WHERE photo = ?", [photo.sha256])
        desk.book._insert(
            "tie", {"photo": photo.sha256, "entry": entry.id, "reason": "told", "seconds": 1.0}
        )
    names = [photo.name for photo, _ in record.pictures(desk, entry.id)]
    assert names.index("sharp.png") < names.index("blurred.png") == len(names) - 1
