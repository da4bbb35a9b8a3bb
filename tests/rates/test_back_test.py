"""How well the rates would have predicted."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from joblog.model import History, OrderCosts, PastUse, Prediction
from joblog.rates import back_test
from joblog.rates.back_test import trial
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


# --- what each way of ordering costs, by hand


def even(low: int, high: int) -> Prediction:
    """Every amount from low to high alike."""
    amounts = np.linspace(low, high, 1000)
    return Prediction("waste", "panel", 0, 0, 0, (), 0, "", tuple(amounts.tolist()))


THREE_FOR_ONE = OrderCosts(second_trip=Decimal(6), left_over=Decimal(2))
USE = PastUse("now", FIRST, "panel", Fraction(36), Fraction(50), Fraction(4))
BEFORE = (
    PastUse("a", FIRST, "Panel", Fraction(30), Fraction(50), Fraction(10)),
    PastUse("b", FIRST, "panel", Fraction(20), Fraction(27), None),
    PastUse("c", FIRST, "fascia", Fraction(10), Fraction(90), None),
)


def test_every_way_is_paid_for_its_missing_and_its_left_over_packs() -> None:
    found = trial(BEFORE, USE, even(20, 60), Fraction(2), THREE_FOR_ONE)
    # 50 are wanted, 25 packs of 2; a pack missing costs as much as three left over.
    # Learned: short with chance 2 / (6 + 2), so three quarters of 20 to 60: 50, 25 packs.
    # Plain average: (50 / 40 - 1 + 27 / 20 - 1) / 2 is 30 %, of 36 + 4: 52, 26 packs.
    # A tenth more than 40 is 44, 22 packs; a tenth more than 36 is 39.6, 20 packs.
    assert found.cost == {
        "learned": 0,
        "plain average": 1,
        "flat 10 % after cuts": 9,
        "flat 10 % of net": 15,
    }
    assert found.short == {
        "learned": 0,
        "plain average": 0,
        "flat 10 % after cuts": 1,
        "flat 10 % of net": 1,
    }
    assert found.left == {
        "learned": 0,
        "plain average": 1,
        "flat 10 % after cuts": 0,
        "flat 10 % of net": 0,
    }


def test_an_item_without_earlier_jobs_takes_the_average_of_all_others_and_else_a_tenth() -> None:
    new = replace(USE, item="caulk", geometric=None, net=Fraction(40), consumed=Fraction(44))
    found = trial(BEFORE[:2], new, even(20, 60), Fraction(1), THREE_FOR_ONE)
    assert found.left["plain average"] == 52 - 44
    first = trial((), new, even(20, 60), Fraction(1), THREE_FOR_ONE)
    assert (first.left["plain average"], first.short["plain average"]) == (0, 0)


def test_a_trip_that_brings_all_costs_nothing_where_nothing_is_missing() -> None:
    once = replace(THREE_FOR_ONE, once=True)
    found = trial(BEFORE, USE, even(20, 60), Fraction(2), once)
    assert found.cost["plain average"] == 1
    assert found.cost["flat 10 % after cuts"] == found.cost["flat 10 % of net"] == 3


def test_an_item_that_took_a_whole_number_of_packs_wants_no_further_one() -> None:
    # 1.1 x 40 is 44.000000000000006 to a computer.
    use = replace(USE, geometric=Fraction(4), consumed=Fraction(44))
    found = trial((), use, even(20, 60), Fraction(1), THREE_FOR_ONE)
    assert found.left["flat 10 % after cuts"] == 0


def test_the_notes_say_what_a_mistake_is_taken_to_cost() -> None:
    history = History(uses((0.05, 0.06)))
    assert back_test(history, costs=THREE_FOR_ONE).notes == (
        "each pack missing is taken to cost as much as 3 packs left over",
    )
    assert back_test(history, costs=replace(THREE_FOR_ONE, once=True)).notes == (
        "a second trip is taken to cost as much as 3 packs left over",
    )
    assert back_test(history).notes[0].endswith("as much as 4 packs left over")


def test_no_jobs_asked_for_are_none_predicted() -> None:
    assert back_test(History(uses((0.05,) * 4)), last=0).predictions == 0
    assert back_test(History(uses((0.05,) * 4)), last=1).predictions == 1


def test_shares_and_means_are_over_all_predictions() -> None:
    # Twelve steady jobs, then one that took twice as much: one of twelve is missed.
    found = back_test(History(uses((*(0.05,) * 12, 0.99))))
    assert found.coverage == tuple((level, pytest.approx(11 / 12)) for level in (0.5, 0.8, 0.95))
    # The flat tenth after cuts orders 44 of 40: 2 left over each time, and 36 short at the end.
    assert dict(found.short)["flat 10 % after cuts"] == pytest.approx(1 / 12)
    assert dict(found.left_over)["flat 10 % after cuts"] == pytest.approx(2 * 11 / 12)
    assert dict(found.costs)["flat 10 % after cuts"] == pytest.approx((2 * 11 + 4 * 36) / 12)


def test_tasks_are_counted_as_jobs_and_foretold_from_their_own_past_only() -> None:
    lines = work([0.1, 0.1, 0.1]).work
    other = replace(lines[2], task="wrap")
    found = back_test(History(work=(*lines, other)))
    assert (found.jobs, found.predictions, found.hours_predictions) == (2, 0, 2)
    assert (found.coverage, found.costs) == ((), ())
    assert dict(found.hours_coverage)[0.95] == 1
