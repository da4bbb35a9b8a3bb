"""Partial pooling against published figures, and against scipy and statsmodels on the same data."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import numpy as np
import pytest
import statsmodels.api as sm
from scipy import integrate, special, stats

from joblog.model import History, PastUse
from joblog.rates import learn, predict
from joblog.rates.pool import Pooled, pool
from joblog.rates.spread import Floats, below, log_density

# Source: Rubin 1981, the eight-schools data.
SCHOOLS = np.array([28.0, 8, -3, 7, -1, 1, 18, 12])
SCHOOL_ERRORS = np.array([15.0, 10, 16, 11, 9, 11, 10, 18])

# Source: Efron and Morris, JASA 1975, hits in the first 45 times at bat and the average over the
# rest of the season, from memory.
HITS = np.array([18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7])
FIRST_45 = HITS / 45
REST = np.array(
    [.346, .298, .276, .222, .273, .270, .263, .210, .269, .230, .264, .256, .303, .264, .226,
     .286, .316, .200]
)  # fmt: skip


def normal_pool(
    seen: Floats, errors: Floats, means: Floats, differences: Floats, before: Floats
) -> tuple[Pooled, Floats]:
    """`pool` under the normal model, every mean equally likely; and the grid of the parameters."""
    theta = seen[:, None] + errors[:, None] * np.linspace(-6, 6, 401)
    likelihood = -0.5 * ((theta - seen[:, None]) / errors[:, None]) ** 2
    middles, apart = (grid.ravel() for grid in np.meshgrid(means, differences, indexing="ij"))
    prior = stats.norm.logpdf(theta[:, :, None], middles, apart)
    weight = np.tile(before, means.size)
    return pool(likelihood[:, :, None], prior, weight[None, :]), theta


def test_the_common_effect_of_the_eight_schools_is_about_8() -> None:
    means, differences = np.linspace(-30, 50, 41), np.linspace(0.5, 60, 60)
    result, _ = normal_pool(SCHOOLS, SCHOOL_ERRORS, means, differences, np.zeros(60))
    of_mean = result.shared.reshape(41, 60).sum(axis=1)
    assert of_mean @ means == pytest.approx(8, abs=0.5)


def test_the_eight_schools_agree_with_numerical_integration() -> None:
    means, differences = np.linspace(-30, 50, 41), np.linspace(0.5, 60, 60)
    result, theta = normal_pool(SCHOOLS, SCHOOL_ERRORS, means, differences, np.zeros(60))
    assert result.items[0, :, 0] @ theta[0] == pytest.approx(_first_school(), abs=0.1)


def _first_school() -> float:
    """Posterior mean of the first school's effect by scipy; flat priors as above."""

    def explained(mean: float, apart: float) -> float:
        return float(np.prod(stats.norm.pdf(SCHOOLS, mean, np.hypot(apart, SCHOOL_ERRORS))))

    def effect(mean: float, apart: float) -> float:
        own = apart**2 / (apart**2 + SCHOOL_ERRORS[0] ** 2)
        return explained(mean, apart) * (mean + own * (SCHOOLS[0] - mean))

    whole, _ = integrate.dblquad(explained, 0.0, 60.5, -30, 50, epsrel=1e-4)
    shared, _ = integrate.dblquad(effect, 0.0, 60.5, -30, 50, epsrel=1e-4)
    return shared / whole


def test_the_batters_average_265_and_shrink_by_212() -> None:
    # Source: Efron and Morris 1975: (k - 3) of variance over the sum.
    variance = 0.265 * (1 - 0.265) / 45
    apart = ((FIRST_45 - FIRST_45.mean()) ** 2).sum()
    assert FIRST_45.mean() == pytest.approx(0.265, abs=0.0005)
    assert 1 - 15 * variance / apart == pytest.approx(0.212, abs=0.002)


