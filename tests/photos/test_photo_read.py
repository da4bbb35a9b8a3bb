"""What a photo is."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pictures import NORTH_WEST, ZONE, exif, save, say_size
from PIL import Image

from joblog.model import Position
from joblog.photos import PhotoError, read

pytestmark = pytest.mark.filterwarnings(
    "ignore::UserWarning:PIL", "ignore::PIL.Image.DecompressionBombWarning"
)

ALL = (".jpg", ".png", ".tiff", ".heic")


@pytest.mark.parametrize("suffix", ALL)
def test_every_format_gives_its_time_place_size_and_camera(tmp_path: Path, suffix: str) -> None:
    block = exif(
        taken="2026:10:05 09:05:21",
        offset="-04:00",
        gps=NORTH_WEST,
        make="Invented",
        model="Seven",
    )
    photo = read(save(tmp_path / f"eave{suffix}", block), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    assert photo.taken.source == "EXIF with offset"
    assert photo.position == Position(38.62, -70.41)
    assert (photo.width, photo.height) == (64, 48)
    assert photo.camera == "Invented Seven"
    assert photo.trouble is None


@pytest.mark.parametrize("suffix", ALL)
def test_a_photo_taken_on_its_side_has_the_size_that_a_person_sees(
    tmp_path: Path, suffix: str
) -> None:
    photo = read(save(tmp_path / f"eave{suffix}", exif(orientation=6)), ZONE)
    assert (photo.width, photo.height) == (48, 64)


@pytest.mark.parametrize("suffix", ALL)
def test_a_photo_without_exif_is_a_photo_without_trouble(tmp_path: Path, suffix: str) -> None:
    photo = read(save(tmp_path / f"eave{suffix}"), ZONE)
    assert (photo.position, photo.camera, photo.trouble) == (None, None, None)
    assert photo.taken.source == "file time"


def test_a_photo_is_named_by_the_sha256_of_its_bytes(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", exif(orientation=3))
    assert read(path, ZONE).sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert read(path, ZONE).name == "eave.jpg"


def test_reading_leaves_the_original_as_it_was(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", exif(orientation=6))
    before = path.read_bytes(), path.stat().st_mtime_ns
    read(path, ZONE)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_a_png_that_is_called_jpg_is_read_for_what_it_is(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.png", exif(orientation=6)).rename(tmp_path / "eave.jpg")
    assert read(path, ZONE).orientation == 6


def test_a_maker_that_stands_in_the_model_is_said_once(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", exif(make="Invented", model="Invented Seven"))
    assert read(path, ZONE).camera == "Invented Seven"


def test_a_camera_name_keeps_no_control_characters_and_stays_short(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", exif(make="\x1b[31mred\x07\n\x7f", model="x" * 5000))
    camera = read(path, ZONE).camera or ""
    assert camera.isprintable()
    assert camera.startswith("[31mred xxx")
    assert len(camera) < 200


def test_an_orientation_that_does_not_exist_is_upright(tmp_path: Path) -> None:
    photo = read(save(tmp_path / "eave.jpg", exif(orientation=77)), ZONE)
    assert (photo.orientation, photo.width, photo.height) == (1, 64, 48)


@pytest.mark.parametrize("suffix", ALL)
@pytest.mark.parametrize("block", [None, exif(orientation=6)], ids=["without EXIF", "with EXIF"])
def test_a_whole_photo_has_no_trouble(tmp_path: Path, suffix: str, block: bytes | None) -> None:
    assert read(save(tmp_path / f"eave{suffix}", block), ZONE).trouble is None


def test_a_photo_of_100_megapixels_is_read(tmp_path: Path) -> None:
    photo = read(say_size(save(tmp_path / "wide.jpg"), 11_600, 8_700), ZONE)
    assert (photo.width, photo.height) == (11_600, 8_700)


@pytest.mark.parametrize(("width", "height"), [(20_000, 15_000), (65_500, 65_500)])
def test_a_photo_of_far_more_is_refused_in_plain_words(
    tmp_path: Path, width: int, height: int
) -> None:
    with pytest.raises(PhotoError, match=r"over 200 megapixels\); save a smaller copy"):
        read(say_size(save(tmp_path / "vast.jpg"), width, height), ZONE)


def test_a_jpeg_followed_by_a_film_is_a_whole_photo(tmp_path: Path) -> None:
    path = save(tmp_path / "moving.jpg")
    path.write_bytes(path.read_bytes() + bytes(200_000))
    assert read(path, ZONE).trouble is None


def test_two_pictures_in_one_jpeg_are_read_as_the_first(tmp_path: Path) -> None:
    path = tmp_path / "pair.jpg"
    first, second = Image.new("RGB", (64, 48), "red"), Image.new("RGB", (32, 24), "blue")
    first.save(path, "MPO", save_all=True, append_images=[second])
    assert (read(path, ZONE).width, read(path, ZONE).height) == (64, 48)
