"""Fits one family of items (or all tasks) to its lines: what is believed of each rate afterwards.

The door is `fit`. How it goes: a quick mode search finds where each item's rate lies and what the
covariates do (Fisher scoring with robust weights); then the model of `spread` is laid out on a
grid around those places and summed by `pool`. Where a family has very many lines, how jobs
scatter is learned from the latest of each item, which is more than enough for it; the rates
themselves always use every line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from joblog.rates.pool import Pooled, pool
from joblog.rates.spread import Floats, location_and_scale, log_density, trust

SPREADS = np.array([0.08, 0.11, 0.15, 0.2, 0.26, 0.33, 0.42, 0.54, 0.7, 0.9, 1.2])
"""How far a job's rate may lie from its item's, as a share of it."""
SPREAD_SURE = 0.6
"""Prior of the spread: log-normal about the usual one, with this log scale."""


@dataclass(frozen=True, slots=True)
class Scatter:
    """How jobs of a kind scatter, before any is known."""

    spread: float
    """The usual one, as a standard deviation."""
    lumps: tuple[float, ...]
    """Units lost (or hours taken) at a time; equally likely."""
    degrees: tuple[int, ...] = (4,)
    """Of freedom, even numbers: how far odd jobs lie; equally likely."""
    set_ups: tuple[float, ...] = (0.0,)
    """Hours that a job takes before the first unit is done; equally likely."""


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of one group, sorted by item and then by day."""

    names: tuple[str, ...]
    item: npt.NDArray[np.int64]
    base: Floats
    ratio: Floats
    slack: Floats
    weight: Floats
    covariates: Floats
    """One column each, already centred and scaled."""
    expected: Floats
    """Prior mean of each covariate's effect on the logarithm of the rate."""
    loose: Floats
    """Prior standard deviation of the same."""
    level: Floats
    """What the logarithm of the rate was off then, against today."""
    apart: Floats
    """How far a line tells anything that the other lines of its job do not tell: 1 if it stands
    for itself."""

    def shift(self, effect: Floats) -> Floats:
        """What conditions and time add to the logarithm of each line's rate."""
        return np.asarray(self.covariates @ effect + self.level)


@dataclass(frozen=True, slots=True)
class Family:
    """What is believed of a family before its lines.

    Either its items share a mean, lying somewhere on `means` with log prior `mean_before`, and
    differ by one of `differences` on the log scale; or each item stands for itself: it lies about
    its own mean `alone` by a standard deviation of `errors`, which has a column for each of
    `differences`.
    """

    means: Floats
    mean_before: Floats
    differences: Floats
    difference_before: Floats
    alone: Floats | None = None
    errors: Floats | None = None


@dataclass(frozen=True, slots=True)
class Points:
    """What is believed of one rate, as weighted points that sum to 1."""

    theta: Floats
    """Logarithm of the rate."""
    lump: Floats
    spread: Floats
    degrees: Floats
    weight: Floats
    set_up: Floats = field(default_factory=lambda: np.zeros(1))

    def rate(self, base: Floats | float, shift: Floats | float = 0.0) -> Floats:
        """The rate of a job of that size, its conditions adding `shift` to the logarithm."""
        return np.asarray(np.exp(self.theta + shift) + self.set_up / base)


