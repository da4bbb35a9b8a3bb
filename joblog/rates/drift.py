"""Whether a person wastes more than before, or takes longer: how the level of all rates moved.

Each job tells by how much all its lines together lie off what was expected of them. These levels
are followed in the order of time by the local level model (a random walk seen through noise;
Durbin and Koopman, Time Series Analysis by State Space Methods, ch. 2, from memory), once with
nothing forgotten and once for each of some forgetting rates. The rate that would have foretold each
job best from the ones before it is taken; nothing is forgotten unless that foretells clearly worse.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import numpy as np

from joblog.rates.learned import Drift, Group, Past, key_of
from joblog.rates.spread import Floats

HALF_LIVES = (24.0, 12.0, 6.0, 3.0)
"""Jobs after which what was seen counts half."""
CLEARLY = 2.0
"""How much better (in logarithms) one of them must have foretold all jobs."""
FEWEST = 10
"""Jobs before anything is said."""
FAR = 2.5
"""Standard deviations that a job counts for at most, however far it lies off."""


def drift_of(groups: Sequence[Group]) -> Drift | None:
    """How the level moved; None where it stayed, or nobody can tell yet."""
    jobs = _levels(groups)
    if len(jobs) < FEWEST:
        return None
    seen, noise = (np.array(column) for column in zip(*jobs.values(), strict=True))
    steps = np.clip(np.diff(seen), *_far(np.diff(seen)))
    of_lines = (noise[1:] + noise[:-1]).mean()
    usual = max(float((steps**2).mean() - of_lines) / 2, 0.0)
    spread = np.clip(seen - np.median(seen), *_far(seen - np.median(seen)))
    whole = max(float((spread**2).mean() - noise.mean()), 0.0)
    stayed, _, _ = _followed(seen, noise + whole, 0.0)
    best = None
    for half_life in HALF_LIVES:
        gain = 1 - 0.5 ** (1 / half_life)
        # Of two jobs in a row both the noise and one step of the walk are in the difference.
        walk = gain**2 / (1 - gain)
        own = max(2 * usual + of_lines, 1e-9) / (2 + walk)
        of_jobs = noise + max(own - noise.mean(), 0.0)
        score, level, error = _followed(seen, of_jobs, walk * float(of_jobs.mean()))
        if best is None or score > best[0]:
            best = score, level, error, walk * float(of_jobs.mean())
    if best is None or best[0] - stayed < CLEARLY:
        return None
    _, level, error, step = best
    at = _parted(seen, noise + usual)
    before, after = (
        float(np.average(part, weights=1 / weight))
        for part, weight in (
            (seen[:at], noise[:at] + usual),
            (seen[at:], noise[at:] + usual),
        )
    )
    days = [day for day, _ in jobs]
    return Drift(
        dict(zip(jobs, (level - level[-1]).tolist(), strict=True)),
        error + step,
        days[at],
        float(np.exp(after - before)),
    )


def level_of(drift: Drift | None, line: Past) -> float:
    """How far (in logarithms) the level of a line's job lay from that of today."""
    return drift.levels.get((line.day, key_of(line.job)), 0.0) if drift else 0.0


def _levels(groups: Sequence[Group]) -> Mapping[tuple[date, str], tuple[float, float]]:
    """How far each job lies off in all its lines together, with its variance; in order of time."""
    sums: dict[tuple[date, str], list[float]] = {}
    for group in groups:
        trusted = 1 / group.error**2
        told = trusted * np.clip(group.off, -FAR * group.error, FAR * group.error)
        for line, one, weight in zip(group.jobs, told.tolist(), trusted.tolist(), strict=True):
            of_job = sums.setdefault((line.day, key_of(line.job)), [0.0, 0.0])
            of_job[0] += one
            of_job[1] += weight
    return {job: (told / total, 1 / total) for job, (told, total) in sorted(sums.items())}


def _far(values: Floats) -> tuple[float, float]:
    """The bounds of what lies far off, by the median of how far they lie."""
    usual = 1.4826 * float(np.median(np.abs(values))) + 1e-9
    return -FAR * usual, FAR * usual


def _followed(seen: Floats, noise: Floats, walk: float) -> tuple[float, Floats, float]:
    """How well each job was foretold (log density), the level of each job known all, and the
    variance of the last one. The Kalman filter and smoother; an odd job moves it less."""
    level, error, score = float(seen[0]), float(noise[0]), 0.0
    levels, errors = [level], [error]
    for value, variance in zip(seen[1:], noise[1:], strict=True):
        ahead = error + walk
        total = ahead + variance
        off = float(np.clip((value - level) / np.sqrt(total), -FAR, FAR))
        score += -0.5 * off**2 - 0.5 * float(np.log(total))
        level += ahead / total * off * np.sqrt(total)
        error = ahead * variance / total
        levels.append(level)
        errors.append(error)
    for at in range(len(levels) - 2, -1, -1):
        back = errors[at] / (errors[at] + walk)
        levels[at] += back * (levels[at + 1] - levels[at])
    return score, np.array(levels), error


def _parted(seen: Floats, noise: Floats) -> int:
    """Where the jobs fall best into two parts with a level each; three jobs at least in each."""

    def left(part: slice) -> float:
        weight = 1 / noise[part]
        middle = np.average(seen[part], weights=weight)
        return float(weight @ (seen[part] - middle) ** 2)

    places = range(3, len(seen) - 2)
    return min(places, key=lambda at: left(slice(0, at)) + left(slice(at, None)))
