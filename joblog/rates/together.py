"""How much the items of one job, and its tasks, turn out alike: a slow job is slow in all of it."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence

from joblog.model import PastUse, PastWork
from joblog.rates.learned import Learned

USUAL = 0.5
"""The correlation within a job that is believed of anybody; a rule of thumb, not a measurement."""
JOBS = 5.0
"""As many jobs of one's own weigh as much as that."""
FEW = 2.0
"""As many lines of an item weigh as much as how far all of them are off."""
FAR = 2.5
"""Standard deviations; what lies farther off counts as so far, so that no accident decides."""


def together(learned: Learned) -> tuple[float, float]:
    """The correlation within a job, of its items and of its tasks: 0 each for itself, 1 all alike.

    By the mean product of what two lines of one job were off by, as for an intraclass correlation
    (any text on analysis of variance), drawn towards the usual one while there are few jobs.
    """
    waste = [
        (line.job, line.item, _off(1 + value, 1 + usual))
        for group in learned.waste.values()
        for line, value, usual in zip(group.jobs, group.value, group.usual, strict=True)
        if isinstance(line, PastUse)
    ]
    hours = [
        (line.job, line.task, _off(value, usual))
        for line, value, usual in zip(
            learned.hours.jobs, learned.hours.value, learned.hours.usual, strict=True
        )
        if isinstance(line, PastWork)
    ]
    return correlation(waste), correlation(hours)


def correlation(lines: Iterable[tuple[str, str, float]]) -> float:
    """Of lines (job, item or task, what it was off by), 0 to 0.95.

    Each is measured by how far its item or task is usually off, so that one which is always far
    off does not outweigh the others.
    """
    told = list(lines)
    sizes = _sizes(told)
    by_job: dict[str, list[float]] = defaultdict(list)
    for job, name, off in told:
        if sizes[name]:
            by_job[job].append(max(-FAR, min(FAR, off / sizes[name])))
    products = [_mean_product(offs) for offs in by_job.values() if len(offs) > 1]
    jobs = max(0, len(products) - 1)
    own = sum(products) / len(products) if products else 0.0
    return min(0.95, max(0.0, (JOBS * USUAL + jobs * own) / (JOBS + jobs)))


def _sizes(lines: Sequence[tuple[str, str, float]]) -> dict[str, float]:
    """The root mean square of each, drawn towards that of all while there are few lines of it."""
    if not lines:
        return {}
    of_all = sum(off * off for _, _, off in lines) / len(lines)
    by_name: dict[str, list[float]] = defaultdict(list)
    for _, name, off in lines:
        by_name[name].append(off * off)
    return {
        name: math.sqrt((sum(squares) + FEW * of_all) / (len(squares) + FEW))
        for name, squares in by_name.items()
    }


def _off(value: float, usual: float) -> float:
    return math.log(max(float(value), 1e-6) / max(float(usual), 1e-6))


def _mean_product(offs: list[float]) -> float:
    """Of all pairs: half of what the square of the sum has beyond the squares."""
    pairs = len(offs) * (len(offs) - 1) / 2
    return (sum(offs) ** 2 - sum(off * off for off in offs)) / 2 / pairs
