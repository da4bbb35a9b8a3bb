"""What a picture looks like, small: its likeness, how sharp it is, how light."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PIL import Image

from joblog.model import Look

if TYPE_CHECKING:
    import numpy as np

ACROSS = 256
"""Pixels of the longer side of the grey copy. A JPEG of 2,048 pixels and more is decoded for it at
an eighth of its size, which takes no longer than finding out whether it is whole."""


def look(picture: Image.Image) -> Look:
    """The look of a picture that stands upright; best no larger than a few times ACROSS."""
    # Only who takes photos in needs them.
    import imagehash
    import numpy as np

    grey = picture.convert("L")
    shrunk = ACROSS / max(grey.size)
    size = max(3, round(grey.width * shrunk)), max(3, round(grey.height * shrunk))
    light = np.asarray(grey.resize(size, Image.Resampling.BOX), np.float32)
    return Look(
        str(imagehash.phash(grey)),
        round(float(_laplacian(light).var()), 3),
        round(float(light.mean()) / 255, 4),
    )


def _laplacian(light: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """The five-point Laplacian, without the border."""
    beside = light[:-2, 1:-1] + light[2:, 1:-1] + light[1:-1, :-2] + light[1:-1, 2:]
    inner: np.ndarray[Any, Any] = beside - 4 * light[1:-1, 1:-1]
    return inner
