"""Positions and EXIF against the standard, CIPA DC-008 (Exif 2.32).

Tag numbers, types and counts are the standard's, from memory. Pillow writes and we read through
exifread; then the bytes are laid out by hand as the standard says, and both libraries read them.
"""

from __future__ import annotations

import struct
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import exifread
import pytest
from PIL import Image

from joblog.model import Position
from joblog.photos import read, thumbnail

ZONE = "UTC"

ASCII, SHORT, LONG, RATIONAL = 2, 3, 4, 5
"""Types, section "Interoperability Field format" (as in TIFF 6.0)."""

TIMES = [
    # name, number, count with the closing NUL, example in the standard's own form
    ("DateTimeOriginal", 0x9003, 20, "2026:10:05 09:05:21"),
    ("OffsetTimeOriginal", 0x9011, 7, "-04:00"),
    ("SubSecTimeOriginal", 0x9291, 4, "250"),
]

PLACE_TEXTS: list[tuple[str, int, Any]] = [
    ("GPSLatitudeRef", 0x0001, "N"),
    ("GPSLongitudeRef", 0x0003, "W"),
    ("GPSDate", 0x001D, "2026:10:05"),  # the standard's GPSDateStamp
]

PLACE_NUMBERS: list[tuple[str, int, Any]] = [
    ("GPSLatitude", 0x0002, (38.0, 37.0, 12.0)),
    ("GPSLongitude", 0x0004, (70.0, 24.0, 36.0)),
    ("GPSTimeStamp", 0x0007, (13.0, 5.0, 21.0)),
]

# Orientation: where the picture's 0th row and 0th column are seen (tag 0x0112), and so where the
# first pixel and the last pixel of the 0th row are seen. In between, the size of a picture stored
# 64 wide and 48 high.
ORIENTATIONS = [
    (1, (64, 48), "row top, column left", "top left", "top right"),
    (2, (64, 48), "row top, column right", "top right", "top left"),
    (3, (64, 48), "row bottom, column right", "bottom right", "bottom left"),
    (4, (64, 48), "row bottom, column left", "bottom left", "bottom right"),
    (5, (48, 64), "row left, column top", "top left", "bottom left"),
    (6, (48, 64), "row right, column top", "top right", "bottom right"),
    (7, (48, 64), "row right, column bottom", "bottom right", "top right"),
    (8, (48, 64), "row left, column bottom", "bottom left", "top left"),
]


def saved(path: Path, block: bytes) -> Path:
    Image.new("RGB", (64, 48)).save(path, exif=block)
    return path


def tags(block: bytes) -> dict[str, Any]:
    """What exifread makes of an EXIF block."""
    return exifread.process_file(BytesIO(block.removeprefix(b"Exif\0\0")))


def directory(start: int, fields: list[tuple[int, int, int, bytes]]) -> bytes:
    """An image file directory at byte `start`, big-endian, its longer values behind it.

    Twelve bytes a field: tag, type, count, and the value if it fits into four bytes, else where it
    stands ("IFD Structure").
    """
    behind = start + 2 + 12 * len(fields) + 4
    entries, values = struct.pack(">H", len(fields)), b""
    for tag, kind, count, value in fields:
        place = (
            value.ljust(4, b"\0") if len(value) <= 4 else struct.pack(">L", behind + len(values))
        )
        values += value if len(value) > 4 else b""
        entries += struct.pack(">HHL", tag, kind, count) + place
    return entries + bytes(4) + values


def rationals(*parts: tuple[int, int]) -> bytes:
    """Numerator and denominator, four bytes each."""
    return b"".join(struct.pack(">LL", *part) for part in parts)


def laid_out_by_hand(latitude: bytes, longitude: bytes) -> bytes:
    """A whole EXIF block: TIFF header, image directory, Exif directory, GPS directory."""
    photo = [(number, ASCII, count, text.encode() + b"\0") for _, number, count, text in TIMES]
    place = [
        (0x0001, ASCII, 2, b"S\0"),
        (0x0002, RATIONAL, 3, latitude),
        (0x0003, ASCII, 2, b"E\0"),
        (0x0004, RATIONAL, 3, longitude),
    ]
    first, second, third = 8, 200, 400
    image = [
        (0x0112, SHORT, 1, struct.pack(">H", 6)),
        (0x8769, LONG, 1, struct.pack(">L", second)),  # Exif IFD Pointer
        (0x8825, LONG, 1, struct.pack(">L", third)),  # GPS Info IFD Pointer
    ]
    header = b"MM\0*" + struct.pack(">L", first)
    block = (header + directory(first, image)).ljust(second, b"\0")
    block = (block + directory(second, photo)).ljust(third, b"\0")
    return b"Exif\0\0" + block + directory(third, place)


BY_HAND = laid_out_by_hand(
    rationals((37, 1), (39, 1), (101561, 10000)), rationals((143, 1), (55, 1), (353839, 10000))
)


@pytest.mark.parametrize(("name", "number", "count", "value"), TIMES)
def test_pillow_writes_and_exifread_names_the_times(
    name: str, number: int, count: int, value: str
) -> None:
    block = Image.Exif()
    block[0x8769] = {number: value}
    found = tags(block.tobytes())[f"EXIF {name}"]
    assert (found.tag, found.values) == (number, value)
    assert (int(found.field_type), found.field_length) == (ASCII, count)


