"""A picture file as a Photo."""

from __future__ import annotations

import hashlib
from datetime import datetime
from io import BufferedReader
from pathlib import Path

from PIL import Image

from joblog.model import Look, Photo
from joblog.photos.beside import beside
from joblog.photos.exif import Tags, tags, text
from joblog.photos.look import ACROSS, look
from joblog.photos.picture import AGAIN, opened, orientation, scan_begins, size_as_seen
from joblog.photos.position import direction, position
from joblog.photos.remarks import remarks
from joblog.photos.taken import taken
from joblog.photos.thumbnail import glance, thumbnail

GLANCE = (64, 64)

BLOCK = 65_536
"""Bytes searched at a time for the end of a picture."""

STRIPS_OR_TILES = ((273, 324), (279, 325))
"""Tags of a TIFF: where its strips or tiles begin, and how long they are."""

ENDS = {"JPEG": b"\xff\xd9", "MPO": b"\xff\xd9", "PNG": b"IEND\xaeB`\x82"}


def read(path: Path, zone: str, now: datetime | None = None) -> Photo:
    """What the picture at `path` is. It is decoded once, and small; the file is never changed.

    `zone` is the job's IANA zone, in which a time without a zone is read; `now` is by this
    computer's clock unless given. `trouble` says in plain words what was wrong with the picture or
    its EXIF, `remarks` what kind of picture it is. Raises PhotoError where nothing of the picture
    can be shown. (A changed bit in the middle of a JPEG mostly shows as wrong colours and breaks no
    rule of the format, so no decoder tells of it.)
    """
    with opened(path) as (stream, image):
        others = beside(stream, image)
        stream.seek(0)
        known, damage = tags(stream, image, others.exif)
        times = taken(path, known, zone, others, now)
        place, absurd = position(known)
        width, height = size_as_seen(image)
        turned = orientation(image)
        kinds = remarks(path, stream, image, known, others)
        wrong, seen = _what_is_wrong(path, stream, image)
        troubles = (wrong, damage, *times.doubts, absurd)
        stream.seek(0)
        return Photo(
            sha256=hashlib.file_digest(stream, "sha256").hexdigest(),
            name=path.name,
            taken=times.moment,
            width=width,
            height=height,
            position=place,
            orientation=turned,
            camera=_camera(known),
            trouble="; ".join(filter(None, troubles)) or None,
            clock=times.clock,
            satellites=times.satellites,
            direction=direction(known),
            look=seen,
            remarks=(*times.remarks, *kinds),
        )


def _camera(known: Tags) -> str | None:
    make, model = text(known, "Image Make"), text(known, "Image Model")
    return model if make and model.startswith(make) else f"{make} {model}".strip() or None


def _what_is_wrong(
    path: Path, stream: BufferedReader, image: Image.Image
) -> tuple[str | None, Look | None]:
    """What is wrong with the pixels, and what the picture looks like where nothing is."""
    cut_off = _ends_early(stream, image)
    stream.seek(0)
    whole, small = (False, None) if cut_off else glance(path, image, (ACROSS, ACROSS))
    if whole:
        return None, look(small) if small else None
    thumbnail(path, GLANCE)  # Raises where nothing is left to see.
    wrong = "ends early" if cut_off else "is damaged"
    return f"{wrong}, so only a part of it may show; {AGAIN}", None


def _ends_early(stream: BufferedReader, image: Image.Image) -> bool:
    """Whether the file stops before its picture does, told without decoding it.

    HEIC needs no look: its library refuses a file that is short.
    """
    length = stream.seek(0, 2)
    if image.format == "TIFF":
        return _last_strip_ends(image) > length
    mark = ENDS.get(image.format or "")
    return mark is not None and not _found_backwards(stream, mark, scan_begins(stream, image))


def _last_strip_ends(image: Image.Image) -> int:
    """Byte after the last strip or tile of a TIFF, as far as its tags make sense."""
    tiff = getattr(image, "tag_v2", {})
    offsets, counts = (tiff.get(strips) or tiff.get(tiles) for strips, tiles in STRIPS_OR_TILES)
    if not isinstance(offsets, tuple) or not isinstance(counts, tuple):
        return 0
    parts = zip(offsets, counts, strict=False)
    return max(
        (start + count for start, count in parts if type(start) is type(count) is int), default=0
    )


def _found_backwards(stream: BufferedReader, mark: bytes, begin: int) -> bool:
    """Whether `mark` stands anywhere from `begin` on; a whole picture has it near the end."""
    end = stream.seek(0, 2)
    while end > begin:
        start = max(begin, end - BLOCK)
        stream.seek(start)
        if mark in stream.read(end - start + len(mark) - 1):
            return True
        end = start
    return False
