"""How much the lines of one job turn out alike, and what that does to the whole."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from statistics import NormalDist

import numpy as np
import pytest

from joblog.bid.chances import chances_of
from joblog.bid.work_out import work_out
from joblog.model import BidBasis, History, PastWork
from joblog.rates import learn
from joblog.rates.together import USUAL, correlation, together
from tests.bid.test_chances import two_normal_items

DAY = date(2026, 11, 2)


def jobs_of(correlated: float, jobs: int) -> list[tuple[str, str, float]]:
    """Lines of jobs that are off by a part of the job's and a part of their own; of some items by
    ten times as much as of others."""
    draw = np.random.default_rng(7)
    found = []
    for job in range(jobs):
        of_job = draw.standard_normal()
        found += [
            (
                f"job {job}",
                name,
                size
                * float(
                    np.sqrt(correlated) * of_job + np.sqrt(1 - correlated) * draw.standard_normal()
                ),
            )
            for name, size in (("panel", 1.0), ("fascia", 0.1), ("nails", 0.3), ("wrap", 1.0))
        ]
    return found


@pytest.mark.parametrize("correlated", [0.0, 0.3, 0.7])
def test_many_jobs_teach_the_correlation_that_they_were_made_with(correlated: float) -> None:
    assert correlation(jobs_of(correlated, 2000)) == pytest.approx(correlated, abs=0.06)


def test_without_jobs_of_several_lines_the_usual_one_is_believed() -> None:
    assert correlation([]) == USUAL
    alone = [("one", "panel", 0.3), ("two", "panel", -0.2), ("three", "fascia", 0.1)]
    assert correlation(alone) == USUAL


def test_it_is_learned_from_the_jobs_behind_the_rates() -> None:
    draw = np.random.default_rng(3)
    work = []
    for job in range(40):
        slow = draw.lognormal(0, 0.3)
        for task, hours in (("hang soffit", 12), ("wrap fascia", 7), ("hang siding", 20)):
            took = Fraction(round(100 * hours * slow * draw.lognormal(0, 0.05)), 100)
            day = date(2025, 1, 1) + timedelta(days=7 * job)
            work.append(PastWork(f"job {job}", day, task, Fraction(100), took))
    items, tasks = together(learn(History(work=tuple(work))))
    assert items == USUAL
    assert tasks > 0.8


@pytest.mark.parametrize(("alike", "spread"), [(0.0, 5.0), (0.5, 37.0**0.5), (1.0, 7.0)])
def test_what_turns_out_alike_adds_up_to_more_than_what_does_not(
    alike: float, spread: float
) -> None:
    # Normals of 3 and 4 that correlate by r: their sum has the variance 9 + 16 + 2 r 12.
    of = two_normal_items(3, 4)
    bid = work_out("maple street", DAY, replace(of, items_together=alike))
    found = chances_of(bid)
    assert found is not None
    for interval in found.intervals:
        low = (1 - interval.level) / 2
        expected = NormalDist(200, spread)
        # The amounts of a bid are 200 a line, so that its far ends are steps.
        assert interval.low == pytest.approx(expected.inv_cdf(low), abs=0.35)
        assert interval.high == pytest.approx(expected.inv_cdf(1 - low), abs=0.35)
    assert sum(one.share for one in found.drivers) == pytest.approx(1)


def test_items_and_tasks_do_not_turn_out_alike_with_each_other() -> None:
    of = two_normal_items(3, 4)
    whole = work_out("maple street", DAY, BidBasis(of.plan, items=of.items, tasks_together=1.0))
    assert whole.chances is not None
    width = whole.chances.intervals[1].high - whole.chances.intervals[1].low
    assert width == pytest.approx(2 * 1.2816 * 5, abs=0.4)
