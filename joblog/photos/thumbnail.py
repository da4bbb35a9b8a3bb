"""A small picture to look at."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from PIL import Image, ImageFile, ImageOps

from joblog.photos.picture import (
    AGAIN,
    PhotoError,
    most_drawn,
    opened,
    orientation,
    size_as_seen,
)


def thumbnail(path: Path, size: tuple[int, int]) -> Image.Image:
    """The picture the way a person sees it, in RGB, no wider and higher than `size` in pixels.

    It is never enlarged, and of a damaged picture it is what can be decoded. Raises PhotoError if
    nothing can, and for one that is too large to be decoded whole where it must be.
    """
    room = max(1, size[0]), max(1, size[1])
    with opened(path) as (_, image):
        if _too_large(image):
            megapixels = image.width * image.height / 1_000_000
            why = f"with {megapixels:.0f} megapixels is too large to be drawn here"
            raise PhotoError(
                path, f"{why} (over {most_drawn(image)}); look at it in another program"
            )
        with suppress(Exception):  # codecs raise almost anything
            return _small(image, room)
    with opened(path) as (_, image), _however_little():
        try:
            return _small(image, room)
        except Exception:
            raise PhotoError(path, f"is damaged or cut off; {AGAIN}") from None


def glance(
    path: Path, image: Image.Image, size: tuple[int, int]
) -> tuple[bool, Image.Image | None]:
    """Whether every pixel of an opened picture can be decoded, and the picture at that size.

    What carries a checksum is held against it. One that is too large to be drawn is taken to be
    whole, and there is no small one of it. `image` is used up. Raises PhotoError for what cannot
    be opened.
    """
    large = _too_large(image)
    try:
        if image.format == "PNG":
            image.verify()  # Of every chunk; what comes after the pixels is not decoded.
            if not large:
                with opened(path) as (_, again):
                    return True, _small(again, size)
        elif not large:
            return True, _small(image, size)
    except PhotoError:
        raise
    except Exception:  # codecs raise almost anything
        return False, None
    return True, None


def _too_large(image: Image.Image) -> bool:
    """Whether it would take too much memory to decode it."""
    return image.width * image.height > most_drawn(image) * 1_000_000


@contextmanager
def _however_little() -> Iterator[None]:
    before = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = True
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


def _small(image: Image.Image, room: tuple[int, int]) -> Image.Image:
    size = _fitting(size_as_seen(image), room)
    # A JPEG can be decoded at an eighth of its size, in a fraction of the time and memory, and a
    # HEIC may hold a small copy of itself.
    image.draft(None, _as_stored(image, size))
    image.load()
    turned = orientation(image)
    bare = _on_white(_shrunk(image, _as_stored(image, size)))
    bare.getexif()[0x0112] = turned
    return ImageOps.exif_transpose(bare)


def _shrunk(image: Image.Image, size: tuple[int, int]) -> Image.Image:
    """The picture at this size, in RGB or RGBA; converted strip by strip, for its memory's sake."""
    mode = "RGB" if image.mode in ("RGB", "L", "CMYK", "YCbCr") else "RGBA"
    step = max(1, min(image.width // (2 * size[0]), image.height // (2 * size[1])))
    strips = range(0, image.height, step * max(1, STRIP // step))
    small = Image.new(mode, (-(-image.width // step), -(-image.height // step)))
    for top in strips:
        bottom = min(image.height, top + strips.step)
        strip = image.crop((0, top, image.width, bottom)).convert(mode)
        small.paste(strip.reduce(step), (0, top // step))
    return small.resize(size, reducing_gap=2.0)


STRIP = 256
"""Rows."""


def _fitting(picture: tuple[int, int], room: tuple[int, int]) -> tuple[int, int]:
    shrunk = min(1.0, room[0] / picture[0], room[1] / picture[1])
    return max(1, round(picture[0] * shrunk)), max(1, round(picture[1] * shrunk))


def _as_stored(image: Image.Image, size: tuple[int, int]) -> tuple[int, int]:
    return size[::-1] if orientation(image) >= 5 else size


def _on_white(picture: Image.Image) -> Image.Image:
    """The picture alone, without the EXIF that nothing good can come of any more."""
    white = Image.new("RGB", picture.size, "white")
    white.paste(picture, mask=picture if picture.mode == "RGBA" else None)
    return white
