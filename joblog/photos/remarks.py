"""What kind of picture a file holds, where a person should know."""

from __future__ import annotations

import re
from collections.abc import Iterator
from io import BufferedReader
from pathlib import Path

from PIL import Image

from joblog.photos.beside import Beside
from joblog.photos.exif import Tags

SCREENSHOT = re.compile(r"screen[-_ ]?(?:shot|capture)", re.IGNORECASE)

COMMENT = re.compile(rb"ASCII\0\0\0\s*screen ?shot", re.IGNORECASE)
"""A UserComment with its code (CIPA DC-008). exifread leaves it out, for it may be long."""

FILM = re.compile(rb"\0\0\0[\x08-\x40]ftyp(?:isom|iso\d|mp4\d|qt  )")
"""How an MP4 or QuickTime file begins: its first box, with one of the usual brands."""

BEGINNING = 16
"""Bytes of it that are looked at."""

BLOCK = 1 << 20
"""Bytes searched at a time."""

FILM_BOX = b"mpvd"
"""The box of a HEIC in which a film lies."""

MOST_BOXES = 100
"""Outermost ones; a HEIC has three or four."""


def remarks(
    path: Path, stream: BufferedReader, image: Image.Image, tags: Tags, beside: Beside
) -> tuple[str, ...]:
    """In words; nothing for an ordinary photo."""
    said = []
    if SCREENSHOT.search(path.stem) or COMMENT.search(image.info.get("exif") or beside.exif):
        said.append("a screenshot")
    elif not tags and not beside.xmp and image.format != "TIFF":
        said.append("without EXIF, as what was passed on or saved anew")
    if _holds_a_film(stream, image):
        said.append("a motion photo: the picture counts, its film is kept with it")
    return tuple(said)


def _holds_a_film(stream: BufferedReader, image: Image.Image) -> bool:
    if image.format == "HEIF":
        return FILM_BOX in _boxes(stream)
    return image.format in ("JPEG", "MPO") and _begins_somewhere(stream)


def _begins_somewhere(stream: BufferedReader) -> bool:
    at = 0
    while stream.seek(at) == at and (block := stream.read(BLOCK)):
        if b"ftyp" in block and FILM.search(block):
            return True
        at += BLOCK - BEGINNING  # one may lie across the border of two blocks
    return False


def _boxes(stream: BufferedReader) -> Iterator[bytes]:
    """The kinds of the outermost boxes (ISO 14496-12, section 4.2), as far as their sizes go."""
    at, end = 0, stream.seek(0, 2)
    for _ in range(MOST_BOXES):
        stream.seek(at)
        head = stream.read(16)
        size = int.from_bytes(head[8:16] if head[:4] == b"\0\0\0\1" else head[:4])
        yield head[4:8]
        at += size
        if size < 8 or at >= end:
            return
