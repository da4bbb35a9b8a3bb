"""A small picture to look at."""

from __future__ import annotations

from pathlib import Path

import pytest
from pictures import exif, save
from PIL import Image

from joblog.photos import PhotoError, thumbnail

ALL = (".jpg", ".png", ".tiff", ".heic")

NAMES = {(1, 0, 0): "red", (0, 0, 1): "blue", (1, 1, 1): "white"}


def colour(picture: Image.Image, place: tuple[int, int]) -> str:
    """Codecs change a colour a little, but not by half."""
    bands = picture.crop((*place, place[0] + 1, place[1] + 1)).tobytes()
    return NAMES[bands[0] // 128, bands[1] // 128, bands[2] // 128]


@pytest.mark.parametrize("suffix", ALL)
def test_a_thumbnail_fits_and_keeps_its_shape(tmp_path: Path, suffix: str) -> None:
    path = save(tmp_path / f"eave{suffix}", image=Image.new("RGB", (400, 300), "red"))
    assert thumbnail(path, (100, 100)).size == (100, 75)
    assert thumbnail(path, (300, 30)).size == (40, 30)


@pytest.mark.parametrize("suffix", ALL)
def test_a_photo_on_its_side_stands_up(tmp_path: Path, suffix: str) -> None:
    stored = Image.new("RGB", (400, 300), "red")
    stored.paste("blue", (0, 0, 200, 300))
    small = thumbnail(save(tmp_path / f"eave{suffix}", exif(orientation=6), stored), (90, 120))
    assert small.size == (90, 120)
    assert colour(small, (45, 20)) == "blue"
    assert colour(small, (45, 100)) == "red"


def test_a_small_picture_is_not_enlarged(tmp_path: Path) -> None:
    assert thumbnail(save(tmp_path / "eave.jpg"), (500, 500)).size == (64, 48)


def test_a_thumbnail_of_no_size_is_one_pixel(tmp_path: Path) -> None:
    assert thumbnail(save(tmp_path / "eave.jpg"), (0, 0)).size == (1, 1)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA"])
def test_every_kind_of_colour_becomes_rgb(tmp_path: Path, mode: str) -> None:
    path = save(tmp_path / "eave.png", image=Image.new(mode, (64, 48)))
    assert thumbnail(path, (32, 32)).mode == "RGB"


def test_print_colours_become_rgb(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", image=Image.new("CMYK", (64, 48), (0, 0, 0, 0)))
    assert colour(thumbnail(path, (32, 32)), (9, 9)) == "white"


def test_what_is_transparent_shows_white(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.png", image=Image.new("RGBA", (64, 48), (0, 0, 0, 0)))
    assert thumbnail(path, (32, 32)).getpixel((9, 9)) == (255, 255, 255)


def test_a_photo_of_100_megapixels_has_a_thumbnail(tmp_path: Path) -> None:
    path = save(tmp_path / "wide.jpg", image=Image.new("L", (11_600, 8_700), 200))
    small = thumbnail(path, (116, 87))
    assert small.size == (116, 87)
    assert small.getpixel((50, 40)) == (200, 200, 200)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_a_picture_of_any_kind_is_drawn_by_strips_as_it_is_whole(tmp_path: Path, mode: str) -> None:
    picture = Image.linear_gradient("L").resize((1003, 1501)).convert("RGB").convert(mode)
    picture.save(tmp_path / "wall.png")
    seen = thumbnail(tmp_path / "wall.png", (100, 100)).convert("L")
    assert seen.size == (67, 100)
    assert seen.getpixel((33, 95)) > seen.getpixel((33, 5)) + 100


def test_a_picture_too_large_to_be_decoded_whole_is_not_drawn(tmp_path: Path) -> None:
    Image.new("1", (14_000, 14_000)).save(tmp_path / "wall.png")
    with pytest.raises(PhotoError, match="with 196 megapixels is too large to be drawn here"):
        thumbnail(tmp_path / "wall.png", (100, 100))
