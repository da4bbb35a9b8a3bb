"""What is no photo, or no whole one: one plain line, never anything else."""

from __future__ import annotations

import struct
from contextlib import suppress
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pictures import NORTH_WEST, ZONE, exif, save
from PIL import Image

from joblog.photos import PhotoError, read, thumbnail

pytestmark = pytest.mark.filterwarnings("ignore::UserWarning:PIL")

BLOCK = exif(taken="2026:10:05 09:05:21", offset="-04:00", gps=NORTH_WEST, orientation=6)

DAMAGE = st.lists(st.tuples(st.integers(0, 899), st.integers(0, 255)), min_size=1, max_size=12)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("damaged")


def why(path: Path) -> str:
    with pytest.raises(PhotoError) as caught:
        read(path, ZONE)
    assert caught.value.path == path
    assert str(caught.value) == f"{path}: {caught.value.why}"
    return caught.value.why


def test_an_empty_file_says_so(tmp_path: Path) -> None:
    (tmp_path / "eave.jpg").touch()
    assert why(tmp_path / "eave.jpg") == "is empty; copy it again from the phone or camera"


def test_a_text_called_jpg_is_no_picture(tmp_path: Path) -> None:
    (tmp_path / "notes.jpg").write_text("eleven and seven eighths")
    assert why(tmp_path / "notes.jpg").startswith("is not a JPEG, PNG, TIFF, HEIC or AVIF picture")


def test_a_picture_of_another_kind_is_told_what_to_become(tmp_path: Path) -> None:
    Image.new("RGB", (64, 48)).save(tmp_path / "eave.bmp")
    assert why(tmp_path / "eave.bmp").endswith("save it as JPEG")


def test_a_missing_file_a_folder_and_a_closed_one_say_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert why(tmp_path / "gone.jpg") == "is not there; check the name"
    assert why(tmp_path) == "is a folder, not a picture"
    closed = save(tmp_path / "closed.jpg")
    monkeypatch.setattr(Path, "open", _refuse)
    assert why(closed) == "may not be read; allow yourself to read it"


def _refuse(*_: object) -> None:
    raise PermissionError


def cut(path: Path, part: float) -> Path:
    path.write_bytes(path.read_bytes()[: int(path.stat().st_size * part)])
    return path


@pytest.mark.parametrize("suffix", [".jpg", ".png", ".tiff", ".heic"])
@pytest.mark.parametrize("part", [0.02, 0.3, 0.6, 0.98])
def test_a_photo_cut_off_anywhere_is_to_be_copied_again(
    tmp_path: Path, suffix: str, part: float
) -> None:
    path = cut(save(tmp_path / f"eave{suffix}", BLOCK), part)
    try:
        said = read(path, ZONE).trouble or "nothing"
    except PhotoError as error:
        said = error.why
    assert "copy it again from the phone or camera" in said


@pytest.mark.parametrize("suffix", [".jpg", ".png"])
def test_what_is_left_of_a_photo_that_ends_early_is_kept_and_shown(
    tmp_path: Path, suffix: str
) -> None:
    path = cut(save(tmp_path / f"eave{suffix}", BLOCK), 0.8)
    assert str(read(path, ZONE).trouble).startswith("ends early, so only a part of it may show")
    assert thumbnail(path, (20, 20)).size == (15, 20)


def test_a_heic_that_ends_early_shows_nothing_and_is_not_kept(tmp_path: Path) -> None:
    assert why(cut(save(tmp_path / "eave.heic", BLOCK), 0.8)).startswith("is damaged or cut off")


@pytest.mark.parametrize("place", [0.2, 0.5, 0.9])
def test_a_bit_that_changed_in_a_png_is_found_by_its_checksum(tmp_path: Path, place: float) -> None:
    path = save(tmp_path / "eave.png")
    content = bytearray(path.read_bytes())
    content[int(len(content) * place)] ^= 1
    path.write_bytes(content)
    assert str(read(path, ZONE).trouble).startswith("is damaged, so only a part of it may show")


