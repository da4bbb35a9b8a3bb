"""One picture file, opened safely: its header is read, its pixels are not."""

from __future__ import annotations

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from io import BufferedReader
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import BinaryIO

import pillow_heif
from PIL import Image

LARGEST_MEGAPIXELS = 200
"""The largest sensors sold in telephones; decoded, it takes 800 MB of memory."""

LONGEST_SIDE = 65_535
"""Pixels; the most that a JPEG can have (ITU-T T.81). Longer ones come from damage, and decoders
take memory by the line."""
LARGEST_DRAWN = {"PNG": 90, "TIFF": 90, "HEIF": 50, "AVIF": 40}
"""Megapixels of a picture that must be decoded whole to be drawn. With its decoder each takes some
450 MB of memory then (measured with pictures of that size). A JPEG may have as many as it likes,
for it can be decoded at an eighth of its size, but a progressive one keeps all its coefficients."""

LARGEST_PROGRESSIVE = 60
"""Megapixels of a JPEG with more than one scan, progressive or not: 350 MB of coefficients."""

FORMATS = ("JPEG", "PNG", "TIFF", "HEIF", "AVIF")

BEGINNINGS = (b"\xff\xd8\xff", b"\x89PNG", b"II*\x00", b"MM\x00*")

AGAIN = "copy it again from the phone or camera"

pillow_heif.register_heif_opener()
Image.MAX_IMAGE_PIXELS = LARGEST_MEGAPIXELS * 1_000_000
# Pillow warns on the terminal; what matters to a person is in a Photo's trouble or a PhotoError.
warnings.filterwarnings("ignore", module=r"PIL\.")
logging.getLogger("PIL").setLevel(logging.CRITICAL)


class PhotoError(Exception):
    """A picture that cannot be taken in; `why` says what is wrong and what to do."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"{path}: {why}")
        self.path = path
        self.why = why


@contextmanager
def opened(path: Path) -> Iterator[tuple[BufferedReader, Image.Image]]:
    """The file, open for reading only, and the picture in it with nothing decoded yet.

    Raises PhotoError if the file cannot be read, holds no picture that we know, or holds one of
    more than LARGEST_MEGAPIXELS.
    """
    try:
        _must_be_a_file(path)
        with path.open("rb") as stream:
            yield stream, _picture(path, stream)
    except FileNotFoundError:
        raise PhotoError(path, "is not there; check the name") from None
    except PermissionError:
        raise PhotoError(path, "may not be read; allow yourself to read it") from None
    except OSError as error:
        reason = error.strerror or "the disk gave an error"
        raise PhotoError(path, f"cannot be read ({reason}); {AGAIN}") from None


def orientation(image: Image.Image) -> int:
    """How the stored rows and columns lie, 1 to 8 as in EXIF; 1 where it is absent or absurd.

    TIFF as loaded and HEIC as opened are upright already and say 1.
    """
    try:
        # Not image.getexif(): a PNG without EXIF would be decoded for it, and its damage hidden.
        said = Image.Image.getexif(image).get(0x0112, 1)
    except Exception:  # a damaged EXIF block makes Pillow raise almost anything
        return 1
    return said if isinstance(said, int) and 1 <= said <= 8 else 1


def size_as_seen(image: Image.Image) -> tuple[int, int]:
    """Width and height in pixels once the picture stands upright; ask before it is loaded."""
    # What a TIFF calls its size before it is loaded depends on the version of Pillow.
    tiff = getattr(image, "tag_v2", None)
    width, height = (tiff[256], tiff[257]) if tiff else image.size
    return (height, width) if orientation(image) >= 5 else (width, height)


def most_drawn(image: Image.Image) -> int:
    """Megapixels from which on a picture of that kind is not drawn."""
    if image.info.get("progressive") or _has_scans_apart(image):
        return LARGEST_PROGRESSIVE
    return LARGEST_DRAWN.get(image.format or "", LARGEST_MEGAPIXELS)


def scan_begins(stream: BinaryIO, image: Image.Image) -> int:
    """Byte at which what a JPEG's first scan is made of is told; 0 for what is no JPEG.

    Where its parts have no length that can be, the last byte that made sense.
    """
    if image.format not in ("JPEG", "MPO"):
        return 0
    stream.seek(2)
    while (mark := stream.read(4))[:1] == b"\xff" and mark[1:2] != b"\xda":
        length = int.from_bytes(mark[2:4])
        if length < 2:  # Where there is none, it leads back to where it was read.
            break
        stream.seek(length - 2, 1)
    return stream.tell()


def _has_scans_apart(image: Image.Image) -> bool:
    """Whether a JPEG's first scan has but some of its colours: then the decoder keeps them all."""
    stream: BinaryIO | None = getattr(image, "fp", None)
    if stream is None or image.format not in ("JPEG", "MPO"):
        return False
    here = stream.tell()
    stream.seek(scan_begins(stream, image))
    colours = stream.read(1)
    stream.seek(here)
    return bool(colours) and colours[0] < len(image.getbands())


def _must_be_a_file(path: Path) -> None:
    facts = path.stat()
    if S_ISDIR(facts.st_mode):
        raise PhotoError(path, "is a folder, not a picture")
    if not S_ISREG(facts.st_mode):
        raise PhotoError(path, "is no ordinary file; give the picture itself")
    if facts.st_size == 0:
        raise PhotoError(path, f"is empty; {AGAIN}")


def _picture(path: Path, stream: BufferedReader) -> Image.Image:
    beginning = stream.read(12)
    try:
        stream.seek(0)
        image = Image.open(stream, formats=FORMATS)
    except Image.DecompressionBombError:
        raise PhotoError(path, _too_large("far")) from None
    except Exception:  # codecs raise almost anything on damaged bytes
        raise PhotoError(path, _what_is_wrong(beginning)) from None
    width, height = image.size
    if width * height > LARGEST_MEGAPIXELS * 1_000_000:
        raise PhotoError(path, _too_large(f"with {width * height / 1_000_000:.0f} megapixels"))
    if max(width, height) > LONGEST_SIDE:
        raise PhotoError(path, f"is said to be {width} by {height} pixels; save it as another kind")
    return image


def _what_is_wrong(beginning: bytes) -> str:
    if beginning.startswith(BEGINNINGS) or beginning[4:8] == b"ftyp":
        return f"is damaged or cut off, or no photo; {AGAIN}"
    known = "JPEG, PNG, TIFF, HEIC or AVIF"
    return f"is not a {known} picture; if it shows in other programs, save it as JPEG"


def _too_large(how: str) -> str:
    return f"is {how} too large (over {LARGEST_MEGAPIXELS} megapixels); save a smaller copy"
