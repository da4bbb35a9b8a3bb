"""Wright's learning curve and the newsvendor against textbook figures."""

from decimal import Decimal
from fractions import Fraction

import pytest
from scipy import stats

from joblog.model import Interval, OrderCosts, Prediction
from joblog.rates import learn, learning_curve, order_quantity
from joblog.rates.predict import LEVELS
from tests.rates.closed import work


@pytest.mark.parametrize(
    ("unit", "share"), [(1, 1.0), (2, 0.80), (4, 0.64), (8, 0.512), (10, 0.4765)]
)
def test_the_80_percent_curve(unit: int, share: float) -> None:
    # Source: Wright 1936; any operations text.
    assert learning_curve(unit) == pytest.approx(share, abs=0.00005)


def test_a_curve_without_a_first_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="starts at unit 1"):
        learning_curve(0.99)
    with pytest.raises(ValueError, match="keeps a share above zero"):
        learning_curve(2, 0)


def test_the_80_percent_curve_is_found_in_jobs_that_follow_it() -> None:
    # The same curve, a job a unit; the prior that practice changes little holds back a bit.
    learned = learn(work([0.3 * learning_curve(unit) for unit in range(1, 101)]))
    share = 2 ** float(learned.hours.effect[0])
    assert share == pytest.approx(0.80, abs=0.02)


NORMAL = Prediction(
    "waste", "newspaper", 0, 250, 250, (Interval(0.8, 147.5, 352.5),), 0, "textbook",
    tuple(stats.norm.ppf(LEVELS, 250, 80)),
)  # fmt: skip


def test_normal_demand_is_met_to_mean_and_z_times_deviation() -> None:
    # Source: any operations text, Q = mean + z x deviation, z of cu / (cu + co): z(.80) = .8416.
    costs = OrderCosts(second_trip=Decimal(4), left_over=Decimal(1))
    order = order_quantity(NORMAL, Fraction(1, 10), costs=costs)
    assert float(order.quantity) == pytest.approx(250 + 0.8416 * 80, abs=0.3)


def test_the_expected_left_over_follows_the_unit_normal_loss() -> None:
    # Source: any operations text: left over = (Q - mean) + deviation x L(z), with L(.84) = .1120.
    order = order_quantity(NORMAL, Fraction(1, 10), risk=0.2)
    assert order.left_over == pytest.approx(0.8416 * 80 + 80 * 0.1120, abs=0.5)


def test_evenly_likely_demand_is_met_to_the_critical_share() -> None:
    # Every demand from 1 to 1,000 alike, cu 9 and co 1: the smallest Q with F(Q) = .9 is 900.
    even = Prediction(
        "waste", "loaf", 0, 500.5, 500.5, (), 0, "textbook", tuple(map(float, range(1, 1001)))
    )
    order = order_quantity(even, risk=0.1)
    assert (order.packs, order.chance_short) == (900, 0.1)
