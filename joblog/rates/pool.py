"""Partial pooling, integrated on a grid: each item gets its own rate, and learns from the others.

The hierarchical model, whatever the likelihood: item i has a parameter theta_i; given the family
(h: its mean and how far its items differ) the parameters are independent draws; given theta_i
and what all lines share (k: how jobs scatter) the lines of an item are independent. Everything
is summed over grids, so nothing is a point estimate: Gelman and others, Bayesian Data Analysis,
ch. 5, where eight schools is the worked example.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from joblog.rates.spread import Floats


@dataclass(frozen=True, slots=True)
class Pooled:
    """Probabilities after all lines: `items[i, g, k]` sums to 1 for each i, `shared[k, h]` to 1.

    `evidence[k, h]` is the logarithm of how well each pair explains the lines, without its prior.
    """

    items: Floats
    shared: Floats
    evidence: Floats


def pool(likelihood: Floats, prior: Floats, before: Floats) -> Pooled:
    """Sums the model over its grids.

    `likelihood[i, g, k]`: log likelihood of item i's lines at its g-th theta under k.
    `prior[i, g, h]`: log density of that theta under h. `before[k, h]`: log prior of the grid.
    """
    top = likelihood.max(axis=(1, 2), keepdims=True)
    likely = np.exp(likelihood - top)
    drawn = np.exp(prior)
    totals = np.matmul(likely.transpose(0, 2, 1), drawn) + _TINY
    explained = np.log(totals).sum(axis=0)
    shared = _normalized(before + explained)
    back = np.matmul(drawn, (shared / totals).transpose(0, 2, 1))
    items = likely * back
    items /= items.sum(axis=(1, 2), keepdims=True) + _TINY
    return Pooled(items, shared, explained)


_TINY = 1e-300


def _normalized(log: Floats) -> Floats:
    weights = np.exp(log - log.max())
    return np.asarray(weights / weights.sum())
