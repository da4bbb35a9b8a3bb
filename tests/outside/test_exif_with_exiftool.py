"""The fields of EXIF 2.32 (CIPA DC-008) that we use: written by Pillow, read alike by ours and by
ExifTool, which was written by others from the same standard (Debian's libimage-exiftool-perl).

Tag numbers are the standard's, from memory; that ExifTool knows each by its name checks them.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

from joblog.model import Photo
from joblog.photos import read

EXIFTOOL = shutil.which("exiftool")

pytestmark = pytest.mark.skipif(
    EXIFTOOL is None, reason="ExifTool is not installed (Debian: libimage-exiftool-perl)"
)

ZONE = "America/New_York"

# name, number, as written, as ExifTool says it with -n
PHOTO_FIELDS: list[tuple[str, int, Any, Any]] = [
    ("DateTimeOriginal", 0x9003, "2026:10:05 09:05:21", "2026:10:05 09:05:21"),
    ("CreateDate", 0x9004, "2026:10:05 09:05:22", "2026:10:05 09:05:22"),  # DateTimeDigitized
    ("OffsetTime", 0x9010, "-03:00", "-03:00"),
    ("OffsetTimeOriginal", 0x9011, "-04:00", "-04:00"),
    ("OffsetTimeDigitized", 0x9012, "-05:00", "-05:00"),
    ("SubSecTime", 0x9290, "1", 1),
    ("SubSecTimeOriginal", 0x9291, "250", 250),
    ("SubSecTimeDigitized", 0x9292, "75", 75),
]
PLACE_FIELDS: list[tuple[str, int, Any, Any]] = [
    ("GPSLatitudeRef", 0x0001, "N", "N"),
    ("GPSLatitude", 0x0002, (38.0, 37.0, 12.5), 38 + 37 / 60 + 12.5 / 3600),
    ("GPSLongitudeRef", 0x0003, "W", "W"),
    ("GPSLongitude", 0x0004, (70.0, 24.0, 36.25), 70 + 24 / 60 + 36.25 / 3600),
    ("GPSAltitudeRef", 0x0005, b"\1", 1),
    ("GPSAltitude", 0x0006, 12.5, 12.5),
    ("GPSTimeStamp", 0x0007, (13.0, 5.0, 21.5), "13:05:21.5"),
    ("GPSImgDirectionRef", 0x0010, "M", "M"),
    ("GPSImgDirection", 0x0011, 359.5, 359.5),
    ("GPSDateStamp", 0x001D, "2026:10:05", "2026:10:05"),
    ("GPSHPositioningError", 0x001F, 7.25, 7.25),
]


def written(path: Path, photo: dict[int, Any], place: dict[int, Any], **image: Any) -> Path:
    block = Image.Exif()
    for number, value in image.items():
        block[int(number.removeprefix("tag_"), 16)] = value
    block[0x8769], block[0x8825] = photo, place
    Image.new("RGB", (64, 48)).save(path, exif=block.tobytes())
    return path


def by_exiftool(path: Path) -> dict[str, Any]:
    said = subprocess.run(
        [EXIFTOOL or "", "-json", "-n", "-EXIF:all", str(path)], capture_output=True, check=True
    )
    found: dict[str, Any] = json.loads(said.stdout)[0]
    return found


@pytest.fixture
def every_field(tmp_path: Path) -> Path:
    return written(
        tmp_path / "eave.jpg",
        {number: value for _, number, value, _ in PHOTO_FIELDS},
        {number: value for _, number, value, _ in PLACE_FIELDS},
        tag_0132="2026:10:05 21:40:00",
        tag_010f="Invented",
        tag_0112=6,
    )


def test_exiftool_knows_every_field_by_its_name(every_field: Path) -> None:
    said = by_exiftool(every_field)
    expected = {name: value for name, _, _, value in PHOTO_FIELDS + PLACE_FIELDS}
    found = {name: said.get(name) for name in expected}
    for name, value in expected.items():
        assert found[name] == (pytest.approx(value) if isinstance(value, float) else value), name


def test_we_and_exiftool_read_the_same(every_field: Path) -> None:
    said, photo = by_exiftool(every_field), read(every_field, ZONE)
    assert photo.position is not None and photo.direction is not None
    assert photo.position.latitude == pytest.approx(said["GPSLatitude"], abs=1e-9)
    assert -photo.position.longitude == pytest.approx(said["GPSLongitude"], abs=1e-9)
    assert -(photo.position.altitude or 0) == said["GPSAltitude"]
    assert photo.position.error == said["GPSHPositioningError"]
    assert (photo.direction.degrees, photo.direction.north) == (359.5, "magnetic")
    assert photo.satellites == datetime.fromisoformat(
        f"{said['GPSDateStamp'].replace(':', '-')}T{said['GPSTimeStamp']}00+00:00"
    )
    clock = datetime.strptime(said["DateTimeOriginal"], "%Y:%m:%d %H:%M:%S")
    assert photo.clock == clock + timedelta(milliseconds=said["SubSecTimeOriginal"])
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, 250_000, tzinfo=UTC)
    assert photo.orientation == said["Orientation"]
    assert photo.camera == said["Make"]
    [why] = photo.remarks
    assert why == "changed after it was taken, Oct 5, 2026, 9:40 PM; the first time counts"


EDGES = [
    # numerator and denominator of an unsigned rational, four bytes each
    (0, 1),
    (1, 2**32 - 1),
    (2**32 - 1, 2**32 - 1),
    (2**32 - 1, 1),
    (5, 3),
    (100, 1),
    (0, 0),
    (7, 0),
]


def rational(numerator: int, denominator: int) -> IFDRational:
    return IFDRational(numerator, denominator)


@pytest.mark.parametrize(("numerator", "denominator"), EDGES)
def test_rationals_at_their_edges_are_read_alike(
    tmp_path: Path, numerator: int, denominator: int
) -> None:
    photo: dict[int, Any] = {}
    place = {
        1: "N", 2: (38.0, 37.0, 12.0), 3: "W", 4: (70.0, 24.0, 36.0),
        0x1F: rational(numerator, denominator), 0x10: "T",
        0x11: rational(numerator, denominator),
    }  # fmt: skip
    path = written(tmp_path / "edge.jpg", photo, place)
    said, ours = by_exiftool(path), read(path, ZONE)
    error, degrees = said["GPSHPositioningError"], said["GPSImgDirection"]
    if denominator == 0:
        assert error in ("undef", "inf") and (error_of(ours), ours.direction) == (None, None)
        return
    exact = Fraction(numerator, denominator)
    assert error == pytest.approx(float(exact), rel=1e-6)
    assert degrees == pytest.approx(float(exact), rel=1e-6)
    assert error_of(ours) == (float(exact) if 0 < exact < 100_000 else None)
    if exact <= 360:
        assert ours.direction is not None
        assert ours.direction.degrees == float(exact)
    else:
        assert ours.direction is None


def error_of(photo: Photo) -> float | None:
    return photo.position.error if photo.position else None