@pytest.mark.parametrize(("name", "number", "value"), PLACE_TEXTS)
def test_pillow_writes_and_exifread_names_the_references(
    name: str, number: int, value: str
) -> None:
    block = Image.Exif()
    block[0x8825] = {number: value}
    found = tags(block.tobytes())[f"GPS {name}"]
    assert (found.tag, found.values, int(found.field_type)) == (number, value, ASCII)


@pytest.mark.parametrize(("name", "number", "value"), PLACE_NUMBERS)
def test_pillow_writes_and_exifread_names_three_rationals_of_eight_bytes(
    name: str, number: int, value: tuple[float, float, float]
) -> None:
    block = Image.Exif()
    block[0x8825] = {number: value}
    found = tags(block.tobytes())[f"GPS {name}"]
    assert (found.tag, tuple(found.values)) == (number, value)
    assert (int(found.field_type), found.field_length) == (RATIONAL, 3 * 8)


def test_what_pillow_writes_we_read(tmp_path: Path) -> None:
    block = Image.Exif()
    block[0x8769] = {number: value for _, number, _, value in TIMES}
    block[0x8825] = {number: value for _, number, value in PLACE_TEXTS + PLACE_NUMBERS}
    block[0x8825][0x0006] = 12.5  # GPSAltitude
    photo = read(saved(tmp_path / "eave.jpg", block.tobytes()), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, 250_000, tzinfo=UTC)
    assert photo.position == Position(38.62, -70.41, 12.5)


def test_what_is_laid_out_by_hand_pillow_reads() -> None:
    block = Image.Exif()
    block.load(BY_HAND)
    photo, place = block.get_ifd(0x8769), block.get_ifd(0x8825)
    assert block[0x0112] == 6
    assert {number: photo[number] for _, number, _, _ in TIMES} == {
        number: value for _, number, _, value in TIMES
    }
    assert place == {1: "S", 2: (37.0, 39.0, 10.1561), 3: "E", 4: (143.0, 55.0, 35.3839)}


def test_what_is_laid_out_by_hand_we_read(tmp_path: Path) -> None:
    # Buninyong, one end of Vincenty's test line: -37 39 10.15610, 143 55 35.38390 (Geoscience
    # Australia, from memory); in degrees -37.65282114, 143.92649553 by plain arithmetic.
    photo = read(saved(tmp_path / "eave.jpg", BY_HAND), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, 250_000, tzinfo=UTC)
    assert photo.taken.source == "EXIF with offset"
    assert photo.position is not None
    assert photo.position.latitude == pytest.approx(-37.65282114, abs=5e-9)
    assert photo.position.longitude == pytest.approx(143.92649553, abs=5e-9)
    assert (photo.width, photo.height) == (48, 64)


@pytest.mark.parametrize(
    "parts",
    [
        # GPSLatitude: "dd/1,mm/1,ss/1", or with fractions of minutes "dd/1,mmmm/100,0/1".
        ((38, 1), (37, 1), (12, 1)),
        ((38, 1), (3720, 100), (0, 1)),
    ],
)
def test_both_forms_of_a_latitude_are_the_same_place(
    tmp_path: Path, parts: tuple[tuple[int, int], ...]
) -> None:
    block = laid_out_by_hand(rationals(*parts), rationals((70, 1), (24, 1), (36, 1)))
    photo = read(saved(tmp_path / "eave.jpg", block), ZONE)
    assert photo.position == Position(-38.62, 70.41)


@pytest.mark.parametrize(("number", "size", "_meaning", "first", "last"), ORIENTATIONS)
@pytest.mark.parametrize("suffix", [".jpg", ".png", ".tiff"])
def test_the_picture_is_seen_the_way_its_orientation_says(
    tmp_path: Path,
    suffix: str,
    number: int,
    size: tuple[int, int],
    _meaning: str,
    first: str,
    last: str,
) -> None:
    stored = Image.new("RGB", (64, 48))
    stored.paste("red", (0, 0, 24, 16))  # where the 0th row begins
    stored.paste("lime", (40, 0, 64, 16))  # where it ends
    block = Image.Exif()
    block[0x0112] = number
    stored.save(tmp_path / f"turned{suffix}", exif=block)
    photo = read(tmp_path / f"turned{suffix}", ZONE)
    seen = thumbnail(tmp_path / f"turned{suffix}", (64, 64))
    assert (photo.width, photo.height) == seen.size == size
    assert brightest(seen, band=0) == first
    assert brightest(seen, band=1) == last


def brightest(picture: Image.Image, band: int) -> str:
    """In which corner a colour is brightest."""
    right, bottom = picture.width - 4, picture.height - 4
    corners = {
        "top left": (4, 4, 5, 5),
        "top right": (right, 4, right + 1, 5),
        "bottom left": (4, bottom, 5, bottom + 1),
        "bottom right": (right, bottom, right + 1, bottom + 1),
    }
    colour = picture.getchannel(band)
    return max(corners, key=lambda corner: colour.crop(corners[corner]).tobytes())
