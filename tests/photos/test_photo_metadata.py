"""What pictures tell of themselves as they are found in the wild."""

from __future__ import annotations

import struct
import zlib
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace

import pytest
from pictures import NORTH_WEST, ZONE, exif, save
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from joblog.model import Direction, Position
from joblog.photos import read
from joblog.photos.beside import Beside, beside
from joblog.photos.position import direction, position
from joblog.photos.taken import Taken, taken

DIGITIZED, OFFSET, OFFSET_DIGITIZED = 0x9004, 0x9010, 0x9012
FRACTION, FRACTION_DIGITIZED, COMMENT, MAKER_NOTE = 0x9290, 0x9292, 0x9286, 0x927C
"""CIPA DC-008 (Exif 2.32), tag numbers from memory; held against ExifTool in tests/outside."""

LATER = datetime(2030, 1, 1, tzinfo=UTC)


def packet(**said: str) -> bytes:
    """An XMP packet with simple properties as attributes; a name's "_" stands for its ":"."""
    words = " ".join(f'{name.replace("_", ":")}="{value}"' for name, value in said.items())
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description'
        ' xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:exif="http://ns.adobe.com/exif/1.0/"'
        f' xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/" {words}/>'
        '</rdf:RDF></x:xmpmeta><?xpacket end="w"?>'
    ).encode()


def read_from(name: str = "eave.jpg", beside: Beside | None = None, **tags: str) -> Taken:
    said = {key.replace("_", " "): SimpleNamespace(values=value) for key, value in tags.items()}
    return taken(Path(name), said, ZONE, beside, LATER)


# --- when -------------------------------------------------------------------------------------


def test_an_offset_of_the_digitizing_holds_for_the_same_moment_of_capture(tmp_path: Path) -> None:
    more = {DIGITIZED: "2026:10:05 09:05:21", OFFSET_DIGITIZED: "-05:00"}
    photo = read(save(tmp_path / "eave.jpg", exif(taken="2026:10:05 09:05:21", more=more)), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 14, 5, 21, tzinfo=UTC)
    assert photo.taken.source == "EXIF with offset"


def test_an_offset_of_a_later_change_says_nothing_of_the_capture(tmp_path: Path) -> None:
    block = exif(
        taken="2026:10:05 09:05:21", changed="2026:10:05 21:40:00", more={OFFSET: "+09:00"}
    )
    photo = read(save(tmp_path / "eave.jpg", block), ZONE)
    assert photo.taken.source == "EXIF in job zone"


def test_a_changed_copy_counts_when_it_was_taken_and_says_so(tmp_path: Path) -> None:
    block = exif(taken="2026:10:05 09:05:21", offset="-04:00", changed="2026:10:05 21:40:00")
    photo = read(save(tmp_path / "eave.jpg", block), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    [why] = photo.remarks
    assert why == "changed after it was taken, Oct 5, 2026, 9:40 PM; the first time counts"
    assert photo.trouble is None


def test_a_file_that_a_camera_finished_seconds_later_is_no_changed_copy(tmp_path: Path) -> None:
    block = exif(taken="2026:10:05 09:05:21", offset="-04:00", changed="2026:10:05 09:05:24")
    assert read(save(tmp_path / "eave.jpg", block), ZONE).remarks == ()


@pytest.mark.parametrize("blank", ["0000:00:00 00:00:00", "    :  :     :  :  ", ""])
def test_a_blank_capture_time_gives_way_to_the_digitizing(tmp_path: Path, blank: str) -> None:
    more = {DIGITIZED: "2026:10:05 09:05:21", FRACTION_DIGITIZED: "5"}
    photo = read(save(tmp_path / "eave.jpg", exif(taken=blank, more=more)), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, 500_000, tzinfo=UTC)
    assert photo.taken.source == "EXIF digitized in job zone"
    assert photo.trouble is None


def test_what_was_only_changed_says_when_unless_the_name_knows_better() -> None:
    changed = {"Image_DateTime": "2026:10:05 21:40:00"}
    assert read_from(**changed).moment.source == "EXIF last change in job zone"
    assert read_from("2026-10-05.jpg", **changed).moment.source == "EXIF last change in job zone"
    assert read_from("2026-10-04.jpg", **changed).moment.source == "day in file name"
    assert read_from("2026-10-04 09.05.21.jpg", **changed).moment.source == "file name"


def test_the_cameras_clock_and_the_satellites_are_both_kept(tmp_path: Path) -> None:
    gps = {7: (13.0, 5.0, 21.0), 29: "2026:10:05"}
    block = exif(taken="2026:10:05 08:18:00", fraction="250", gps=gps)
    photo = read(save(tmp_path / "eave.jpg", block), ZONE)
    assert photo.clock == datetime(2026, 10, 5, 8, 18, 0, 250_000)
    assert photo.satellites == photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)


