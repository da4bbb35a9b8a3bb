"""How much the items of one job, and its tasks, turn out alike: a slow job is slow in all of it."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from joblog.rates import Learned

USUAL = 0.5
"""The correlation within a job that is believed of anybody; a rule of thumb, not a measurement."""
JOBS = 5.0
"""As many jobs of one's own weigh as much as that."""
FAR = 2.5
"""Standard deviations; what lies farther off counts as so far, so that no accident decides."""


def together(learned: Learned) -> tuple[float, float]:
    """The correlation within a job, of its items and of its tasks: 0 each for itself, 1 all alike.

    By the mean product of what two lines of one job were off by, as for an intraclass correlation
    (any text on analysis of variance), drawn towards the usual one while there are few jobs.
    """
    waste = [
        (line.job, _off(1 + value, 1 + usual))
        for group in learned.waste.values()
        for line, value, usual in zip(group.jobs, group.value, group.usual, strict=True)
    ]
    hours = [
        (line.job, _off(value, usual))
        for line, value, usual in zip(
            learned.hours.jobs, learned.hours.value, learned.hours.usual, strict=True
        )
    ]
    return correlation(waste), correlation(hours)


def correlation(lines: Iterable[tuple[str, float]]) -> float:
    """Of lines (job, what it was off by), 0 to 0.95."""
    by_job: dict[str, list[float]] = defaultdict(list)
    for job, off in lines:
        by_job[job].append(off)
    every = [off for of_job in by_job.values() for off in of_job]
    size = math.sqrt(sum(off * off for off in every) / len(every)) if every else 0.0
    if not size:
        return USUAL
    near = _within(FAR)
    products = [
        _mean_product([near(off / size) for off in of_job])
        for of_job in by_job.values()
        if len(of_job) > 1
    ]
    jobs = max(0, len(products) - 1)
    own = sum(products) / len(products) if products else 0.0
    return min(0.95, max(0.0, (JOBS * USUAL + jobs * own) / (JOBS + jobs)))


def _off(value: float, usual: float) -> float:
    return math.log(max(float(value), 1e-6) / max(float(usual), 1e-6))


def _within(most: float) -> Callable[[float], float]:
    return lambda off: max(-most, min(most, off))


def _mean_product(offs: list[float]) -> float:
    """Of all pairs: half of what the square of the sum has beyond the squares."""
    pairs = len(offs) * (len(offs) - 1) / 2
    return (sum(offs) ** 2 - sum(off * off for off in offs)) / 2 / pairs
