"""Weights of a logistic regression, from those that were fitted before and from decisions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]

LEVEL, SIGN = 50.0, 200.0
"""How many decisions like his the fitted weights are worth: for how well he is heard over all, and
for what each sign tells. The first differs much from one voice to the next and two dozen decisions
tell it; the others were fitted on many voices, are as many as his wrong entries, and must not be
bent by a handful of them (ten wrong ones for each weight is the usual least, Peduzzi et al. 1996).
"""
LEAST = 1e-3
"""Precision in directions that none of his decisions shows; they stay as they were fitted."""


@dataclass(frozen=True, slots=True)
class Posterior:
    """What is known of the weights: a normal distribution."""

    mean: tuple[float, ...]
    covariance: Numbers


def posterior(
    prior: Sequence[float],
    signs: Numbers,
    right: Numbers,
    off: Numbers | None = None,
    *,
    precision: Numbers | None = None,
) -> Posterior:
    """The weights after decisions (n), `signs` (n, k), `right` 0 or 1 (n).

    A normal prior around the fitted weights and Laplace's approximation: the mode found by Newton's
    method, the inverse of the curvature there as covariance (Bishop 2006, 4.5.1). The precision of
    the prior is that of so many decisions like these, `LEVEL` and `SIGN` (the g-prior of Zellner
    1986, for generalized linear models Held et al. 2015), so that it does not matter in which units
    a sign is. `off` is taken off each decision's log-odds and is not learned here.
    """
    mean = np.asarray(prior, np.float64)
    signs = np.asarray(signs, np.float64).reshape(-1, len(mean))
    right = np.asarray(right, np.float64)
    offset = np.zeros(len(right)) if off is None else np.asarray(off, np.float64)
    precision = _precision(mean, signs, offset) if precision is None else precision

    def worth(weights: Numbers) -> float:
        total = signs @ weights - offset
        away = weights - mean
        return float(right @ total - np.logaddexp(0, total).sum() - away @ precision @ away / 2)

    weights, best = mean, worth(mean)
    for _ in range(100):
        sure = _logistic(signs @ weights - offset)
        slope = signs.T @ (right - sure) - precision @ (weights - mean)
        step = np.linalg.solve(_curve(signs, sure) + precision, slope)
        # The whole of Newton's step may lead too far where all was right so far.
        while (found := worth(weights + step)) < best and np.abs(step).max() > _STILL:
            step = step / 2
        weights, best = weights + step, max(found, best)
        if np.abs(step).max() <= _STILL:
            break
    curve = _curve(signs, _logistic(signs @ weights - offset)) + precision
    return Posterior(tuple(map(float, weights)), np.asarray(np.linalg.inv(curve), np.float64))


_STILL = 1e-9


def _precision(mean: Numbers, signs: Numbers, offset: Numbers) -> Numbers:
    still = LEAST * np.eye(len(mean))
    if not len(signs):
        return still
    sure = _logistic(signs @ mean - offset)
    each = _curve(signs, sure) / len(signs)
    # What moves all of them alike, in whichever signs that is.
    alike = signs.T @ (sure * (1 - sure)) / len(signs)
    level = np.outer(alike, alike) / (sure * (1 - sure)).mean()
    return np.asarray(SIGN * (each - level) + LEVEL * level + still)


def _curve(signs: Numbers, sure: Numbers) -> Numbers:
    return np.asarray((signs * (sure * (1 - sure))[:, None]).T @ signs)


def _logistic(total: Numbers) -> Numbers:
    return np.asarray(1 / (1 + np.exp(-np.clip(total, -700, 700))))
