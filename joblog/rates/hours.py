"""Hours: every task for itself, but all scatter alike. The model is told in `learn`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from fractions import Fraction

import numpy as np

from joblog.model import PastWork
from joblog.rates.drift import level_of
from joblog.rates.fit import Family, Scatter, fit, likely, narrowed
from joblog.rates.group import (
    CONDITION_ERROR,
    Draft,
    conditions_of,
    group_of,
    lines_of,
)
from joblog.rates.learned import PRACTICE, Condition, Drift, Group, key_of
from joblog.rates.spread import Floats

USUAL_HOURS, HOURS_ERROR = 0.2, 2.5
"""Practically flat: anything from a minute to a week for one unit."""
ESTIMATE_ERRORS = np.array([0.15, 0.25, 0.4, 0.65, 1.0])
ESTIMATE_ERROR, ESTIMATE_SURE = 0.35, 0.6
"""How far the plan's hours lie off: log-normal about the usual, with this log scale."""
PRACTICE_ERROR, PRACTICED = 0.1, 8
"""The second: jobs of one task before practice takes part."""
SCATTER = Scatter(
    spread=0.25, lumps=(0.05, 0.2, 0.8), degrees=(4, 20), set_ups=(0.0, 0.25, 0.5, 1.0, 2.0)
)


def learn_hours(
    work: Sequence[PastWork],
    weigh: Callable[[date], float],
    estimate: Mapping[str, Fraction],
    drift: Drift | None = None,
) -> Group:
    """One group that holds every task.

    Raises ValueError for a line whose quantity or hours are not above zero.
    """
    work = sorted(work, key=lambda line: (key_of(line.task), line.day))
    quantity = np.array([float(line.quantity) for line in work])
    hours = np.array([float(line.crew_hours) for line in work])
    if not ((quantity > 0).all() and (hours > 0).all()):
        raise ValueError("hours and quantities of work must be above zero")
    conditions, columns, idle = conditions_of(work)
    practice = _practice(work)
    if practice is not None:
        conditions, columns = (*conditions, practice[0]), [*columns, practice[1]]
    lines = lines_of(
        [line.task for line in work],
        quantity,
        hours / quantity,
        np.zeros(len(work)),
        np.array([weigh(line.day) for line in work]),
        np.column_stack(columns) if columns else np.zeros((len(work), 0)),
        np.zeros(len(columns)),
        np.array(
            [PRACTICE_ERROR if one.name == PRACTICE else CONDITION_ERROR for one in conditions]
        ),
        np.array([level_of(drift, line) for line in work]),
        [line.job for line in work],
    )
    planned = {key_of(task): float(rate) for task, rate in estimate.items()}
    names = [key_of(name) for name in lines.names]
    is_planned = np.array([name in planned for name in names], dtype=bool)
    alone = np.log([planned.get(name, USUAL_HOURS) for name in names])
    errors = np.where(is_planned[:, None], ESTIMATE_ERRORS, HOURS_ERROR)
    fitted = fit(lines, alone, np.where(is_planned, ESTIMATE_ERROR, HOURS_ERROR), SCATTER)
    if not fitted.whole:
        best = fitted.likelihood.max(axis=1).sum(axis=0) + fitted.scatter_before
        fitted = narrowed(fitted, lines, likely(best))
    before = -0.5 * (np.log(ESTIMATE_ERRORS / ESTIMATE_ERROR) / ESTIMATE_SURE) ** 2
    one = np.zeros(1)
    family = Family(one, one, ESTIMATE_ERRORS, before, alone, errors)
    return group_of(
        "hours", None, Draft(work, conditions, lines, fitted, family, idle, drift=drift)
    )


def _practice(work: Sequence[PastWork]) -> tuple[Condition, Floats] | None:
    before = np.zeros(len(work))
    for at in range(1, len(work)):
        if key_of(work[at].task) == key_of(work[at - 1].task):
            before[at] = before[at - 1] + 1
    if before.max(initial=0) < PRACTICED - 1:
        return None
    logarithm = np.log(before + 1)
    return Condition(PRACTICE, float(logarithm.mean())), logarithm - logarithm.mean()
