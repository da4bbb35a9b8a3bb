"""The record of covered work: what was said, the photos that show it, and what is missing."""

from __future__ import annotations

import hashlib
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image

from joblog.book import keep, ties
from joblog.model import BookEntry, Look, Moment, Photo, Position
from joblog.report.covered import HEADINGS, covered_record, covered_table
from joblog.service import Desk, ServiceError, decide, record, taking_in
from joblog.service.covered import covered, hand_out, unproved

NOON = datetime(2026, 10, 5, 12, 0)


def said(desk: Desk, text: str, minute: int = 0, second: int = 0) -> BookEntry:
    moment = NOON.replace(minute=minute, second=second)
    [entry] = taking_in.write_down(desk, text, moment)
    return entry


def kept(desk: Desk, folder: Path, name: str, near: BookEntry, seconds: int, **also: object) -> str:
    path = folder / name
    Image.new("RGB", (8, 8), (len(name), seconds % 256, 7)).save(path)
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    taken = Moment(near.at + timedelta(seconds=seconds), "EXIF with offset")
    photo = Photo(sha256, name, taken, 8, 8, **also)  # type: ignore[arg-type]
    keep.keep_photo(desk.book, desk.job.name, path, photo)
    ties.tie_photos(desk.book, desk.job.name)
    return sha256


HERE = Position(38.62, -70.41, None, 6.0)


def test_covered_work_stands_with_its_photos_time_place_and_hash(
    desk: Desk, tmp_path: Path
) -> None:
    entry = said(desk, "covered the flashing at the north eave")
    sha256 = kept(desk, tmp_path, "flashing.png", entry, 40, position=HERE)
    decide.tie(desk, sha256, entry.id)
    [work] = covered(desk)
    assert (work.entry.id, work.lacks, work.heard_in) == (entry.id, (), None)
    [proof] = work.proofs
    assert proof.placed is not None
    assert (proof.photo.sha256, proof.placed.position) == (sha256, HERE)
    page = covered_record(desk.job, [work])
    assert "1 of 1 can be shown as they stand" in page
    assert f"SHA-256 of the original {sha256}" in page
    assert "38.62000 -70.41000 within 6 m" in page
    assert "taken 12:00:40 PM by EXIF with offset" in page


def test_a_photo_that_was_called_for_in_the_same_breath_is_of_it(
    desk: Desk, tmp_path: Path
) -> None:
    entry = said(desk, "covered the flashing at the north eave")
    photo = said(desk, "photo of the flashing", 0, 10)
    sha256 = kept(desk, tmp_path, "flashing.png", photo, 5)
    decide.tie(desk, sha256, photo.id)
    [work] = covered(desk)
    assert work.entry.id == entry.id
    assert [proof.photo.sha256 for proof in work.proofs] == [sha256]
    assert work.lacks == ("no position",)


def test_a_photo_that_was_called_for_later_is_of_something_else(desk: Desk, tmp_path: Path) -> None:
    said(desk, "covered the flashing at the north eave")
    photo = said(desk, "photo of the yard", 5)
    decide.tie(desk, kept(desk, tmp_path, "yard.png", photo, 5), photo.id)
    [work] = covered(desk)
    assert work.lacks == ("no photo",)
    assert unproved([work]) == (work,)


def test_what_was_dropped_or_is_of_another_day_is_left_out(desk: Desk) -> None:
    entry = said(desk, "covered the flashing at the north eave")
    assert len(covered(desk, NOON.date())) == 1
    assert covered(desk, NOON.date() + timedelta(days=1)) == ()
    decide.drop(desk, entry.id)
    assert covered(desk) == ()


def test_the_sharpest_of_alike_photos_is_shown_first(desk: Desk, tmp_path: Path) -> None:
    entry = said(desk, "covered the flashing at the north eave")
    first = kept(desk, tmp_path, "a.png", entry, 40, look=Look("0f0f3333aaaac3c3", 20.0, 0.5))
    sharp = kept(desk, tmp_path, "b.png", entry, 42, look=Look("0f0f3333aaaac3c3", 80.0, 0.5))
    for sha256 in (first, sharp):
        decide.tie(desk, sha256, entry.id)
    [work] = covered(desk)
    assert [proof.photo.sha256 for proof in work.proofs] == [sharp, first]


