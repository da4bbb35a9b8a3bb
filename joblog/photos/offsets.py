"""What speaks for each offset of a clock, from the moments of photos and of spoken cues. Pure.

Everything is an array over OFFSETS: seconds to be added to what a camera wrote.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any, cast

import numpy as np

Floats = np.ndarray[Any, np.dtype[np.float64]]

REACH = 14 * 3600 + 300
"""Seconds. No two zones on earth lie further apart than a camera's zone and the right one may."""
OFFSETS = np.arange(-REACH, REACH + 1, dtype=np.float64)

EARLIEST, LATEST = -60, 180
"""Seconds from the word to the shutter that can still belong together."""
LASTS = LATEST - EARLIEST + 1
ROOM = LASTS
"""Beyond OFFSETS on both sides, so that what reaches in from there needs no cutting."""
PARTS = 10
"""Parts of a second to which a delay is told."""

HABITS = ((4.5, 0.38), (8.0, 0.5), (14.0, 0.08), (22.0, 0.04))
"""Seconds that a person's photos mostly follow the word by, and how many people do so."""

SPOKEN = 0.5
"""The share of photos that someone speaks of, and of cues that a camera answers."""
A_DAY = 36_000.0
"""Seconds in which unspoken photos lie anywhere."""


def evidence(moments: Floats, cues: Floats) -> Floats:
    """Log-likelihood of each of OFFSETS, above that of no photo having been spoken of.

    Every photo is a mixture of "for one of the cues" and "at any time"; so is every cue. Of the
    two sides the weaker counts: many photos around one cue, or many cues around one photo, prove
    no more than one pair does.
    """
    said, weights = cues[:, 0], cues[:, 1]
    apart = said[None, :] - moments[:, None]
    odds = SPOKEN / (1 - SPOKEN) * A_DAY
    share = odds * weights / weights.sum()
    by_photos = _mixture(apart, np.broadcast_to(share, apart.shape), np.ones(len(moments)))
    by_cues = _mixture(apart.T, np.full(apart.T.shape, odds / len(moments)), weights)
    # One person has one habit all day.
    chances = np.log([[chance] for _, chance in HABITS])
    return cast(Floats, np.logaddexp.reduce(chances + np.minimum(by_photos, by_cues), axis=0))


def _mixture(apart: Floats, odds: Floats, weights: Floats) -> Floats:
    """The weighed sum over the rows of log(1 + odds x density), over OFFSETS, for each habit.

    It is worked out only around the differences in `apart`; elsewhere it is 0.
    """
    tables = _tables()
    total = np.zeros((len(HABITS), OFFSETS.size + 2 * ROOM))
    row = np.zeros_like(total)
    for differences, factors, weight in zip(apart, odds, weights, strict=True):
        stretches: list[list[int]] = []
        for at in np.argsort(differences):
            whole, part = divmod(round(float(differences[at]) * PARTS), PARTS)
            begin = whole + EARLIEST + REACH + ROOM
            if not 0 <= begin <= total.shape[1] - LASTS:
                continue
            row[:, begin : begin + LASTS] += factors[at] * tables[part]
            if stretches and begin <= stretches[-1][1]:
                stretches[-1][1] = begin + LASTS
            else:
                stretches.append([begin, begin + LASTS])
        for begin, end in stretches:
            total[:, begin:end] += weight * np.log1p(row[:, begin:end])
            row[:, begin:end] = 0.0
    return total[:, ROOM:-ROOM]


@lru_cache(maxsize=1)
def _tables() -> list[Floats]:
    """The densities of the delays from EARLIEST to LATEST by habit, for each part of a second."""
    delays = np.arange(EARLIEST, LATEST + 1, dtype=np.float64)
    return [
        np.array([_delays(delays - part / PARTS, habit) for habit, _ in HABITS])
        for part in range(PARTS)
    ]


def delay_density(delay: Floats) -> Floats:
    """How likely the shutter follows the word by so many seconds, for each second."""
    return cast(Floats, sum(share * _delays(delay, habit) for habit, share in HABITS))


def _delays(delay: Floats, habit: float) -> Floats:
    """The same for one whose photos mostly come `habit` seconds after the word.

    Some come just before it, and some after climbing down and wiping a hand.
    """
    after, before = np.maximum(delay, 0.05), np.maximum(-delay, 0.05)
    density = 0.72 * _lognormal(after, habit, 0.45) * (delay > 0)
    density += 0.16 * _lognormal(before, 5.0, 0.6) * (delay < 0)
    density += 0.12 * np.exp(-np.abs(delay) / np.where(delay > 0, 40.0, 5.0)) / 45.0
    return cast(Floats, density)


def _lognormal(x: Floats, middle: float, spread: float) -> Floats:
    logs = np.log(x / middle) / spread
    return cast(Floats, np.exp(-0.5 * logs**2) / (x * spread * np.sqrt(2 * np.pi)))


@lru_cache(maxsize=1)
def prior() -> Floats:
    """How likely each of OFFSETS is before anything is known.

    Most clocks are right; some are off by whole or half hours, where the zone or daylight saving
    was never set; the others by anything, mostly little.
    """
    chance = np.full(OFFSETS.size, 0.01 / OFFSETS.size)
    chance += 0.55 * bell(0.0, 1.5)
    for half_hours in range(-27, 28):
        hours = half_hours / 2
        if hours:
            share = 0.05 if abs(hours) == 1 else 0.004 if half_hours % 2 == 0 else 0.001
            chance += share * bell(3600 * hours, 2.0)
    chance[np.abs(OFFSETS) <= 5700] += 0.15 / 11_401
    chance += 0.1 * np.exp(-np.abs(OFFSETS) / 200) / 400
    normed: Floats = chance / chance.sum()
    return normed


def bell(middle: float, width: float) -> Floats:
    """A normal distribution over OFFSETS, and a little of its tail everywhere near."""
    bell = np.exp(-0.5 * ((OFFSETS - middle) / width) ** 2)
    return bell / bell.sum() if bell.sum() else np.full(OFFSETS.size, 1 / OFFSETS.size)
