"""Hours, conditions and old jobs against least squares and weighted draws from the prior."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import numpy as np
import pytest
from scipy import stats

from joblog.model import History, PastUse, PastWork
from joblog.rates import learn, predict_hours
from joblog.rates.fit import Points
from joblog.rates.group import weights_and_chances
from joblog.rates.learned import Condition
from joblog.rates.spread import Floats

SPREADS = np.array([0.08, 0.11, 0.15, 0.2, 0.26, 0.33, 0.42, 0.54, 0.7, 0.9, 1.2])
ERRORS = np.array([0.15, 0.25, 0.4, 0.65, 1.0])
COUNT = 400_000

HUNG = ((200, 26), (120, 11), (90, 14))
"""Feet and crew hours, invented."""


def hung(count: int = 3) -> History:
    return History(
        work=tuple(
            PastWork(f"job {at}", date(2025, 5, at), "hang", Fraction(feet), Fraction(hours))
            for at, (feet, hours) in enumerate(HUNG[:count], 1)
        )
    )


def _draws(estimate: float, error: float | None) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Log rate, lump, spread, degrees and set-up, drawn as the docstring of `learn` says: jobs of a
    task scatter by a quarter, lumps, degrees and set-ups are equally likely. Without an error it is
    that of plans: about 0.35, log-normal with scale 0.6."""
    luck = np.random.default_rng(1)
    likely = np.exp(-0.5 * (np.log(ERRORS / 0.35) / 0.6) ** 2)
    plans = luck.choice(ERRORS, COUNT, p=likely / likely.sum())
    theta = luck.normal(np.log(estimate), plans if error is None else error, COUNT)
    degrees = luck.choice([4.0, 20.0], COUNT)
    spread = np.zeros(COUNT)
    for each in (4.0, 20.0):
        log = -0.5 * (np.log(SPREADS / (0.25 * np.sqrt((each - 2) / each))) / 0.6) ** 2
        of = degrees == each
        spread[of] = luck.choice(SPREADS, of.sum(), p=np.exp(log) / np.exp(log).sum())
    lump, set_up = (luck.choice(of, COUNT) for of in ([0.05, 0.2, 0.8], [0.0, 0.25, 0.5, 1.0, 2.0]))
    return theta, lump, spread, degrees, set_up


def _weighed(
    estimate: float, error: float | None, counts: tuple[float, ...]
) -> tuple[Floats, Floats]:
    """Rates of a job of the usual size, which is 120 ft, and how likely each is after the first
    jobs, each counting for so much."""
    theta, lump, spread, degrees, set_up = _draws(estimate, error)
    log = np.zeros(COUNT)
    for (feet, hours), count in zip(HUNG, counts, strict=False):
        rate = np.exp(theta) + set_up / feet
        squared = np.log1p((lump * rate / feet + (spread * rate) ** 2) / rate**2)
        middle = np.log(rate) - squared / 2
        log += count * stats.t.logpdf(np.log(hours / feet), degrees, middle, np.sqrt(squared))
    return np.exp(theta) + set_up / 120, np.exp(log - log.max())


def _mean(rate: Floats, weight: Floats) -> float:
    return float(weight @ rate / weight.sum())


def test_hours_agree_with_weighted_draws_from_the_plans_own_estimate() -> None:
    learned = learn(hung(), estimate={"hang": Fraction(1, 5)})
    rate, weight = _weighed(0.2, None, (1, 1, 1))
    assert learned.rates.rates[0].mean == pytest.approx(_mean(rate, weight), rel=0.01)


def test_hours_agree_with_weighted_draws_where_nobody_estimated() -> None:
    # Practically flat: 2.5 on the log scale.
    rate, weight = _weighed(0.2, 2.5, (1, 1, 1))
    assert learn(hung()).rates.rates[0].mean == pytest.approx(_mean(rate, weight), rel=0.02)


def test_old_hours_agree_with_draws_weighted_by_the_power_of_their_age() -> None:
    # On the day of the last job the others are one and two days, one and two half-lives, old.
    learned = learn(hung(), half_life=1, estimate={"hang": Fraction(1, 5)})
    rate, weight = _weighed(0.2, None, (0.25, 0.5, 1))
    assert learned.rates.rates[0].mean == pytest.approx(_mean(rate, weight), rel=0.01)


