"""The chance that so many packs of every item are enough, all of them at once.

The items of one job share its luck. Each item's chance is that of its own prediction, and they are
tied by a normal copula with one factor, which is the luck of the job (one-factor Gaussian copula:
Vasicek 1987, Li, "On default correlation", 2000, both from memory): given that luck m, an item that
is enough with chance F is so with chance N((N^-1(F) - sqrt(r) m) / sqrt(1 - r)), by itself. What is
left is one integral over m, which the trapezoid rule works out to the last digits, so that no
drawing scatters the chance. Bids draw from the very same distribution.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from joblog.rates.spread import Floats


@dataclass(frozen=True, slots=True)
class Coverage:
    """Of each item, the counts of packs that are worth a thought, and what they cover.

    Places in `levels` stand for packs from here on: one array a item, ascending.
    """

    levels: tuple[Floats, ...]
    """Packs; between two of them none more of the foreseen amounts is covered."""
    alone: tuple[Floats, ...]
    """The chance that they are enough of that item."""
    given: tuple[Floats, ...]
    """The same, a row for each level and a column for each luck of the job."""
    weights: Floats
    """How likely each luck is."""

    def chance(self, places: Sequence[int]) -> float:
        """That all of it is enough."""
        rows = [given[place] for given, place in zip(self.given, places, strict=True)]
        return float(self.weights @ np.prod(rows, axis=0))

    def along_each(
        self, others: Sequence[int], low: Sequence[int], high: Sequence[int]
    ) -> list[Floats]:
        """For each item, the chance at each of its levels from `low` to `high` (with it), when all
        the other items are at `others`."""
        rows = np.array([given[at] for given, at in zip(self.given, others, strict=True)])
        before = np.ones_like(rows)
        after = np.ones_like(rows)
        before[1:] = np.cumprod(rows[:-1], axis=0)
        after[:-1] = np.cumprod(rows[:0:-1], axis=0)[::-1]
        rest = before * after * self.weights
        return [
            given[a : b + 1] @ one
            for given, a, b, one in zip(self.given, low, high, rest, strict=True)
        ]


def coverage_of(wanted: Sequence[Floats], least: Sequence[int], alike: float) -> Coverage:
    """`wanted` are packs of each item, ascending, each count as likely as the next; no level is
    below `least`. `alike` is the correlation of the items of one job, 0 to 0.95."""
    levels, alone = [], []
    for packs, fewest in zip(wanted, least, strict=True):
        worth = np.unique(np.maximum(packs, fewest))
        level = worth if worth[0] <= fewest else np.concatenate(([float(fewest)], worth))
        levels.append(level)
        alone.append(np.searchsorted(packs, level, side="right") / packs.size)
    luck, weights = _lucks(alike)
    given = tuple(_given(chance, luck, alike) for chance in alone)
    return Coverage(tuple(levels), tuple(alone), given, weights)


def _given(chance: Floats, luck: Floats, alike: float) -> Floats:
    from scipy.special import ndtr, ndtri

    if not alike:
        return chance[:, None]
    return np.asarray(
        ndtr((ndtri(chance)[:, None] - sqrt(alike) * luck) / sqrt(1 - alike)), dtype=np.float64
    )


def _lucks(alike: float) -> tuple[Floats, Floats]:
    """Standard normal places and their weights, by the trapezoid rule from -6 to 6."""
    if not alike:
        return np.zeros(1), np.ones(1)
    places = np.linspace(-6, 6, 49)
    weights = np.exp(-(places**2) / 2)
    return places, weights / weights.sum()
