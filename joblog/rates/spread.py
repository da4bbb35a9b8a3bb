"""How one job's rate scatters about its item's: a Student t on a shifted log scale.

A job with base b (what it needs whatever happens) shows the rate r = (consumed - base) / base.
With the item's rate w, log(r + c) is t-distributed around log(w + c) - s^2 / 2 with scale s, where
s^2 = log(1 + v / (w + c)^2) and v = lump * w / b + (spread * w)^2 + (c / 2)^2.

The three terms of v: pieces spoil one by one, so a small job scatters more (`lump`, in units;
this is where job size is the exposure); a good or bad job multiplies the whole rate (`spread`);
and counts are only good to `c`, the slack, which also lets consumed come out a little below the
base. Moments of the log-normal: any text on probability. With few degrees of freedom (4) an odd
job counts for less instead of pulling the rate along (Lange, Little and Taylor, "Robust statistical
modeling using the t distribution", 1989, from memory); with many the t is the normal.
"""

from __future__ import annotations

from math import lgamma, log, pi

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def location_and_scale(
    rate: Floats, base: Floats, slack: Floats, lump: Floats, spread: Floats
) -> tuple[Floats, Floats]:
    """Middle and scale of log(r + slack); the arrays broadcast."""
    shifted = rate + slack
    variance = lump * rate / base + (spread * rate) ** 2 + (slack / 2) ** 2
    squared = np.log1p(variance / shifted**2)
    return np.log(shifted) - squared / 2, np.sqrt(squared)


def log_density(
    seen: Floats,
    rate: Floats,
    base: Floats,
    slack: Floats,
    lump: Floats,
    spread: Floats,
    degrees: Floats,
) -> Floats:
    """Log density of `seen`, which is log(r + slack): line, rate, scatter.

    `seen`, `base` and `slack` have one value a line, `rate` a row a line; `lump`, `spread` and
    `degrees` go together. The same as `location_and_scale` says, in as few passes as there can be.
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
    off /= degrees
    np.log1p(off, out=off)
    off *= degrees + 1
    off += np.log(squared, out=squared)
    off /= -2
    off += np.array([_height(degree) for degree in degrees])
    return off


def _height(degrees: float) -> float:
    """Logarithm of the density of the t in its middle."""
    return lgamma((degrees + 1) / 2) - lgamma(degrees / 2) - log(degrees * pi) / 2


def below(standardized: Floats, degrees: int) -> Floats:
    """The chance of a smaller value: the distribution function of the t with even degrees.

    In closed form: a short sum of powers (any table of Student's distribution; checked against
    scipy).
    """
    squared = standardized**2
    squared += degrees
    root = standardized / np.sqrt(squared)
    np.divide(degrees, squared, out=squared)
    terms = np.ones_like(squared)
    for power in range(degrees // 2 - 1, 0, -1):
        terms *= squared
        terms *= (2 * power - 1) / (2 * power)
        terms += 1
    root *= terms
    root /= 2
    root += 0.5
    return root


def trust(standardized: Floats, degrees: Floats | float) -> Floats:
    """0 to 1: what a value counts for beside one that lies in the middle."""
    return np.asarray(degrees / (degrees + standardized**2))


def slack_of(base: Floats, step: Floats | float = 0.5) -> Floats:
    """How far a count may be off, as a share of the base.

    Half of the `step` that is counted in (halves of a piece unless it is known better), no more
    than 6 % of a small job, and 1 % for the measuring (common practice).
    """
    return np.asarray(0.01 + np.minimum(step / 2 / base, 0.06))