def test_the_table_has_a_row_for_each_photo_and_one_for_what_has_none(
    desk: Desk, tmp_path: Path
) -> None:
    entry = said(desk, "covered the flashing at the north eave")
    said(desk, "covered the wire at the south eave", 30)
    for name, seconds in (("a.png", 40), ("b.png", 90)):
        decide.tie(desk, kept(desk, tmp_path, name, entry, seconds, position=HERE), entry.id)
    table = covered_table(desk.job, covered(desk))
    assert table.headings == HEADINGS
    lines = [dict(zip(table.headings, row, strict=True)) for row in table.rows]
    assert [line["photo"] for line in lines] == ["a.png", "b.png", ""]
    assert [line["lacks"] for line in lines] == ["", "", "no photo"]
    assert lines[0]["latitude"] == "38.620000"
    assert all(len(line["sha256"]) in (0, 64) for line in lines)


def test_the_day_calls_out_what_has_no_photo_yet(desk: Desk, tmp_path: Path) -> None:
    entry = said(desk, "covered the flashing at the north eave")
    day = NOON.date()
    assert entry.id in {one.id for one in record.read_day(desk, day).unanswered}
    decide.tie(desk, kept(desk, tmp_path, "flashing.png", entry, 40), entry.id)
    assert entry.id not in {one.id for one in record.read_day(desk, day).unanswered}


def a_photo_with_everything(desk: Desk, folder: Path) -> str:
    """Of covered work, with a position, a camera's name and a comment in its file."""
    entry = said(desk, "covered the flashing at the north eave")
    exif = Image.Exif()
    exif[0x010F], exif[0x0112] = "Invented Seven", 6
    exif[0x8825] = {1: "N", 2: (38.0, 37.0, 12.0), 3: "W", 4: (70.0, 24.0, 36.0)}
    path = folder / "flashing.jpg"
    picture = Image.new("RGB", (64, 48), "red")
    picture.save(path, exif=exif, comment=b"private", xmp=b"<x>private</x>", icc_profile=b"private")
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    taken = Moment(entry.at + timedelta(seconds=5), "EXIF with offset")
    photo = Photo(sha256, "flash\x1bing?.jpg", taken, 48, 64)
    keep.keep_photo(desk.book, desk.job.name, path, photo)
    decide.tie(desk, sha256, entry.id)
    return sha256


def test_what_is_given_away_is_the_picture_and_nothing_that_stood_beside_it(
    desk: Desk, tmp_path: Path
) -> None:
    sha256 = a_photo_with_everything(desk, tmp_path)
    assert hand_out(desk, covered(desk), tmp_path / "out") == ()
    [given] = (tmp_path / "out").iterdir()
    assert given.name.endswith("-1-flash_ing_.jpg")
    content = given.read_bytes()
    assert not any(mark in content for mark in (b"Exif", b"private", b"Invented", b"xap/1.0"))
    with Image.open(given) as picture:
        assert picture.size == (48, 64)
        assert len(picture.getexif()) == 0
    assert hashlib.sha256(record.original(desk, sha256).read_bytes()).hexdigest() == sha256


def test_originals_are_given_away_byte_for_byte_if_asked_for(desk: Desk, tmp_path: Path) -> None:
    sha256 = a_photo_with_everything(desk, tmp_path)
    hand_out(desk, covered(desk), tmp_path / "out", originals=True)
    [given] = (tmp_path / "out").iterdir()
    assert hashlib.sha256(given.read_bytes()).hexdigest() == sha256


def test_nothing_is_written_over_and_one_bad_picture_keeps_no_other_back(
    desk: Desk, tmp_path: Path
) -> None:
    entry = said(desk, "covered the flashing at the north eave")
    for name, seconds in (("a.png", 40), ("b.png", 90)):
        decide.tie(desk, kept(desk, tmp_path, name, entry, seconds), entry.id)
    torn = covered(desk)[0].proofs[0].photo.sha256
    record.original(desk, torn).write_bytes(b"torn")
    problems = hand_out(desk, covered(desk), tmp_path / "out")
    assert [problem.what for problem in problems] == ["a.png"]
    [given] = (tmp_path / "out").iterdir()
    whole = given.read_bytes()
    given.unlink()  # As if it had been killed before it came to this one.
    assert hand_out(desk, covered(desk), tmp_path / "out") == problems
    assert given.read_bytes() == whole
    (tmp_path / "out" / "letter.txt").write_text("dear")
    with pytest.raises(ServiceError, match="is there already"):
        hand_out(desk, covered(desk), tmp_path / "out")
