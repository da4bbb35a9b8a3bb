"""Intervals hold what they say, on items and tasks drawn from the stated prior itself.

Each of 60 histories is followed by a job that is done over 40 times, so that what an interval holds
is known of each history nearly exactly, and chance is left only in how far histories differ. The
bounds are four standard errors of their mean.
"""

from collections.abc import Callable, Iterator

import numpy as np
import pytest

from tests.bench.calibration import Place, coverage, hours_from_prior, waste_from_prior

HISTORIES, AHEAD = 60, 40


@pytest.mark.parametrize("drawn", [hours_from_prior, waste_from_prior])
@pytest.mark.parametrize("jobs", [1, 4, 20])
def test_intervals_hold_what_they_say_after_few_jobs_and_after_many(
    drawn: Callable[..., Iterator[Place]], jobs: int
) -> None:
    places = list(drawn(np.random.default_rng(7), jobs, HISTORIES, AHEAD))
    held = np.array(
        [coverage(places[at : at + AHEAD]) for at in range(0, HISTORIES * AHEAD, AHEAD)]
    )
    error = held.std(axis=0) / np.sqrt(HISTORIES)
    print(held.mean(0), 4 * error)
    assert (error < (0.04, 0.04, 0.02)).all()
    assert (np.abs(held.mean(axis=0) - (0.5, 0.8, 0.95)) < 4 * error).all()