def test_a_time_to_come_is_said_and_kept(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", exif(taken="2026:10:05 09:05:21", offset="-04:00"))
    now = datetime(2026, 10, 4, 12, tzinfo=UTC)
    photo = read(path, ZONE, now)
    assert photo.trouble == (
        "is dated Oct 5, 2026, 9:05 AM, which is still to come by this computer's clock; check that"
        " clock and the camera's"
    )
    assert read(path, ZONE, now + timedelta(days=2)).trouble is None


# --- XMP and PNG ------------------------------------------------------------------------------


@pytest.mark.parametrize("suffix", [".jpg", ".png", ".tiff", ".heic", ".avif"])
def test_every_format_gives_the_time_of_its_xmp(tmp_path: Path, suffix: str) -> None:
    said = packet(xmp_CreateDate="2026-10-05T09:05:21.25-05:00")
    options: dict[str, object] = {"xmp": said}
    if suffix == ".png":
        options = {"pnginfo": PngInfo()}
        options["pnginfo"].add_itxt("XML:com.adobe.xmp", said.decode())  # type: ignore[attr-defined]
    if suffix == ".tiff":
        options = {"tiffinfo": {700: said}}
    photo = read(save(tmp_path / f"eave{suffix}", **options), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 14, 5, 21, 250_000, tzinfo=UTC)
    assert photo.taken.source == "XMP with offset"


def test_xmp_as_elements_and_the_capture_before_the_creation() -> None:
    said = packet(xmp_CreateDate="2026-10-07T09:05:21").decode()
    inner = "<exif:DateTimeOriginal>2026-10-05T09:05:21</exif:DateTimeOriginal>"
    said = said.replace("/></rdf:RDF>", f">{inner}</rdf:Description></rdf:RDF>")
    from joblog.photos.beside import _xmp

    found = read_from(beside=Beside(_xmp(said.encode())))
    assert found.moment.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    assert found.moment.source == "XMP in job zone"


def test_the_zone_of_the_xmp_is_that_of_the_same_time_in_exif() -> None:
    beside = Beside({"photoshop:DateCreated": "2026-10-05T09:05:21-07:00"})
    found = read_from(beside=beside, EXIF_DateTimeOriginal="2026:10:05 09:05:21")
    assert found.moment.at == datetime(2026, 10, 5, 16, 5, 21, tzinfo=UTC)
    assert found.moment.source == "EXIF with offset"


@pytest.mark.parametrize(
    "said",
    [
        b'<!DOCTYPE x [<!ENTITY a "2026-10-05T09:05:21">]><x>&a;</x>',
        '<?xml version="1.0" encoding="utf-16"?><!DOCTYPE x []><x/>'.encode("utf-16"),
        b"<x><y></x>",
        b"<x" * 200_000,
        b"\xff\xfe\x00",
        packet(xmp_CreateDate="2026-10-05"),
        packet(xmp_CreateDate="2026-13-05T09:05:21"),
        packet(xmp_CreateDate="1904-01-01T00:00:00Z"),
    ],
)
def test_xmp_that_tells_nothing_is_passed_over(tmp_path: Path, said: bytes) -> None:
    photo = read(save(tmp_path / "eave.jpg", xmp=said[:60_000]), ZONE)
    assert photo.taken.source == "file time"
    assert photo.trouble is None


@pytest.mark.parametrize(
    ("keyword", "said", "hour"),
    [
        ("Creation Time", "Mon, 05 Oct 2026 09:05:21 -0500", 14),  # as in RFC 1123, in the
        # PNG specification's words
        ("Creation Time", "2026:10:05 09:05:21", 13),
        ("Creation Time", "2026-10-05T09:05:21+02:00", 7),
        ("date:create", "2026-10-05T13:05:21+00:00", 13),
    ],
)
def test_a_text_in_a_png_says_when(tmp_path: Path, keyword: str, said: str, hour: int) -> None:
    texts = PngInfo()
    texts.add_text(keyword, said, zip=keyword == "date:create")
    photo = read(save(tmp_path / "eave.png", pnginfo=texts), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, hour, 5, 21, tzinfo=UTC)
    assert photo.taken.source.startswith("PNG text")


def test_the_last_change_of_a_png_is_better_than_nothing(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.png")
    with_chunk(path, b"tIME", struct.pack(">HBBBBB", 2026, 10, 5, 13, 5, 21))
    photo = read(path, ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    assert photo.taken.source == "PNG last change"


def test_exif_behind_the_pixels_of_a_png_is_found(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.png")
    block = exif(taken="2026:10:05 09:05:21", offset="-04:00").removeprefix(b"Exif\0\0")
    with_chunk(path, b"eXIf", block)
    assert read(path, ZONE).taken.source == "EXIF with offset"


def test_exif_in_hexadecimal_in_a_png_is_found(tmp_path: Path) -> None:
    block = exif(taken="2026:10:05 09:05:21", offset="-04:00")
    texts = PngInfo()
    digits = "\n".join(block.hex()[at : at + 72] for at in range(0, 2 * len(block), 72))
    texts.add_text("Raw profile type exif", f"\nexif\n{len(block):8}\n{digits}\n", zip=True)
    photo = read(save(tmp_path / "eave.png", pnginfo=texts), ZONE)
    assert photo.taken.source == "EXIF with offset"


def test_a_text_of_a_png_that_swells_is_cut_off(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.png")
    with_chunk(path, b"zTXt", b"Creation Time\0\0" + zlib.compress(bytes(50_000_000)))
    assert read(path, ZONE).taken.source == "file time"


def test_of_many_texts_that_swell_only_the_first_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog.photos.beside.MOST_TEXT", 1000)
    path = save(tmp_path / "eave.png")
    for number in range(5):
        with_chunk(path, b"zTXt", b"%d\0\0" % number + zlib.compress(bytes(600)))
    with path.open("rb") as stream, Image.open(stream) as image:
        assert list(beside(stream, image).texts) == ["0", "1"]


def with_chunk(path: Path, kind: bytes, content: bytes) -> None:
    """Puts a chunk right before the end of a PNG."""
    whole = path.read_bytes()
    chunk = struct.pack(">I", len(content)) + kind + content
    chunk += struct.pack(">I", zlib.crc32(kind + content))
    path.write_bytes(whole[:-12] + chunk + whole[-12:])


# --- what kind of picture ---------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    ["Screenshot_20261005-090521.png", "Screen Shot 2026-10-05 at 9.05.21 AM.png"],
)
def test_a_screenshot_is_one_by_its_name_and_has_its_time(tmp_path: Path, name: str) -> None:
    photo = read(save(tmp_path / name), ZONE)
    assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
    assert photo.remarks == ("a screenshot",)


def test_a_screenshot_is_one_by_its_comment(tmp_path: Path) -> None:
    more = {COMMENT: b"ASCII\0\0\0Screenshot"}
    block = exif(taken="2026:10:05 09:05:21", offset="-04:00", more=more)
    assert read(save(tmp_path / "eave.jpg", block), ZONE).remarks == ("a screenshot",)


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("1791205521000.jpg", "file name"),
        ("IMG_1791205521000.jpg", "file name"),
        ("2026-10-05 at 9.05.21 am.jpg", "file name"),
        ("IMG-20261005-0003.jpg", "day in file name"),
        ("eave.jpg", "file time"),
    ],
)
def test_a_picture_that_was_passed_on_says_so(tmp_path: Path, name: str, source: str) -> None:
    photo = read(save(tmp_path / name), ZONE)
    assert photo.remarks == ("without EXIF, as what was passed on or saved anew",)
    assert photo.taken.source == source
    if source == "file name":
        assert photo.taken.at == datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)


def test_a_motion_photo_counts_as_its_picture(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg", exif(taken="2026:10:05 09:05:21", offset="-04:00"))
    still = path.stat().st_size
    path.write_bytes(path.read_bytes() + b"\0\0\0\x18ftypmp42\0\0\0\0isommp42" + bytes(100_000))
    photo = read(path, ZONE)
    assert photo.remarks == ("a motion photo: the picture counts, its film is kept with it",)
    assert (photo.width, photo.height, photo.trouble) == (64, 48, None)
    assert path.stat().st_size > still


def test_a_motion_photo_whose_picture_is_cut_into_says_so(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.jpg")
    picture = path.read_bytes()
    path.write_bytes(picture[: len(picture) // 2] + b"\0\0\0\x18ftypmp42" + bytes(100_000))
    assert "only a part of it may show" in (read(path, ZONE).trouble or "")


def test_a_heic_with_a_film_in_a_box_of_its_own_is_a_motion_photo(tmp_path: Path) -> None:
    path = save(tmp_path / "eave.heic", exif(taken="2026:10:05 09:05:21", offset="-04:00"))
    path.write_bytes(path.read_bytes() + struct.pack(">I", 108) + b"mpvd" + bytes(100))
    assert len(read(path, ZONE).remarks) == 1


@pytest.mark.parametrize("note", [b"\xff" * 4000, b"Invented\0II*\0\xff\xff\xff\x7f" * 20, b""])
def test_a_makers_note_of_nonsense_breaks_nothing(tmp_path: Path, note: bytes) -> None:
    more = {MAKER_NOTE: note}
    block = exif(taken="2026:10:05 09:05:21", offset="-04:00", make="Invented", more=more)
    photo = read(save(tmp_path / "eave.jpg", block), ZONE)
    assert photo.taken.source == "EXIF with offset"
    assert photo.trouble is None


# --- where ------------------------------------------------------------------------------------


@pytest.mark.parametrize("suffix", [".jpg", ".png", ".tiff", ".heic", ".avif"])
def test_every_format_gives_the_error_and_the_direction(tmp_path: Path, suffix: str) -> None:
    gps = NORTH_WEST | {0x1F: 7.5, 0x10: "M", 0x11: 123.25}
    photo = read(save(tmp_path / f"eave{suffix}", exif(gps=gps)), ZONE)
    assert photo.position == Position(38.62, -70.41, None, 7.5)
    assert photo.direction == Direction(123.25, "magnetic")


@pytest.mark.parametrize("error", [[0], [Fraction(10**6)], ["?"], [1, 2], "near"])
def test_an_absurd_error_is_no_error(error: object) -> None:
    said = {
        "GPS GPSLatitude": [38, 37, 12], "GPS GPSLatitudeRef": "N",
        "GPS GPSLongitude": [70, 24, 36], "GPS GPSLongitudeRef": "W",
        "GPS GPSHPositioningError": error,
    }  # fmt: skip
    tags = {name: SimpleNamespace(values=value) for name, value in said.items()}
    assert position(tags) == (Position(38.62, -70.41), None)


@pytest.mark.parametrize(
    ("degrees", "north", "expected"),
    [
        ([Fraction(0)], "T", Direction(0.0, "true")),
        ([Fraction(360)], "T", Direction(0.0, "true")),
        ([Fraction(35999, 100)], "", Direction(359.99, "true")),
        ([Fraction(361)], "T", None),
        ([None], "M", None),
        ([], "M", None),
    ],
)
def test_a_direction_is_a_part_of_a_circle(
    degrees: list[object], north: str, expected: Direction | None
) -> None:
    tags = {
        "GPS GPSImgDirection": SimpleNamespace(values=degrees),
        "GPS GPSImgDirectionRef": SimpleNamespace(values=north),
    }
    assert direction(tags) == expected


# --- orientation ------------------------------------------------------------------------------


def test_a_photo_looks_the_same_however_it_is_stored(tmp_path: Path) -> None:
    seen = Image.linear_gradient("L").resize((400, 300)).convert("RGB")
    seen.paste("red", (0, 0, 130, 100))
    upright = read(save(tmp_path / "1.png", exif(orientation=1), seen), ZONE)
    turned = seen.transpose(Image.Transpose.ROTATE_90)
    aside = read(save(tmp_path / "6.png", exif(orientation=6), turned), ZONE)
    assert upright.look is not None and aside.look is not None
    assert upright.look.likeness == aside.look.likeness
    assert upright.look.sharpness == pytest.approx(aside.look.sharpness, rel=0.01)
    assert (aside.width, aside.height) == (400, 300)
