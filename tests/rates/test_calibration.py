"""Intervals hold what they say, on items and tasks drawn from the stated prior itself.

The bounds are four standard errors of a share among 150 draws: 0.163 at 50 %, 0.131 at 80 %, 0.071
at 95 %.
"""

from collections.abc import Callable, Iterator

import numpy as np
import pytest

from tests.bench.calibration import Place, coverage, hours_from_prior, waste_from_prior


@pytest.mark.parametrize("drawn", [hours_from_prior, waste_from_prior])
@pytest.mark.parametrize("jobs", [1, 4, 20])
def test_intervals_hold_what_they_say_after_few_jobs_and_after_many(
    drawn: Callable[..., Iterator[Place]], jobs: int
) -> None:
    half, most, nearly = coverage(list(drawn(np.random.default_rng(7), jobs, 150)))
    assert half == pytest.approx(0.5, abs=0.163)
    assert most == pytest.approx(0.8, abs=0.131)
    assert nearly == pytest.approx(0.95, abs=0.071)
