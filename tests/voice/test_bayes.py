"""Weights after decisions, against a numerical integral and against statsmodels."""

from __future__ import annotations

import numpy as np
import pytest
import statsmodels.api as sm

from joblog.voice.bayes import LEVEL, posterior

RIGHT = np.array([1, 1, 0, 1, 1, 1, 1, 0, 1, 1], float)
LEVELS = np.ones((10, 1))


def test_one_weight_is_where_the_integral_over_all_weights_has_it() -> None:
    grid = np.linspace(-4, 8, 400_001)
    log = 8 * grid - 10 * np.logaddexp(0, grid) - 4 * (grid - 2.0) ** 2 / 2
    density = np.exp(log - log.max())
    density /= density.sum()
    mean = (density * grid).sum()
    spread = ((density * (grid - mean) ** 2).sum()) ** 0.5
    found = posterior([2.0], LEVELS, RIGHT, precision=np.array([[4.0]]))
    assert found.mean[0] == pytest.approx(grid[density.argmax()], abs=1e-4)
    # Laplace's normal distribution is not the posterior, but near it.
    assert found.mean[0] == pytest.approx(mean, abs=0.05)
    assert found.covariance[0, 0] ** 0.5 == pytest.approx(spread, rel=0.03)


def test_without_a_prior_it_is_the_fit_of_statsmodels() -> None:
    draw = np.random.default_rng(3)
    signs = np.column_stack([np.ones(300), draw.normal(size=(300, 2))])
    off = draw.normal(size=300)
    right = (draw.random(300) < 1 / (1 + np.exp(-(signs @ [1.0, 0.5, -0.7] - off)))).astype(float)
    fit = sm.GLM(right, signs, sm.families.Binomial(), offset=-off).fit(tol=1e-12)
    found = posterior([0, 0, 0], signs, right, off, precision=np.zeros((3, 3)))
    assert found.mean == pytest.approx(fit.params, abs=1e-6)
    assert found.covariance == pytest.approx(fit.cov_params(), abs=1e-6)


def test_without_decisions_the_weights_stay_as_they_were_fitted() -> None:
    assert posterior([1.5, -2.0], np.empty((0, 2)), np.empty(0)).mean == (1.5, -2.0)


def test_how_well_he_is_heard_weighs_as_many_decisions_as_it_says() -> None:
    before = np.log(0.95 / 0.05)
    [level] = posterior([before], np.ones((200, 1)), np.ones(200)).mean
    wrong = 1 / (1 + np.exp(level))
    # As if 50 decisions, one in twenty of them wrong, stood before 200 right ones; and a little
    # more, for a normal prior believes less than a beta one that nothing ever goes wrong.
    counted = LEVEL * 0.05 / (LEVEL + 200)
    assert counted < wrong < 1.6 * counted


def test_it_does_not_matter_in_which_unit_a_sign_is() -> None:
    draw = np.random.default_rng(4)
    signs = np.column_stack([np.ones(80), draw.normal(size=80)])
    right = (draw.random(80) < 0.9).astype(float)
    metres = posterior([2.0, 0.5], signs, right).mean
    inches = posterior([2.0, 0.05], signs * [1, 10], right).mean
    assert metres[0] == pytest.approx(inches[0], abs=1e-3)
    assert metres[1] == pytest.approx(10 * inches[1], abs=1e-3)


def test_weights_of_signs_that_he_never_shows_stay() -> None:
    signs = np.column_stack([np.ones(50), np.zeros(50)])
    found = posterior([1.0, 0.7], signs, np.ones(50)).mean
    assert found[0] > 1.5
    assert found[1] == pytest.approx(0.7)
