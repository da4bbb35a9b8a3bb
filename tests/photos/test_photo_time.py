"""When a photo was taken, and how we know."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pictures import ZONE, exif, save

from joblog.model import Photo
from joblog.photos import read

GPS_TIME = {7: (13.0, 5.0, 21.0), 29: "2026:10:05"}


def photo_with(tmp_path: Path, name: str = "eave.jpg", zone: str = ZONE, **tags: object) -> Photo:
    return read(save(tmp_path / name, exif(**tags)), zone)  # type: ignore[arg-type]


def test_a_photo_with_an_offset_needs_no_zone(tmp_path: Path) -> None:
    photo = photo_with(
        tmp_path, taken="2026:10:05 09:05:21", offset="+05:45", zone="Pacific/Auckland"
    )
    assert photo.taken.at == datetime(2026, 10, 5, 3, 20, 21, tzinfo=UTC)
    assert photo.taken.source == "EXIF with offset"


def test_a_photo_with_an_offset_keeps_its_fraction_of_a_second(tmp_path: Path) -> None:
    photo = photo_with(tmp_path, taken="2026:10:05 09:05:21", offset="-04:00", fraction="25")
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, 250_000, tzinfo=UTC)


def test_a_photo_without_offset_uses_the_satellites_time(tmp_path: Path) -> None:
    photo = photo_with(tmp_path, taken="2026:10:05 08:00:00", gps=GPS_TIME)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    assert photo.taken.source == "GPS"


@pytest.mark.parametrize(
    ("taken", "hour"), [("2026:10:05 09:05:21", 13), ("2026:12:05 09:05:21", 14)]
)
def test_a_photo_without_offset_uses_the_job_time_zone_in_summer_and_winter(
    tmp_path: Path, taken: str, hour: int
) -> None:
    photo = photo_with(tmp_path, taken=taken)
    assert (photo.taken.at.hour, photo.taken.at.minute) == (hour, 5)
    assert photo.taken.source == "EXIF in job zone"


def test_a_blank_offset_means_unknown(tmp_path: Path) -> None:
    photo = photo_with(tmp_path, taken="2026:10:05 09:05:21", offset="   :  ")
    assert photo.taken.source == "EXIF in job zone"
    assert photo.trouble is None


def test_an_absurd_offset_is_ignored_and_said(tmp_path: Path) -> None:
    photo = photo_with(tmp_path, taken="2026:10:05 09:05:21", offset="+99:00")
    assert photo.taken.source == "EXIF in job zone"
    assert photo.trouble == 'its offset from UTC was ignored: "+99:00"'


@pytest.mark.parametrize(
    "taken",
    ["2026:13:05 09:05:21", "2026:10:05 25:05:21", "1980:01:01 00:00:00", "yesterday \x1b[31m"],
)
def test_an_absurd_capture_time_is_ignored_and_said(tmp_path: Path, taken: str) -> None:
    photo = photo_with(tmp_path, taken=taken, offset="-04:00")
    assert photo.taken.source == "file time"
    assert (photo.trouble or "").startswith(f'its capture time was ignored: "{taken[:9]}')
    assert (photo.trouble or "").isprintable()


@pytest.mark.parametrize("taken", ["0000:00:00 00:00:00", "    :  :     :  :  "])
def test_a_capture_time_left_blank_is_no_trouble(tmp_path: Path, taken: str) -> None:
    photo = photo_with(tmp_path, taken=taken)
    assert photo.taken.source == "file time"
    assert photo.trouble is None


@pytest.mark.parametrize(
    "gps",
    [
        {7: (25.0, 5.0, 21.0), 29: "2026:10:05"},
        {7: (13.0, 5.0), 29: "2026:10:05"},
        {7: (13.0, 5.0, 21.0), 29: "2014:09:259"},
        {7: (13.0, 5.0, 21.0)},
        {29: "2026:10:05"},
    ],
)
def test_an_absurd_satellite_time_is_passed_over(tmp_path: Path, gps: dict[int, object]) -> None:
    assert photo_with(tmp_path, gps=gps).taken.source == "file time"


@pytest.mark.parametrize(
    "name",
    [
        "20261005_090521.jpg",
        "eave-20261005-090521-3.jpg",
        "2026-10-05 09.05.21.jpg",
        "2026-10-05T09-05-21.jpg",
        "photo 2026.10.05 at 09.05.21.jpg",
        "20261005090521.jpg",
        "IMG_20261005_090521000.jpg",
    ],
)
def test_a_date_and_time_in_the_name_is_the_job_zones(tmp_path: Path, name: str) -> None:
    photo = photo_with(tmp_path, name)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    assert photo.taken.source == "file name"


@pytest.mark.parametrize("name", ["2026-10-05.jpg", "eave 20261005-0012.jpg"])
def test_a_name_with_only_a_day_is_noon_and_says_so(tmp_path: Path, name: str) -> None:
    photo = photo_with(tmp_path, name)
    assert photo.taken.at == datetime(2026, 10, 5, 16, 0, tzinfo=UTC)
    assert photo.taken.source == "day in file name"
    assert photo.trouble == "only the day is known, from its name; noon is made up"


@pytest.mark.parametrize("name", ["eave 3.jpg", "120261005.jpg", "20269905_090521.jpg"])
def test_other_numbers_in_a_name_are_no_date(tmp_path: Path, name: str) -> None:
    assert photo_with(tmp_path, name).taken.source == "file time"


def test_the_files_own_time_is_the_last_resort(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg")
    os.utime(path, (1_791_205_521, 1_791_205_521))
    assert read(path, ZONE).taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    assert read(path, ZONE).taken.source == "file time"


def test_a_photo_taken_as_the_clocks_went_back_says_so(tmp_path: Path) -> None:
    photo = photo_with(tmp_path, taken="2026:11:01 01:30:00")
    assert photo.taken.at == datetime(2026, 11, 1, 5, 30, tzinfo=UTC)
    assert photo.trouble == "it was taken as the clocks changed; it may be an hour off"
