"""How one job's rate scatters about its item's: a Student t with 4 degrees on a shifted log scale.

A job with base b (what it needs whatever happens) shows the rate r = (consumed - base) / base.
With the item's rate w, log(r + c) is t-distributed with 4 degrees of freedom around
log(w + c) - s^2 / 2 with scale s, where s^2 = log(1 + v / (w + c)^2) and
v = lump * w / b + (spread * w)^2 + (c / 2)^2.

The three terms of v: pieces spoil one by one, so a small job scatters more (`lump`, in units;
this is where job size is the exposure); a good or bad job multiplies the whole rate (`spread`);
and counts are only good to `c`, the slack, which also lets consumed come out a little below the
base. Moments of the log-normal: any text on probability. Four degrees make an odd job count for
less instead of pulling the rate along (Lange, Little and Taylor, "Robust statistical modeling
using the t distribution", 1989, from memory).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

DEGREES = 4


def location_and_scale(
    rate: Floats, base: Floats, slack: Floats, lump: Floats, spread: Floats
) -> tuple[Floats, Floats]:
    """Middle and scale of log(r + slack); the arrays broadcast."""
    shifted = rate + slack
    variance = lump * rate / base + (spread * rate) ** 2 + (slack / 2) ** 2
    squared = np.log1p(variance / shifted**2)
    return np.log(shifted) - squared / 2, np.sqrt(squared)


def log_density(
    seen: Floats, rate: Floats, base: Floats, slack: Floats, lump: Floats, spread: Floats
) -> Floats:
    """Of `seen`, which is log(r + slack), but for a constant: line, rate, scatter.

    `seen`, `base` and `slack` have one value a line, `rate` a row a line, and `lump` and `spread`
    go together. The same as `location_and_scale` says, in as few passes as there can be.
    """
    shifted = rate + slack[:, None]
    parts = (
        rate / base[:, None] / shifted**2,
        (rate / shifted) ** 2,
        (slack[:, None] / 2 / shifted) ** 2,
    )
    squared = np.stack(parts, axis=-1) @ np.stack((lump, spread**2, np.ones_like(lump)))
    np.log1p(squared, out=squared)
    off = squared / 2
    off += (seen[:, None] - np.log(shifted))[:, :, None]
    np.square(off, out=off)
    off /= squared
    off /= DEGREES
    np.log1p(off, out=off)
    off *= DEGREES + 1
    off += np.log(squared, out=squared)
    off /= -2
    return off


def below(standardized: Floats) -> Floats:
    """The chance of a smaller value: the distribution function of the t with 4 degrees.

    In closed form (any table of Student's distribution; checked against scipy).
    """
    squared = standardized**2
    squared /= DEGREES
    squared += 1
    root = standardized / np.sqrt(squared, out=squared)
    np.square(root, out=squared)
    squared *= -1 / 12
    squared += 1
    root *= squared
    root *= 0.375
    root += 0.5
    return root


def trust(standardized: Floats) -> Floats:
    """0 to 1: what a value counts for beside one that lies in the middle."""
    return np.asarray(DEGREES / (DEGREES + standardized**2))


def slack_of(base: Floats) -> Floats:
    """How far a count may be off, as a share of the base.

    A quarter of a unit, no more than 3 % of a small job, and 1 % for the measuring (common
    practice).
    """
    return np.asarray(0.01 + np.minimum(0.25 / base, 0.03))
