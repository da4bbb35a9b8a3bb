"""Photos made small, and their originals for a program outside."""

from __future__ import annotations

import atexit
import shutil
from contextlib import suppress
from pathlib import Path
from secrets import token_hex
from typing import TYPE_CHECKING

from joblog.book.media import for_its_owner, incoming_of
from joblog.model import Photo
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case

if TYPE_CHECKING:
    from PIL.Image import Image


def small(original: Path, size: tuple[int, int]) -> Image:
    """A photo turned the right way up and made to fit into `size`, width and height in pixels.

    Any thread may ask. Raises `ServiceError`, which says why it cannot be drawn and what to do.
    """
    from joblog.book.looking import NotDrawnError, drawn

    if not original.exists():
        raise ServiceError(f"this photo is {GONE}")
    try:
        return drawn(original, size)
    except NotDrawnError as error:
        raise ServiceError(f"this photo {error.why}") from None


GONE = "gone from the book's folder; joblog check says what is missing"


@use_case
def copy_to_show(desk: Desk, photo: Photo) -> Path:
    """A copy of the original, byte for byte, for a program that might write on what it shows.

    It goes when this process ends; should that fail, when the book next takes something in. Raises
    `ServiceError` where the original is gone or there is no room.
    """
    original = desk.book.media(photo.sha256)
    try:
        copy = incoming_of(desk.book.store) / f"{token_hex(4)}{original.suffix}"
        with original.open("rb") as reading, open(copy, "xb", opener=for_its_owner) as writing:
            shutil.copyfileobj(reading, writing)
    except FileNotFoundError:
        raise ServiceError(f"{photo.name}: this photo is {GONE}") from None
    except OSError as error:
        raise ServiceError(f"{photo.name}: it cannot be copied ({error.strerror})") from None
    atexit.register(_gone, copy)
    return copy


def _gone(copy: Path) -> None:
    with suppress(OSError):  # a viewer on Windows may still hold it
        copy.unlink(missing_ok=True)
