"""How well the rates would have predicted."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.model import History, OrderCosts
from joblog.rates import back_test
from tests.rates.closed import FIRST, scattered, uses, work


def test_every_job_but_the_first_is_predicted() -> None:
    found = back_test(History(uses((0.05, 0.06, 0.04, 0.07)), work([0.1, 0.12, 0.11]).work))
    assert (found.jobs, found.predictions, found.hours_predictions) == (3, 3, 2)


def test_steady_jobs_lie_in_their_intervals() -> None:
    found = back_test(History(uses((0.05,) * 10)))
    assert dict(found.coverage)[0.95] == 1


def test_a_later_job_does_not_change_what_is_said_of_an_earlier_one() -> None:
    steady = uses(scattered(0.06, 0.3, 8))
    told = back_test(History(steady))
    wild = replace(steady[-1], consumed=Fraction(80))
    changed = back_test(History((*steady[:-1], wild)))
    missed = 1 / 7
    assert dict(told.coverage)[0.95] - dict(changed.coverage)[0.95] == pytest.approx(missed)


def test_the_order_for_a_job_does_not_know_what_it_took() -> None:
    # 41 or 46 pieces of an order that is larger than either: 5 more are left.
    first, second = uses((0.5, 0.5))
    took_41, took_46 = (
        back_test(History((first, replace(second, consumed=Fraction(took))))) for took in (41, 46)
    )
    assert dict(took_41.left_over)["learned"] == dict(took_46.left_over)["learned"] + 5


def test_hours_are_not_foretold_from_the_job_itself() -> None:
    found = back_test(work([0.1, 0.6]))
    assert dict(found.hours_coverage)[0.95] == 0


def test_jobs_of_one_day_do_not_foretell_each_other() -> None:
    found = back_test(History(tuple(replace(use, day=FIRST) for use in uses((0.05,) * 6))))
    assert found.predictions == 0
    assert "nothing came before" in found.notes[0]


def test_no_job_gives_no_figures() -> None:
    found = back_test(History())
    assert (found.jobs, found.coverage, found.costs) == (0, (), ())


def test_the_same_orders_are_paid_for_in_every_way() -> None:
    # Always exactly 20 % of 40 pieces, so the plain average is always right: 48 pieces. A flat
    # tenth orders 44, which is four short at the price of four left over each.
    found = back_test(History(uses((0.20,) * 12)))
    costs, short = dict(found.costs), dict(found.short)
    assert costs["plain average"] == 0
    assert costs["flat 10 % after cuts"] == pytest.approx(16)
    assert short["flat 10 % after cuts"] == 1
    assert costs["learned"] < costs["flat 10 % after cuts"]


def test_one_trip_is_paid_once_however_much_is_missing() -> None:
    # As above: four pieces short, but one trip.
    once = OrderCosts(second_trip=Decimal(10), left_over=Decimal(1), once=True)
    found = back_test(History(uses((0.20,) * 12)), costs=once)
    assert dict(found.costs)["flat 10 % after cuts"] == pytest.approx(10)


def test_only_the_last_jobs_are_predicted_when_there_are_many() -> None:
    found = back_test(History(uses((0.05,) * 10)), last=3)
    assert found.predictions == 3


def test_packs_that_hold_more_are_ordered_whole() -> None:
    # 42 pieces wanted in packs of 20 are three packs; the flat tenth, 44, orders three.
    found = back_test(History(uses((0.05,) * 5)), packs={"Soffit panel": Fraction(20)})
    assert dict(found.costs)["flat 10 % after cuts"] == 0


def test_a_half_life_is_counted_back_from_the_day_of_the_prediction() -> None:
    early = uses((0.25,) * 6)
    late = tuple(
        replace(use, job=f"later {use.job}", day=use.day + timedelta(weeks=100))
        for use in uses((0.02,) * 6)
    )
    whole, recent = (back_test(History((*early, *late)), half_life=age) for age in (None, 90.0))
    assert dict(recent.costs)["learned"] < dict(whole.costs)["learned"]
