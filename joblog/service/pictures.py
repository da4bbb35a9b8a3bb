"""The photos of an entry, and their originals for a program outside."""

from __future__ import annotations

import atexit
import shutil
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path
from secrets import token_hex
from typing import TYPE_CHECKING

from joblog.book.media import INCOMING
from joblog.model import BookEntry, Photo
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case

if TYPE_CHECKING:
    from PIL.Image import Image


@use_case
def photos_tied(desk: Desk, entry: BookEntry) -> tuple[Photo, ...]:
    """The photos that belong to an entry, the best of its like and nearest in time first."""
    ties = sorted(desk.book.ties(desk.job.name), key=lambda tie: abs(tie.seconds))
    wanted = [tie.photo for tie in ties if tie.entry == entry.id]
    if not wanted:
        return ()
    there = {photo.sha256: photo for photo in desk.book.photos(desk.job.name)}
    tied = [there[one] for one in wanted if one in there]
    behind = {one for group in alike_among(desk, tied) for one in group[1:]}
    return tuple(sorted(tied, key=lambda photo: photo.sha256 in behind))


def alike_among(desk: Desk, photos: Collection[Photo]) -> tuple[tuple[str, ...], ...]:
    """Groups of those that show the same, as SHA-256, the best one first."""
    if len(photos) < 2:
        return ()
    # Else what knows pictures is not even loaded.
    from joblog.photos.alike import groups

    return groups(photos, desk.job.zone)


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
    folder = desk.book.store / INCOMING
    copy = folder / f"{token_hex(4)}{original.suffix}"
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
        shutil.copyfile(original, copy)
    except FileNotFoundError:
        raise ServiceError(f"{photo.name}: this photo is {GONE}") from None
    except OSError as error:
        raise ServiceError(f"{photo.name}: it cannot be copied ({error.strerror})") from None
    atexit.register(_gone, copy)
    return copy


def _gone(copy: Path) -> None:
    with suppress(OSError):  # a viewer on Windows may still hold it
        copy.unlink(missing_ok=True)