def test_a_cut_jpeg_is_not_saved_by_the_small_whole_one_in_its_exif(tmp_path: Path) -> None:
    inner = BytesIO()
    Image.new("RGB", (16, 12)).save(inner, "JPEG")
    path = save(tmp_path / "eave.jpg", BLOCK + inner.getvalue())
    assert read(path, ZONE).width == 48
    path.write_bytes(path.read_bytes()[:-2])
    assert str(read(path, ZONE).trouble).startswith("ends early")


def test_a_jpeg_whose_end_was_never_written_is_cut_off(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", BLOCK)
    half = path.stat().st_size // 2
    path.write_bytes(path.read_bytes()[:half] + bytes(200_000))
    assert str(read(path, ZONE).trouble).startswith("ends early")


def test_a_tiff_whose_strips_begin_nowhere_is_a_photo_error_at_most(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.tiff", BLOCK)
    whole_numbers, fractions = struct.pack("<HH", 273, 4), struct.pack("<HH", 273, 5)
    path.write_bytes(path.read_bytes().replace(whole_numbers, fractions))
    with suppress(PhotoError):
        assert read(path, ZONE).width == 48
    with suppress(PhotoError):
        assert thumbnail(path, (20, 20)).mode == "RGB"


def test_a_png_whose_pixels_cannot_be_decoded_is_kept_as_damaged(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.png")
    path.write_bytes(path.read_bytes().replace(b"IDAT\x78", b"IDAT\xff"))  # no longer deflated
    assert str(read(path, ZONE).trouble).startswith("is damaged")


def test_an_exif_that_cannot_be_read_costs_only_itself(tmp_path: Path) -> None:
    photo = read(save(tmp_path / "eave.jpg", b"Exif\0\0nothing of the kind"), ZONE)
    assert photo.trouble == "its EXIF cannot be read"
    assert photo.width == 64


def test_an_exif_made_to_be_endless_is_given_up(tmp_path: Path) -> None:
    tag = struct.pack("<HHLL", 0x9999, 4, 999, 8)
    block = b"II*\0\x08\0\0\0" + struct.pack("<H", 5000) + tag * 5000 + bytes(4)
    photo = read(save(tmp_path / "eave.jpg", b"Exif\0\0" + block), ZONE)
    assert photo.trouble == "its EXIF cannot be read"


@settings(deadline=None)
@given(st.binary(max_size=400))
def test_no_exif_whatever_does_more_than_give_trouble(folder: Path, block: bytes) -> None:
    path = save(folder / "any.jpg", b"Exif\0\0II*\0" + block)
    assert read(path, ZONE).width in (64, 48)
    assert max(thumbnail(path, (20, 20)).size) == 20


@settings(deadline=None)
@given(DAMAGE)
def test_damaged_exif_never_does_more_than_give_trouble(
    folder: Path, damage: list[tuple[int, int]]
) -> None:
    block = bytearray(BLOCK)
    for place, value in damage:
        block[6 + place % (len(block) - 6)] = value
    photo = read(save(folder / "exif.jpg", bytes(block)), ZONE)
    assert photo.taken.at.tzinfo is not None
    assert photo.position is None or abs(photo.position.latitude) <= 90


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([".jpg", ".png", ".tiff", ".heic"]), DAMAGE)
def test_a_damaged_file_is_a_photo_or_a_photo_error(
    folder: Path, suffix: str, damage: list[tuple[int, int]]
) -> None:
    path = save(folder / f"bytes{suffix}", BLOCK)
    content = bytearray(path.read_bytes())
    for place, value in damage:
        content[place % len(content)] = value
    path.write_bytes(content)
    with suppress(PhotoError):
        assert len(read(path, ZONE).sha256) == 64
    with suppress(PhotoError):
        assert max(thumbnail(path, (20, 20)).size) <= 20
