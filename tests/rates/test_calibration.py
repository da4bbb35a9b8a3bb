"""Intervals hold what they say, on tasks drawn from the stated prior itself.

The bounds are four standard errors of a share among 400 draws: 0.1 at 50 %, 0.08 at 80 %, 0.044 at
95 %.
"""

import numpy as np
import pytest

from tests.bench.calibration import coverage, from_prior


@pytest.mark.parametrize("jobs", [1, 4, 20])
def test_intervals_of_hours_hold_what_they_say_after_few_jobs_and_after_many(jobs: int) -> None:
    half, most, nearly = coverage(list(from_prior(np.random.default_rng(7), jobs, 400)))
    assert half == pytest.approx(0.5, abs=0.1)
    assert most == pytest.approx(0.8, abs=0.08)
    assert nearly == pytest.approx(0.95, abs=0.044)