def test_batters_are_pulled_together_as_far_as_the_theory_says() -> None:
    # Every variance between batters equally likely: the share B that pulls to the mean is then
    # gamma-distributed with mean 15 v / S, which is 1 - .212, but cannot exceed 1 (Morris, JASA
    # 1983, from memory). scipy gives the mean of the gamma cut at 1.
    error = np.sqrt(0.265 * (1 - 0.265) / 45)
    differences = np.linspace(0.002, 0.3, 75)
    means = np.linspace(0.21, 0.32, 23)
    result, theta = normal_pool(
        FIRST_45, np.full(18, error), means, differences, np.log(differences)
    )
    pulled = np.array([result.items[i, :, 0] @ theta[i] for i in range(18)])
    kept = np.polyfit(FIRST_45, pulled, 1)[0]
    rate = ((FIRST_45 - FIRST_45.mean()) ** 2).sum() / (2 * error**2)
    cut = 7.5 / rate * special.gammainc(8.5, rate) / special.gammainc(7.5, rate)
    assert 7.5 / rate == pytest.approx(1 - 0.212, abs=0.002)
    assert kept == pytest.approx(1 - cut, abs=0.01)


def test_pulled_together_the_batters_foretell_the_season_better() -> None:
    # Source: Efron and Morris 1975: shrinking leaves well under half of the squared error.
    error = np.full(18, np.sqrt(0.265 * (1 - 0.265) / 45))
    result, theta = normal_pool(
        FIRST_45, error, np.linspace(0.21, 0.32, 23), np.linspace(0.002, 0.2, 100), np.zeros(100)
    )
    pulled = np.array([result.items[i, :, 0] @ theta[i] for i in range(18)])
    assert ((pulled - REST) ** 2).sum() < 0.5 * ((FIRST_45 - REST) ** 2).sum()


def test_pooling_agrees_with_the_mixed_model_of_statsmodels() -> None:
    # The same data; the two variances as statsmodels' REML finds them.
    luck = np.random.default_rng(11)
    item = np.repeat(np.arange(12), [3, 4, 5, 6, 7, 8, 9, 10, 3, 4, 20, 2])
    seen = luck.normal(-2.8, 0.4, 12)[item] + luck.normal(0, 0.5, item.size)
    mixed = sm.MixedLM(seen, np.ones((seen.size, 1)), groups=item).fit(reml=True)
    between, within = float(np.sqrt(mixed.cov_re[0, 0])), float(np.sqrt(mixed.scale))
    expected = [float(mixed.fe_params[0] + mixed.random_effects[i].iloc[0]) for i in range(12)]
    n = np.bincount(item)
    result, theta = normal_pool(
        np.bincount(item, seen) / n,
        within / np.sqrt(n),
        np.linspace(-5, -1, 161),
        np.array([between]),
        np.zeros(1),
    )
    found = [float(result.items[i, :, 0] @ theta[i]) for i in range(12)]
    assert found == pytest.approx(expected, abs=0.002)


JOBS = (
    # item, net, consumed
    ("soffit panel", 40, 46), ("soffit panel", 25, 27), ("soffit panel", 60, 63),
    ("siding panel", 90, 94), ("siding panel", 30, 34),
)  # fmt: skip
STEPS = {"soffit panel": 1.0, "siding panel": 0.5}
"""Three whole numbers of sheets are counted in wholes, as likely as not; two may be in halves."""
HISTORY = History(
    tuple(
        PastUse(f"job {at}", date(2025, 5, at), item, Fraction(net), Fraction(used), Fraction(0))
        for at, (item, net, used) in enumerate(JOBS, 1)
    )
)


def test_the_whole_fit_agrees_with_weighted_draws_from_the_stated_prior() -> None:
    # Half a million draws from the prior as `learn` states it, weighted by scipy's t density.
    learned = learn(HISTORY)
    rates, weight = _weighted_draws()
    found = {rate.name: rate.mean for rate in learned.rates.rates}
    for at, item in enumerate(("soffit panel", "siding panel")):
        expected = float(weight @ rates[at] / weight.sum())
        assert found[item] == pytest.approx(expected, rel=0.01)


