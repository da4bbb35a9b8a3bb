"""A small picture to look at."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageOps

from joblog.photos.picture import AGAIN, PhotoError, opened, orientation


def thumbnail(path: Path, size: tuple[int, int]) -> Image.Image:
    """The picture the way a person sees it, in RGB, no wider and higher than `size` in pixels.

    It is never enlarged. Raises PhotoError if the picture cannot be decoded.
    """
    with opened(path) as (_, image):
        try:
            return _small(image, (max(1, size[0]), max(1, size[1])))
        except PhotoError:
            raise
        except Exception:  # codecs raise almost anything on damaged bytes
            raise PhotoError(path, f"is damaged or cut off; {AGAIN}") from None


def _small(image: Image.Image, size: tuple[int, int]) -> Image.Image:
    # A JPEG can be decoded at an eighth of its size, in a fraction of the time and memory.
    image.draft(None, (max(size), max(size)))
    image.load()
    turned = orientation(image)
    picture = image if image.mode in ("RGB", "RGBA", "L", "CMYK") else image.convert("RGBA")
    picture.thumbnail(size[::-1] if turned >= 5 else size)
    bare = _on_white(picture)
    bare.getexif()[0x0112] = turned
    return ImageOps.exif_transpose(bare)


def _on_white(picture: Image.Image) -> Image.Image:
    """The picture alone, without the EXIF that nothing good can come of any more."""
    white = Image.new("RGB", picture.size, "white")
    white.paste(picture, mask=picture if picture.mode == "RGBA" else None)
    return white
