"""Track logs and fences in the book, and what they say of photos."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PIL import Image

from joblog.book import Book, BookError, decisions, ground, steps
from joblog.book.arriving import unfinished
from joblog.book.intake import Intake, take_in
from joblog.book.verify import verify
from joblog.dictation import read
from joblog.model import Fence, Job, Vocabulary

pytestmark = pytest.mark.usefixtures("heard_here")
JOB, OTHER = Job("Gull Point cottage", "America/New_York"), Job("Mill house", "America/New_York")
HOUSE, MILL = (38.0, 37.0, 12.0), (38.0, 47.0, 12.0)
"""Degrees, minutes, seconds; ten minutes of latitude apart, in the open sea."""


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        made.add_job(JOB)
        made.add_job(OTHER)
        yield made


def photo(folder: Path, name: str, latitude: tuple[float, ...] | None, minute: int = 0) -> Path:
    """Taken after nine on 5 October 2026; somewhere, or nowhere."""
    exif = Image.Exif()
    exif[0x8769] = {0x9003: f"2026:10:05 09:{minute:02}:00", 0x9011: "-04:00"}
    if latitude:
        exif[0x8825] = {1: "N", 2: latitude, 3: "W", 4: (70.0, 24.0, 36.0), 0x1F: 6.0}
    folder.mkdir(exist_ok=True)
    picture = Image.effect_noise((64, 48), 50 + minute + len(name))
    picture.convert("RGB").save(folder / name, exif=exif)
    return folder / name


def log(path: Path, *minutes: int) -> Path:
    points = "".join(
        f'<trkpt lat="38.62" lon="-70.41"><time>2026-10-05T13:{minute:02}:00Z</time></trkpt>'
        for minute in minutes
    )
    path.write_text(
        '<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">'
        f"<trk><trkseg>{points}</trkseg></trk></gpx>"
    )
    return path


def added(book: Book, *paths: Path, job: Job = JOB) -> Intake:
    return take_in(book, job.name, paths, workers=1)


# --- tracks -----------------------------------------------------------------------------------


def test_a_track_log_is_kept_and_gives_a_position_to_a_photo_without_one(
    book: Book, tmp_path: Path
) -> None:
    came = added(book, log(tmp_path / "walk.gpx", 0, 10), photo(tmp_path / "p", "a.jpg", None, 5))
    assert (came.tracks, came.photos, came.problems) == (1, 1, ())
    [taken] = book.photos(JOB.name)
    assert taken.position is None
    placed = ground.placed(book, [taken])[taken.sha256]
    assert placed.source == "walk.gpx"
    assert placed.position.latitude == pytest.approx(38.62, abs=1e-6)
    assert placed.position.error == pytest.approx((8**2 + 150) ** 0.5, abs=0.1)


def test_what_the_camera_says_is_not_replaced_by_a_track(book: Book, tmp_path: Path) -> None:
    added(book, log(tmp_path / "walk.gpx", 0, 10), photo(tmp_path / "p", "a.jpg", MILL, 5))
    [taken] = book.photos(JOB.name)
    assert ground.placed(book, [taken])[taken.sha256].source == "camera"


def test_a_corrected_moment_is_where_a_track_is_looked_up(book: Book, tmp_path: Path) -> None:
    added(book, log(tmp_path / "walk.gpx", 50, 55), photo(tmp_path / "p", "a.jpg", None, 5))
    photos = book.photos(JOB.name)
    assert ground.placed(book, photos) == {}
    right = {photos[0].sha256: datetime(2026, 10, 5, 13, 52, tzinfo=UTC)}
    assert ground.placed(book, photos, right)[photos[0].sha256].source == "walk.gpx"


def test_the_original_of_a_log_is_kept_byte_for_byte_and_once(book: Book, tmp_path: Path) -> None:
    path = log(tmp_path / "walk.gpx", 0, 10)
    added(book, path)
    [track] = ground.tracks(book)
    assert book.media(track.sha256).read_bytes() == path.read_bytes()
    assert added(book, path).already_there == 1
    assert added(book, path, job=OTHER).problems[0].why.startswith("is in the job")
    assert list(verify(book)) == []


def test_a_log_comes_back_as_it_was(book: Book, tmp_path: Path) -> None:
    from joblog.photos.gpx import read_track

    path = log(tmp_path / "walk.gpx", 0, 3, 10)
    added(book, path)
    assert ground.tracks(book) == (read_track(path),)


def test_a_log_that_is_still_being_copied_is_waited_for(tmp_path: Path) -> None:
    whole, half = log(tmp_path / "whole.gpx", 0, 10), log(tmp_path / "half.gpx", 0, 10)
    half.write_bytes(half.read_bytes()[:150])
    assert unfinished([whole, half]) == {half}


def test_only_logs_that_may_tell_of_a_moment_are_read(book: Book, tmp_path: Path) -> None:
    added(book, log(tmp_path / "early.gpx", 0, 10), log(tmp_path / "late.gpx", 30, 40))
    near = [datetime(2026, 10, 5, 13, 12, tzinfo=UTC)]
    assert [track.name for track in ground.tracks(book, near)] == ["early.gpx"]
    assert ground.tracks(book, [datetime(2026, 10, 5, 13, 20, tzinfo=UTC)]) == ()
    assert ground.tracks(book, []) == ()
    assert len(ground.tracks(book)) == 2


def test_a_log_that_would_swell_is_refused_and_keeps_no_other_out(
    book: Book, tmp_path: Path
) -> None:
    bomb = tmp_path / "bomb.gpx"
    bomb.write_text('<!DOCTYPE gpx [<!ENTITY a "aaaa">]><gpx>&a;</gpx>')
    came = added(book, bomb, log(tmp_path / "walk.gpx", 0, 10))
    assert came.tracks == 1
    assert came.problems[0].why.startswith("brings a document type along")
    assert len(list(book.store.glob("??/*"))) == 1


def test_a_log_cannot_be_moved_for_it_serves_all_jobs(book: Book, tmp_path: Path) -> None:
    added(book, log(tmp_path / "walk.gpx", 0, 10))
    [track] = ground.tracks(book)
    with pytest.raises(BookError, match="belongs to all jobs"):
        decisions.move_original(book, track.sha256, OTHER.name)
    assert ground.placed(book, []) == {}


# --- fences -----------------------------------------------------------------------------------


def two_jobs(book: Book, folder: Path) -> Intake:
    """Five photos at each; then one of the mill comes into the job at the house."""
    for job, latitude in ((JOB, HOUSE), (OTHER, MILL)):
        paths = [photo(folder / job.name, f"{at}.jpg", latitude, at) for at in range(5)]
        added(book, *paths, job=job)
    return added(book, photo(folder / "late", "stray.jpg", MILL, 30))


def test_a_photo_of_another_job_is_told_with_the_job_that_it_fits(
    book: Book, tmp_path: Path
) -> None:
    came = two_jobs(book, tmp_path)
    assert [note.what for note in came.notes] == ["stray.jpg"]
    assert came.notes[0].why == (
        "was taken 18 km outside of this job's fence, and fits Mill house; if so:"
        ' joblog move "stray.jpg" --to "Mill house"'
    )
    assert [one.name for one in book.photos(JOB.name)][-1] == "stray.jpg"


def test_a_photo_that_fits_no_job_is_told_too(book: Book, tmp_path: Path) -> None:
    two_jobs(book, tmp_path)
    came = added(book, photo(tmp_path / "lost", "lost.jpg", (39.0, 47.0, 12.0), 40))
    assert came.notes[0].why.startswith("was taken 129 km outside of this job's fence")
    assert "joblog move" not in came.notes[0].why


def test_a_photo_within_is_not_told(book: Book, tmp_path: Path) -> None:
    two_jobs(book, tmp_path)
    assert added(book, photo(tmp_path / "more", "more.jpg", HOUSE, 41)).notes == ()


def test_one_that_was_tied_by_hand_is_where_it_belongs(book: Book, tmp_path: Path) -> None:
    two_jobs(book, tmp_path)
    text = "photo of the flashing"
    reading = read(text, Vocabulary())
    [id] = decisions.add_typed(book, JOB.name, reading, text, datetime(2026, 10, 5, 15, tzinfo=UTC))
    stray = book.photos(JOB.name)[-1]
    assert stray.sha256 in ground.astray(book, JOB.name, [stray])
    decisions.tie(book, stray.sha256, id)
    assert ground.astray(book, JOB.name, [stray]) == {}


def test_a_fence_set_by_hand_counts_before_a_learned_one_and_can_be_undone(
    book: Book, tmp_path: Path
) -> None:
    two_jobs(book, tmp_path)
    learned = ground.fence(book, JOB.name)
    assert learned is not None and learned.source == "learned from 6 photos"
    by_hand = Fence(38.5, -70.5, 250.0, ground.BY_HAND)
    decisions.set_fence(book, JOB.name, by_hand)
    assert ground.fence(book, JOB.name) == by_hand
    [step] = steps.undo_last(book, JOB.name)
    assert step.what == "set the fence: 38.50000 -70.50000, 250 m"
    assert ground.fence(book, JOB.name) == learned
    steps.redo_last(book, JOB.name)
    assert ground.fence(book, JOB.name) == by_hand
    decisions.set_fence(book, JOB.name, None)
    assert ground.fence(book, JOB.name) == learned


def test_a_job_without_positions_has_no_fence(book: Book, tmp_path: Path) -> None:
    added(book, photo(tmp_path / "p", "a.jpg", None))
    assert ground.fence(book, JOB.name) is None
    assert ground.fences(book) == {}


# --- places -----------------------------------------------------------------------------------


def test_a_place_is_learned_from_the_photos_of_an_entry_that_was_accepted(
    book: Book, tmp_path: Path
) -> None:
    added(book, photo(tmp_path / "p", "a.jpg", HOUSE, 1))
    text = "covered the flashing at the north eave"
    words = Vocabulary(places=("north eave",))
    at = datetime(2026, 10, 5, 13, 1, tzinfo=UTC)
    [id] = decisions.add_typed(book, JOB.name, read(text, words), text, at)
    assert book.entry(id).entry.place == "north eave"
    places = ground.places(book, JOB.name)
    assert list(places) == ["north eave"]
    assert places["north eave"].latitude == pytest.approx(38.62)
    assert places["north eave"].error == 6.0