def test_the_prediction_agrees_with_weighted_draws_from_the_stated_prior() -> None:
    learned = learn(HISTORY)
    found = predict(learned, "soffit panel", Fraction(50), Fraction(0)).equally_likely
    drawn = pytest.approx(_drawn_interval(), abs=0.1)
    assert tuple(np.quantile(found, [0.1, 0.9])) == drawn


SPREADS = np.array([0.08, 0.11, 0.15, 0.2, 0.26, 0.33, 0.42, 0.54, 0.7, 0.9, 1.2])


def _prior(luck: np.random.Generator, count: int) -> tuple[Floats, Floats, Floats]:
    """Two items' log rates, the lump and the spread, drawn as the docstring of `learn` says."""
    family = luck.normal(np.log(0.05), np.hypot(0.4, 0.3), count)
    apart = np.abs(luck.normal(0, 0.35, count))
    theta = family + apart * luck.normal(size=(2, count))
    log = -0.5 * (np.log(SPREADS / (0.7 * np.sqrt(2 / 4))) / 0.6) ** 2
    spread = luck.choice(SPREADS, count, p=np.exp(log) / np.exp(log).sum())
    return theta, luck.choice([0.1, 0.5, 2.0], count), spread


def _scatter(
    rate: Floats, base: float, lump: Floats, spread: Floats, step: float
) -> tuple[Floats, Floats, float]:
    slack = 0.01 + min(step / 2 / base, 0.06)
    variance = lump * rate / base + (spread * rate) ** 2 + (slack / 2) ** 2
    squared = np.log1p(variance / (rate + slack) ** 2)
    return np.log(rate + slack) - squared / 2, np.sqrt(squared), slack


def _weighted_draws(count: int = 500_000) -> tuple[Floats, Floats]:
    theta, lump, spread = _prior(np.random.default_rng(1), count)
    log = np.zeros(count)
    for item, net, used in JOBS:
        rate = np.exp(theta[("soffit panel", "siding panel").index(item)])
        middle, scale, slack = _scatter(rate, net, lump, spread, STEPS[item])
        log += stats.t.logpdf(np.log(used / net - 1 + slack), 4, middle, scale)
    return np.exp(theta), np.exp(log - log.max())


def _drawn_interval() -> tuple[float, float]:
    count = 500_000
    luck = np.random.default_rng(1)
    _, lump, spread = _prior(luck, count)
    rates, weight = _weighted_draws(count)
    middle, scale, slack = _scatter(rates[0], 50, lump, spread, STEPS["soffit panel"])
    amounts = 50 * (1 + np.exp(middle + scale * luck.standard_t(4, count)) - slack)
    order = np.argsort(amounts)
    sums = np.cumsum(weight[order]) / weight.sum()
    low, high = amounts[order][np.searchsorted(sums, [0.1, 0.9])]
    return float(low), float(high)


@pytest.mark.parametrize("degrees", [2, 4, 20])
def test_the_t_is_that_of_scipy(degrees: int) -> None:
    places = np.linspace(-30, 30, 601)
    assert below(places, degrees) == pytest.approx(stats.t.cdf(places, degrees), abs=1e-12)


def test_the_density_of_a_line_is_scipys() -> None:
    seen, rate = np.log(np.array([0.04, 0.2])), np.array([[0.03, 0.08], [0.1, 0.3]])
    base, slack = np.array([12.0, 80.0]), np.array([0.03, 0.015])
    lump, spread = np.array([0.1, 2.0]), np.array([0.3, 0.7])
    degrees = np.array([4.0, 20.0])
    found = log_density(seen, rate, base, slack, lump, spread, degrees)
    variance = (
        lump * rate[..., None] / base[:, None, None]
        + (spread * rate[..., None]) ** 2
        + (slack[:, None, None] / 2) ** 2
    )
    squared = np.log1p(variance / (rate[..., None] + slack[:, None, None]) ** 2)
    middle = np.log(rate[..., None] + slack[:, None, None]) - squared / 2
    expected = stats.t.logpdf(seen[:, None, None], degrees, middle, np.sqrt(squared))
    assert found.ravel() == pytest.approx(expected.ravel(), abs=1e-9)