def test_a_task_never_done_spreads_as_the_estimate_and_the_scatter_say() -> None:
    found = predict_hours(learn(History()), "bend", Fraction(100), estimate=Fraction(1, 10))
    theta, lump, spread, degrees, _ = _draws(0.1, None)
    rate = np.exp(theta)
    squared = np.log1p(lump / (100 * rate) + spread**2)
    luck = np.random.default_rng(2).standard_t(degrees)
    drawn = 100 * np.exp(theta - squared / 2 + np.sqrt(squared) * luck)
    low, high = np.quantile(drawn, [0.1, 0.9])
    assert (found.intervals[1].low, found.intervals[1].high) == pytest.approx((low, high), rel=0.03)


CREW = np.tile([1, 2, 3, 4], 15)


def _rates_by_crew() -> Floats:
    """A fifth more for each further one, give or take a tenth."""
    luck = np.random.default_rng(5)
    return np.asarray(0.1 * np.exp(0.2 * (CREW - 2.5) + luck.normal(0, 0.1, CREW.size)))


def _effect_of_one_more(rates: Floats) -> tuple[float, Condition]:
    lines = tuple(
        PastWork(
            f"job {at}",
            date(2025, 1, 1) + timedelta(days=at),
            f"task {at % 6}",
            Fraction(400),
            Fraction(round(400_000 * rate), 1000),
            crew=int(people),
        )
        for at, (rate, people) in enumerate(zip(rates, CREW, strict=True))
    )
    group = learn(History(work=lines)).hours
    at = [one.name for one in group.conditions].index("crew")
    condition = group.conditions[at]
    return float(group.effect[at]) / condition.scale, condition


def test_the_effect_of_a_condition_agrees_with_least_squares() -> None:
    # Many jobs of one size that scatter little, so that the t is near its middle and the prior
    # hardly counts: the effect is then that of least squares on the logarithm.
    rates = _rates_by_crew()
    effect, condition = _effect_of_one_more(rates)
    assert (condition.centre, condition.scale) == (2.5, 1)
    assert effect == pytest.approx(np.polyfit(CREW, np.log(rates), 1)[0], abs=0.02)


def test_a_few_odd_jobs_hardly_move_an_effect_and_least_squares_much() -> None:
    rates = _rates_by_crew()
    clean, _ = _effect_of_one_more(rates)
    rates[[0, 16, 32]] *= 8  # of those who were alone
    robust, _ = _effect_of_one_more(rates)
    assert np.polyfit(CREW, np.log(rates), 1)[0] < clean - 0.1
    assert robust == pytest.approx(clean, abs=0.04)


@pytest.mark.parametrize("off", [0.0, 1.5, -2.5, 4.6])
def test_the_chance_of_an_odd_job_is_that_of_both_tails(off: float) -> None:
    # Three quarters for 4 degrees and a quarter for 20.
    nothing, degrees = np.zeros(2), np.array([4.0, 20.0])
    tails = Points(nothing, nothing, nothing, degrees, np.array([0.75, 0.25]))
    [counts], [chance] = weights_and_chances(np.array([off]), tails)
    expected = [2 * stats.t.sf(abs(off), one) for one in degrees]
    assert chance == pytest.approx(0.75 * expected[0] + 0.25 * expected[1])
    assert counts == pytest.approx(0.75 * 4 / (4 + off**2) + 0.25 * 20 / (20 + off**2))


def test_waste_that_was_not_split_starts_from_the_stated_prior() -> None:
    # exp(0.4) of five in a hundred is 7.5 in a hundred, where one unsplit job tells nothing new.
    line = PastUse("job", date(2025, 5, 1), "caulk", Fraction(1000), Fraction(1075), None)
    [group] = learn(History((line,))).waste.values()
    assert group.effect[0] == pytest.approx(0.4, abs=0.03)
    # Twice as much is half explained by each: both priors have about the same error.
    double = replace(line, consumed=Fraction(1150))
    [group] = learn(History((double,))).waste.values()
    assert 0.45 < group.effect[0] < 0.65
