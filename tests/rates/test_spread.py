"""How one job scatters: slack, middle and scale; what an odd or an old one counts for."""

import math
from datetime import timedelta

import numpy as np
import pytest
from scipy import stats

from joblog.rates.learned import weight_of
from joblog.rates.spread import below, location_and_scale, slack_of, trust
from tests.rates.closed import FIRST


@pytest.mark.parametrize(
    ("base", "slack"),
    [
        # 1 % for measuring, and a quarter of a unit of 100.
        (100.0, 0.01 + 0.25 / 100),
        (10.0, 0.01 + 0.25 / 10),
        # A quarter of a unit of 4 is 6.25 %, held down to 6 %.
        (4.0, 0.01 + 0.06),
    ],
)
def test_a_count_is_good_to_a_quarter_of_a_unit_and_a_hundredth(base: float, slack: float) -> None:
    # Common practice, as `slack_of` says.
    assert slack_of(np.array(base)) == pytest.approx(slack)


def test_what_is_told_in_coarse_steps_is_good_to_half_of_one() -> None:
    # Sticks of 12 ft counted in halves: 3 ft of 120, and a hundredth.
    assert slack_of(np.array(120.0), 6.0) == pytest.approx(0.01 + 3 / 120)


def test_the_rate_and_its_deviation_are_those_of_the_log_normal() -> None:
    # A rate of 8 % on a base of 50, half a unit lost at a time, a spread of 70 % and a slack of
    # 1.5 %. Mean and variance of a log-normal: any text on probability.
    rate, base, slack, lump, spread = (np.array(one) for one in (0.08, 50.0, 0.015, 0.5, 0.7))
    middle, scale = location_and_scale(rate, base, slack, lump, spread)
    drawn = stats.lognorm(s=float(scale), scale=math.exp(float(middle)))
    assert drawn.mean() == pytest.approx(0.08 + 0.015)
    assert drawn.var() == pytest.approx(0.5 * 0.08 / 50 + (0.7 * 0.08) ** 2 + (0.015 / 2) ** 2)


@pytest.mark.parametrize(("off", "counts"), [(0.0, 1.0), (2.0, 4 / (4 + 4)), (-4.0, 4 / (4 + 16))])
def test_what_lies_far_off_counts_for_less(off: float, counts: float) -> None:
    # The weight of a t with n degrees but for its factor, n / (n + z squared) (Lange, Little and
    # Taylor 1989, from memory), with 4 degrees.
    assert trust(np.array(off), 4) == pytest.approx(counts)


def test_half_of_a_t_lies_below_its_middle() -> None:
    assert below(np.array([0.0]), 4)[0] == 0.5


@pytest.mark.parametrize(("days", "counts"), [(0, 1.0), (30, 0.5), (60, 0.25), (-5, 1.0)])
def test_a_line_as_old_as_the_half_life_counts_half(days: int, counts: float) -> None:
    as_of = FIRST + timedelta(days=days)
    assert weight_of(FIRST, as_of, 30.0) == pytest.approx(counts)
    assert weight_of(FIRST, as_of, None) == 1
