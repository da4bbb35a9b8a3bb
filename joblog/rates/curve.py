"""Wright's learning curve: each doubling of the units done takes the same share of the time."""

from __future__ import annotations

import math


def learning_curve(unit: float, share: float = 0.8) -> float:
    """Time of the `unit`-th unit as a share of the first one's; `share` for each doubling.

    Source: Wright, "Factors affecting the cost of airplanes" (1936), in its unit form. Raises
    ValueError for a unit before the first or a share that is not above zero.
    """
    if unit < 1 or share <= 0:
        raise ValueError("a learning curve starts at unit 1 and keeps a share above zero")
    return float(unit ** math.log2(share))
