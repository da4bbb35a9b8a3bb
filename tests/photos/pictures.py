"""Pictures made for the tests, with exactly the EXIF that a test asks for."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Any

import pillow_heif
from PIL import Image

pillow_heif.register_heif_opener()

ZONE = "America/New_York"

NORTH_WEST = {1: "N", 2: (38.0, 37.0, 12.0), 3: "W", 4: (70.0, 24.0, 36.0)}
"""38.62 north, 70.41 west: open sea."""

NOISE = Random(5).randbytes(64 * 48 * 3)
"""Pixels that no codec makes small."""

FORMATS = {".jpg": "JPEG", ".png": "PNG", ".tiff": "TIFF", ".heic": "HEIF", ".avif": "AVIF"}


def exif(
    *,
    taken: str | None = None,
    offset: str | None = None,
    fraction: str | None = None,
    gps: dict[int, Any] | None = None,
    more: dict[int, Any] | None = None,
    **image: Any,
) -> bytes:
    """An EXIF block. `image` may hold make, model, orientation and changed; `more` other tags."""
    numbers = {"make": 0x010F, "model": 0x0110, "orientation": 0x0112, "changed": 0x0132}
    block = Image.Exif()
    for name, value in image.items():
        block[numbers[name]] = value
    photo = {0x9003: taken, 0x9011: offset, 0x9291: fraction}
    block[0x8769] = {tag: value for tag, value in photo.items() if value is not None} | (more or {})
    block[0x8825] = gps or {}
    return block.tobytes()


def save(
    path: Path, block: bytes | None = None, image: Image.Image | None = None, **also: Any
) -> Path:
    """A small picture (64 wide, 48 high, or `image`) in the format that the path's name says."""
    kind = {".jpg": "JPEG", ".png": "PNG", ".tiff": "TIFF", ".heic": "HEIF", ".avif": "AVIF"}[
        path.suffix
    ]
    written: Any = block
    if block and kind == "TIFF":  # Pillow writes the inner blocks of a TIFF only from this form
        written = Image.Exif()
        written.load(block)
    options = also | ({"exif": written} if block else {})
    (image or Image.frombytes("RGB", (64, 48), NOISE)).save(path, kind, **options)
    return path


def say_size(path: Path, width: int, height: int) -> Path:
    """Make the header of a JPEG claim another size."""
    content = bytearray(path.read_bytes())
    frame = content.index(b"\xff\xc0")
    content[frame + 5 : frame + 9] = height.to_bytes(2) + width.to_bytes(2)
    path.write_bytes(content)
    return path
