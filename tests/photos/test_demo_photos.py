"""The demo's own photos."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from pictures import ZONE

from joblog.photos import read, thumbnail

SLOW = "Demo compact"
PHOTOS = sorted((Path(__file__).parents[2] / "fixtures" / "demo" / "photos").iterdir())


def test_there_are_at_least_a_dozen_and_they_are_small() -> None:
    assert len(PHOTOS) >= 12
    assert sum(path.stat().st_size for path in PHOTOS) < 1_500_000


def test_they_show_every_way_of_knowing_the_time() -> None:
    sources = Counter(read(path, ZONE).taken.source for path in PHOTOS)
    assert sources == {"EXIF with offset": 14, "GPS": 1, "EXIF in job zone": 1}


def test_they_are_of_every_kind_and_one_was_held_upright() -> None:
    assert {path.suffix for path in PHOTOS} == {".jpg", ".png", ".tiff", ".heic"}
    assert [path.name for path in PHOTOS if read(path, ZONE).orientation == 6] == [
        "cracked-panel.jpg"
    ]


@pytest.mark.parametrize("path", PHOTOS, ids=lambda path: path.name)
def test_each_was_taken_by_the_same_house_and_can_be_seen(path: Path) -> None:
    photo = read(path, ZONE)
    assert photo.trouble is None
    assert photo.position is not None
    assert photo.position.latitude == pytest.approx(38.62, abs=0.001)
    assert photo.position.longitude == pytest.approx(-70.41, abs=0.001)
    assert (thumbnail(path, (80, 80)).width < 80) == (photo.width < photo.height)


def test_one_camera_was_47_minutes_slow_and_took_a_burst() -> None:
    compact = [photo for photo in (read(path, ZONE) for path in PHOTOS) if photo.camera == SLOW]
    shown = sorted(photo.taken.at.strftime("%H:%M:%S") for photo in compact)
    assert shown[0] == "10:45:40"
    assert shown[-3:] == ["19:41:14", "19:41:15", "19:41:16"]
