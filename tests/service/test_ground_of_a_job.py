"""Where the job is, as the service tells it."""

from __future__ import annotations

import hashlib
from datetime import date, timedelta
from pathlib import Path

import pytest
from PIL import Image

from joblog.book import keep, ties
from joblog.model import Moment, Photo, Placed, Position, Track, TrackPoint
from joblog.report import recording_list
from joblog.service import Desk, ServiceError, decide, ground, record, taking_in


def kept(desk: Desk, folder: Path, name: str, position: Position, seconds: int = 0) -> Photo:
    [eave] = [one for one in record.photos(desk) if one.name == "eave.jpg"]
    Image.new("RGB", (9, 9), (len(name), seconds, 9)).save(folder / name)
    sha256 = hashlib.sha256((folder / name).read_bytes()).hexdigest()
    taken = Moment(eave.taken.at + timedelta(seconds=seconds), "EXIF with offset")
    photo = Photo(sha256, name, taken, 9, 9, position)
    keep.keep_photo(desk.book, desk.job.name, folder / name, photo)
    return photo


def test_a_fence_is_set_by_hand_and_learned_again(desk: Desk, tmp_path: Path) -> None:
    assert ground.fence(desk) is None
    wanted = ground.set_fence(desk, 38.62, -70.41, ground.USUAL_RADIUS)
    assert ground.fence(desk) == wanted
    near = kept(desk, tmp_path, "near.png", Position(38.6201, -70.41, None, 5.0))
    far = kept(desk, tmp_path, "far.png", Position(38.7, -70.41, None, 5.0), 1)
    assert set(ground.placed(desk)) == {near.sha256, far.sha256}
    assert list(ground.astray(desk, date(2026, 10, 5))) == [far.sha256]
    assert ground.learn_fence(desk) is None


@pytest.mark.parametrize(
    ("latitude", "longitude", "radius"),
    [(91, 0, 100), (0, 181, 100), (0, 0, 4), (0, 0, 60_000), (float("nan"), 0, 100)],
)
def test_no_fence_is_set_around_what_is_no_place(
    desk: Desk, latitude: float, longitude: float, radius: float
) -> None:
    with pytest.raises(ServiceError, match="is no "):
        ground.set_fence(desk, latitude, longitude, radius)


def test_a_place_is_where_a_confirmed_entry_was_photographed(desk: Desk, tmp_path: Path) -> None:
    assert ground.places(desk) == {}
    photo = kept(desk, tmp_path, "north.png", Position(38.62, -70.41, None, 5.0), 40)
    [entry] = taking_in.write_down(desk, "covered the flashing at the north eave")
    decide.tie(desk, photo.sha256, entry.id)
    ties.tie_photos(desk.book, desk.job.name)
    [(name, lies)] = ground.places(desk).items()
    assert (name, lies.error) == ("north eave", 5.0)
    assert (lies.latitude, lies.longitude) == (pytest.approx(38.62), pytest.approx(-70.41))


def test_a_sketch_has_the_places_and_the_photos_in_metres(desk: Desk, tmp_path: Path) -> None:
    assert ground.sketch(desk) is None
    north = kept(desk, tmp_path, "north.png", Position(38.6202, -70.41, None, 5.0), 40)
    kept(desk, tmp_path, "south.png", Position(38.62, -70.41, None, 5.0), 50)
    [entry] = taking_in.write_down(desk, "covered the flashing at the north eave")
    decide.tie(desk, north.sha256, entry.id)
    drawn = ground.sketch(desk, date(2026, 10, 5))
    assert drawn is not None
    spots = {spot.label: spot for spot in drawn.spots}
    assert set(spots) == {"north eave", "north.png", "south.png"}
    assert spots["north.png"].north - spots["south.png"].north == pytest.approx(22.2, abs=0.1)
    assert spots["north eave"].north == pytest.approx(spots["north.png"].north)
    assert (drawn.unplaced, drawn.fence) == (1, None)


def test_a_recording_was_begun_where_a_track_log_says(desk: Desk, tmp_path: Path) -> None:
    assert ground.placed_recordings(desk) == {}
    [recording] = record.recordings(desk)
    path = tmp_path / "walk.gpx"
    path.write_text("a log")
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    there = Position(38.62, -70.41, None, 4.0)
    point = TrackPoint(recording.made.at.timestamp(), there)
    keep.keep_track(desk.book, desk.job.name, path, Track(sha256, "walk.gpx", (point,)))
    found = ground.placed_recordings(desk)
    assert found == {recording.sha256: Placed(there, "walk.gpx")}
    table = recording_list(desk.job, [recording], found)
    assert table.headings[-1] == "position"
    assert table.rows[0][-1] == "38.62000 -70.41000 within 4 m, by walk.gpx"
