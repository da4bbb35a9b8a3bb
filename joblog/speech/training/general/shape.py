"""The general model's shape: what is the same in all sizes, and what a state tells of its own."""

from __future__ import annotations

import re
from collections.abc import Iterable

HEADS = 8
ROTARY = 32
"""Of each head's numbers, those that turn with the place."""
BASE = 10000.0
"""The slowest of them turns so many times slower than the first, nearly."""
STRIDES = (64, 3, 2)
WIDTHS = (127, 7, 3)
"""Steps and widths of the three convolutions, in samples and in what came before."""


def layers(names: Iterable[str], side: str) -> int:
    """How many layers a state with these names has on a side, "encoder" or "decoder"."""
    found = (re.match(rf"model\.{side}\.layers\.(\d+)\.", name) for name in names)
    return 1 + max(int(one[1]) for one in found if one)


def frames(samples: int) -> int:
    """How many frames the encoder makes of so many samples."""
    for width, stride in zip(WIDTHS, STRIDES, strict=True):
        samples = (samples - width) // stride + 1
    return samples