@dataclass(frozen=True, slots=True)
class Settled:
    """The quick search's result: each item's log rate with its error, and the covariates."""

    theta: Floats
    error: Floats
    effect: Floats
    unsure: Floats
    """Covariance of the effects."""
    middle: Floats
    """Mean covariates of each item's lines, one row an item."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """The grid of a group with its likelihood, ready to be pooled under any prior of its mean."""

    settled: Settled
    theta: Floats
    stretch: Floats
    """What each place of `theta` stands for: the logarithm of the stretch around it."""
    lump: Floats
    spread: Floats
    degrees: Floats
    set_up: Floats
    likelihood: Floats
    scatter_before: Floats
    whole: bool
    """Whether every line is in the likelihood, and not only the latest."""


def fit(lines: Lines, prior_mean: Floats, prior_error: Floats, scatter: Scatter) -> Fitted:
    """Mode search and likelihood grid of one group; the prior of each item guides the search.

    Where an item has very many lines, only the latest are in the likelihood: enough to tell how
    jobs scatter. `narrowed` then takes them all.
    """
    settled = settle(lines, prior_mean, prior_error, scatter)
    theta = settled.theta[:, None] + settled.error[:, None] * _STEPS
    stretch = np.log(settled.error[:, None] * np.gradient(_STEPS))
    shapes = (scatter.lumps, SPREADS, np.array(scatter.degrees, dtype=np.float64), scatter.set_ups)
    grids = np.meshgrid(*shapes, indexing="ij")
    lump, spread, degrees, set_up = shape = tuple(grid.ravel() for grid in grids)
    before = -0.5 * (np.log(spread / scale_of(scatter, degrees)) / SPREAD_SURE) ** 2
    latest = _latest(lines.item, len(lines.names))
    likelihood = _likelihood(lines, settled, theta, shape, latest)
    return Fitted(
        settled, theta, stretch, lump, spread, degrees, set_up, likelihood, before,
        latest.size == lines.item.size,
    )  # fmt: skip


def likely(log: Floats) -> npt.NDArray[np.int64]:
    """Which scatters are worth keeping, by the logarithm of how well each explains the lines."""
    kept = np.sort(np.argsort(-log)[:_KEPT])
    return np.asarray(kept[log[kept] > log.max() - 7])


def narrowed(fitted: Fitted, lines: Lines, kept: npt.NDArray[np.int64]) -> Fitted:
    """The grid with those scatters only, and with every line."""
    grids = (fitted.lump, fitted.spread, fitted.degrees, fitted.set_up)
    lump, spread, degrees, set_up = shape = tuple(one[kept] for one in grids)
    likelihood = fitted.likelihood[:, :, kept]
    if not fitted.whole:
        likelihood = _likelihood(lines, fitted.settled, fitted.theta, shape, slice(None))
    return Fitted(
        fitted.settled, fitted.theta, fitted.stretch, lump, spread, degrees, set_up, likelihood,
        fitted.scatter_before[kept], True,
    )  # fmt: skip


def scale_of(scatter: Scatter, degrees: Floats) -> Floats:
    """The scale of the t with so many degrees whose standard deviation is the usual spread."""
    return np.asarray(scatter.spread * np.sqrt((degrees - 2) / degrees))


def pooled(fitted: Fitted, family: Family, before: Floats | None = None) -> Pooled:
    """The group's grid summed under what is believed of the family.

    `before` is the log prior of each scatter and each pair of `shared_grid`, unless it is that of
    the two for themselves.
    """
    middles, apart, alone = shared_grid(family)
    if family.alone is None or family.errors is None:
        # A difference finer than the grid of an item would fall between its points.
        step = np.exp(fitted.stretch)[:, :, None]
        prior = _normal(fitted.theta[:, :, None], middles, np.maximum(apart, step / 2))
    else:
        off = fitted.theta - family.alone[:, None]
        prior = _normal(off[:, :, None], np.zeros(1), family.errors[:, None, :])
    if before is None:
        before = fitted.scatter_before[:, None] + alone
    return pool(fitted.likelihood, prior + fitted.stretch[:, :, None], before)


def shared_grid(family: Family) -> tuple[Floats, Floats, Floats]:
    """Every pair of a family mean and a difference between items, with its log prior."""
    middles, apart = np.meshgrid(family.means, family.differences, indexing="ij")
    before = family.mean_before[:, None] + family.difference_before
    return middles.ravel(), apart.ravel(), before.ravel()


def points_of(fitted: Fitted, result: Pooled, item: int) -> Points:
    """What is believed of one item of the group."""
    weight = result.items[item]
    return _heaviest(_every(fitted, fitted.theta[item], weight))


def points_of_new(fitted: Fitted, result: Pooled, family: Family) -> Points:
    """What is believed of an item that the family has not met yet."""
    middles, apart, _ = shared_grid(family)
    of_scatter, of_family = result.shared.sum(axis=1), result.shared.sum(axis=0)
    mean = float(of_family @ middles)
    error = float(np.sqrt(of_family @ ((middles - mean) ** 2 + apart**2)))
    theta = mean + error * _STEPS
    density = np.exp(_normal(theta[:, None], middles, apart)) @ of_family
    density *= np.gradient(_STEPS)
    weight = (density / density.sum())[:, None] * of_scatter
    return _heaviest(_every(fitted, theta, weight))


def _every(fitted: Fitted, theta: Floats, weight: Floats) -> Points:
    """Every place of theta with every scatter."""
    lump, spread, degrees, set_up = (
        np.tile(one, theta.size)
        for one in (fitted.lump, fitted.spread, fitted.degrees, fitted.set_up)
    )
    return Points(np.repeat(theta, len(fitted.lump)), lump, spread, degrees, weight.ravel(), set_up)


def settle(lines: Lines, prior_mean: Floats, prior_error: Floats, scatter: Scatter) -> Settled:
    """Each item's most likely log rate and the covariates' effects, by Fisher scoring.

    Rates and effects are solved for together; the items are eliminated first, so that the
    work grows with the number of lines only.
    """
    count, item = len(lines.names), lines.item
    theta, effect = prior_mean.copy(), lines.expected.copy()
    held = 1 / prior_error**2
    tied = np.diag(1 / lines.loose**2)
    seen = observed(lines)
    spread = scale_of(scatter, np.array(4.0))
    trusted = lines.weight * lines.apart
    set_up = scatter.set_ups[len(scatter.set_ups) // 2] / lines.base
    for _ in range(_ROUNDS):
        of_size = np.exp(theta[item] + lines.shift(effect))
        rate = of_size + set_up
        middle, scale = location_and_scale(
            rate, lines.base, lines.slack, np.array(scatter.lumps[1]), spread
        )
        off = seen - middle
        slope = of_size / (rate + lines.slack)
        pull = trusted * slope * trust(off / scale, 4) * _SCORE / scale**2
        weight = trusted * slope**2 * _INFORMATION / scale**2
        sums = np.bincount(item, weight, count) + held
        right = np.bincount(item, pull * off, count) + held * (prior_mean - theta)
        shared = np.array(
            [np.bincount(item, weight * column, count) for column in lines.covariates.T]
        ).reshape(lines.loose.size, count)
        left = (lines.covariates * weight[:, None]).T @ lines.covariates + tied
        left = left - (shared / sums) @ shared.T
        gain = lines.covariates.T @ (pull * off) + (lines.expected - effect) / lines.loose**2
        change = np.linalg.solve(left, gain - shared @ (right / sums))
        theta = theta + np.clip((right - change @ shared) / sums, -1, 1)
        effect = effect + np.clip(change, -1, 1)
    counted = np.maximum(np.bincount(item, lines.weight, count), 1e-9)
    middles = np.array(
        [np.bincount(item, lines.weight * column, count) / counted for column in lines.covariates.T]
    ).reshape(lines.loose.size, count)
    return Settled(
        theta,
        1 / np.sqrt(sums),
        effect,
        np.asarray(np.linalg.inv(left), dtype=np.float64),
        middles.T,
    )


_ROUNDS = 8
_LEAST = 0.1
_SCORE, _INFORMATION = 5 / 4, 5 / 7
# Of a t with n degrees: (n + 1) / n before the trust, and (n + 1) / (n + 3). The search takes the 4
# degrees that are hardest to lead astray; the grid then weighs all.

_STEPS = 5.5 * np.sinh(np.linspace(-3.5, 3.5, 31)) / np.sinh(3.5)
# Close in the middle, for jobs may scatter far less than the search took them to.
_LATEST = 50
_KEPT = 3


def observed(lines: Lines) -> Floats:
    """log(r + slack) of every line, held just above what the slack allows."""
    return np.asarray(np.log(np.maximum(lines.ratio + lines.slack, _LEAST * lines.slack)))


def _latest(item: npt.NDArray[np.int64], count: int) -> npt.NDArray[np.int64]:
    """Where the latest lines of each item stand."""
    ends = np.searchsorted(item, np.arange(count), side="right")
    from_end = ends[item] - np.arange(item.size)
    return np.flatnonzero(from_end <= _LATEST)


def _likelihood(
    lines: Lines,
    settled: Settled,
    theta: Floats,
    shape: tuple[Floats, ...],
    which: slice | npt.NDArray[np.int64],
) -> Floats:
    """Log likelihood of each item's lines: item, theta, scatter."""
    item = lines.item[which]
    seen = observed(lines)[which]
    shift = lines.shift(settled.effect)[which]
    base, slack, weight = lines.base[which], lines.slack[which], lines.weight[which]
    sums = np.zeros((len(lines.names), theta.shape[1], shape[0].size))
    for start in range(0, item.size, _PART):
        part = slice(start, start + _PART)
        of_size = np.exp(theta[item[part]] + shift[part, None])
        first = np.flatnonzero(np.diff(item[part], prepend=-1))
        for set_up in np.unique(shape[3]):
            of = np.flatnonzero(shape[3] == set_up)
            rate = of_size + set_up / base[part, None]
            scatter = (one[of] for one in shape[:3])
            log = log_density(seen[part], rate, base[part], slack[part], *scatter)
            log *= weight[part, None, None]
            sums[item[part][first][:, None], :, of] += np.add.reduceat(
                log, first, axis=0
            ).transpose(0, 2, 1)
    return sums


_PART = 256


def _normal(theta: Floats, mean: Floats, error: Floats) -> Floats:
    return np.asarray(-0.5 * ((theta - mean) / error) ** 2 - np.log(error * np.sqrt(2 * np.pi)))


def _heaviest(points: Points) -> Points:
    """Without the points that hardly weigh anything, two parts in a thousand altogether."""
    order = np.argsort(-points.weight)
    sums = np.cumsum(points.weight[order])
    kept = order[: int(np.searchsorted(sums, 0.998 * sums[-1])) + 1]
    weight = points.weight[kept] / points.weight[kept].sum()
    return Points(
        points.theta[kept],
        points.lump[kept],
        points.spread[kept],
        points.degrees[kept],
        weight,
        points.set_up[kept],
    )


def quantile(values: Floats, weight: Floats, levels: Sequence[float]) -> Floats:
    """Quantiles of weighted values, each value standing for the stretch around it."""
    places, at = np.unique(values, return_inverse=True)
    weights = np.bincount(at, weight)
    middle = np.cumsum(weights) - weights / 2
    return np.asarray(np.interp(levels, middle / weights.sum(), places))
