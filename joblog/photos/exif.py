"""The EXIF of a picture, as exifread's tags, whatever a camera or a broken disk wrote there."""

from __future__ import annotations

import logging
import math
import unicodedata
from collections.abc import Mapping
from fractions import Fraction
from io import BytesIO
from typing import Any, BinaryIO, cast

import exifread
from PIL import Image

Tags = Mapping[str, Any]
"""Named as exifread names them: "EXIF DateTimeOriginal", "GPS GPSLatitude"."""

MOST_READS = 20_000
"""A camera's EXIF takes a few hundred; one made to be slow would take millions."""

LONGEST_READ = 4096
"""Bytes. No text that we use is longer."""

LONGEST_SHOWN = 80
"""Characters of a camera's name or a quoted value."""

# exifread warns on the terminal of every tag it cannot make out.
logging.getLogger("exifread").setLevel(logging.CRITICAL)


def tags(stream: BinaryIO, image: Image.Image, spare: bytes = b"") -> tuple[Tags, str | None]:
    """The picture's tags without the maker's notes, and what is wrong with them if anything is.

    No EXIF at all is nothing wrong. `spare` is an EXIF block that was found elsewhere in the file.
    """
    block: bytes = image.info.get("exif") or spare
    if image.format != "TIFF" and not block:
        return {}, None
    source = stream if image.format == "TIFF" else BytesIO(block.removeprefix(b"Exif\0\0"))
    try:
        found = exifread.process_file(
            cast(BinaryIO, _Rationed(source)), details=False, extract_thumbnail=False
        )
    except Exception:  # exifread raises almost anything on damaged bytes
        found = {}
    return found, None if found else "its EXIF cannot be read"


def text(tags: Tags, name: str) -> str:
    """The tag as printable text on one line, "" if it is absent or no text."""
    said = getattr(tags.get(name), "values", "")
    if isinstance(said, bytes):
        said = said.decode("latin-1")
    return printable(said) if isinstance(said, str) else ""


def printable(said: str) -> str:
    """The text on one line, without control and formatting characters, cut to a readable length."""
    spaced = "".join(" " if unicodedata.category(sign)[0] in "CZ" else sign for sign in said)
    return " ".join(spaced.split())[:LONGEST_SHOWN]


def numbers(tags: Tags, name: str) -> tuple[Fraction | None, ...]:
    """The tag as exact numbers; None for each that is none, such as 0/0 or NaN."""
    said = getattr(tags.get(name), "values", ())
    return tuple(map(_number, said)) if isinstance(said, list) else ()


def _number(said: Any) -> Fraction | None:
    # A tag that exifread has no name for comes as tuples, of floats where it is stored as such.
    if isinstance(said, tuple) and len(said) == 1 and isinstance(said[0], float):
        return Fraction(said[0]) if math.isfinite(said[0]) else None
    if not isinstance(said, int | Fraction) or said.denominator == 0:
        return None
    return Fraction(said.numerator, said.denominator)


class _Rationed:
    """A stream that gives out no more than MOST_READS pieces of LONGEST_READ bytes."""

    def __init__(self, stream: BinaryIO) -> None:
        self.seek = stream.seek
        self.tell = stream.tell
        self._read = stream.read
        self._left = MOST_READS

    def read(self, size: int = LONGEST_READ) -> bytes:
        self._left -= 1
        if self._left < 0:
            raise EOFError
        return self._read(min(size, LONGEST_READ))
