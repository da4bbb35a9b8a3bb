"""The packs of all items of a job, chosen together."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import product
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.model import OrderCosts, Prediction
from joblog.rates import Demand, order_quantity, order_together
from joblog.rates.coverage import Coverage, coverage_of
from joblog.rates.jointly import chance_of_missing
from joblog.rates.one_trip import least_expected
from joblog.rates.tail import without_far_tail
from joblog.rates.within_risk import least_within

ALIKE = st.sampled_from([0.0, 0.3, 0.6, 0.95])


def foreseen(amounts: Sequence[float], name: str = "panel", sure: float = 0.0) -> Prediction:
    return Prediction("waste", name, sure, 0, 0, (), 0, "by hand", tuple(sorted(amounts)))


def demand(amounts: Sequence[float], pack: int = 1, price: int | None = 1) -> Demand:
    # All amounts below the far tail are as they are: nothing above 95 % is farther than the rest.
    return Demand(
        foreseen(amounts), Fraction(pack), price=None if price is None else Fraction(price)
    )


@st.composite
def few_demands(draw: st.DrawFn) -> list[Demand]:
    """Two or three items of up to 9 packs, their amounts in twenty steps."""
    found = []
    for _ in range(draw(st.integers(2, 3))):
        amounts = draw(st.lists(st.integers(0, 9), min_size=20, max_size=20))
        found.append(demand(amounts, draw(st.integers(1, 3)), draw(st.integers(1, 12))))
    return found


def every_choice(coverage: Coverage) -> list[tuple[int, ...]]:
    return list(product(*(range(len(levels)) for levels in coverage.levels)))


def covered(demands: Sequence[Demand], alike: float) -> Coverage:
    wanted = [
        np.ceil(np.array(without_far_tail(one.prediction).equally_likely) / float(one.pack) - 1e-9)
        for one in demands
    ]
    return coverage_of(wanted, [0] * len(wanted), alike)


@settings(max_examples=60, deadline=None)
@given(few_demands(), ALIKE, st.floats(0.01, 0.6))
def test_within_a_risk_nothing_cheaper_is_found_by_trying_everything(
    demands: list[Demand], alike: float, risk: float
) -> None:
    made = order_together(demands, alike=alike, risk=risk)
    coverage = covered(demands, alike)
    tried = {
        sum(
            float(one.price or 0) * levels[at]
            for one, levels, at in zip(demands, coverage.levels, places, strict=True)
        )
        for places in every_choice(coverage)
        if 1 - coverage.chance(places) <= risk + 1e-9
    }
    assert made.spent == pytest.approx(min(tried))
    assert made.at_most_saved == 0
    assert made.chance_any <= risk + 1e-9


@settings(max_examples=60, deadline=None)
@given(few_demands(), ALIKE, st.integers(1, 200), st.integers(1, 20))
def test_no_packs_cost_less_with_one_trip_for_all_by_trying_everything(
    demands: list[Demand], alike: float, trip: int, left_over: int
) -> None:
    costs = OrderCosts(Decimal(trip), Decimal(left_over), once=True)
    made = order_together(demands, alike=alike, costs=costs)
    coverage = covered(demands, alike)
    wanted = [
        np.ceil(np.array(without_far_tail(one.prediction).equally_likely) / float(one.pack) - 1e-9)
        for one in demands
    ]
    tried = [
        trip * (1 - coverage.chance(places))
        + left_over
        * sum(
            np.maximum(levels[at] - amounts, 0).mean()
            for amounts, levels, at in zip(wanted, coverage.levels, places, strict=True)
        )
        for places in every_choice(coverage)
    ]
    assert made.spent == pytest.approx(min(tried))
    assert made.at_most_saved == 0


def test_fifteen_items_are_chosen_with_their_proof() -> None:
    draw = np.random.default_rng(3)
    demands = [
        demand(np.round(draw.gamma(3, 3, 200) + 20).tolist(), price=int(draw.integers(1, 9)))
        for _ in range(15)
    ]
    made = order_together(demands, alike=0.2, risk=0.1)
    assert made.at_most_saved < 0.01
    each = [order_quantity(one.prediction, risk=0.1) for one in demands]
    assert chance_of_missing(demands, [one.packs for one in each], 0.2) > 0.4
    assert made.chance_any <= 0.1 + 1e-9


@settings(max_examples=40, deadline=None)
@given(few_demands(), ALIKE)
def test_a_search_that_is_cut_short_still_bounds_the_best(
    demands: list[Demand], alike: float
) -> None:
    coverage = covered(demands, alike)
    costs = [float(one.price or 1) * at for one, at in zip(demands, coverage.levels, strict=True)]
    short = least_within(coverage, costs, 0.1, 0.0, boxes=1)
    whole = least_within(coverage, costs, 0.1, 0.0)
    assert short.at_least <= whole.spent + 1e-9 <= short.spent + 2e-9
    early = least_expected(coverage, costs, 50.0, boxes=1)
    assert early.at_least <= least_expected(coverage, costs, 50.0).spent + 1e-9


@settings(max_examples=60, deadline=None)
@given(few_demands(), ALIKE, st.floats(0.01, 0.6))
def test_that_anything_is_missing_lies_between_the_likeliest_item_and_all_by_themselves(
    demands: list[Demand], alike: float, risk: float
) -> None:
    # Items that share a luck are missing on the same jobs, so all is enough at least as often as
    # the product says (positive association; any text on dependence).
    made = order_together(demands, alike=alike, risk=risk)
    own = [order.chance_short for order in made.orders]
    assert max(own) - 1e-6 <= made.chance_any <= 1 - np.prod([1 - one for one in own]) + 1e-6


@settings(max_examples=40, deadline=None)
@given(few_demands(), ALIKE, st.floats(0.01, 0.3), st.floats(0.01, 0.3))
def test_a_smaller_risk_of_all_never_costs_less(
    demands: list[Demand], alike: float, one: float, more: float
) -> None:
    careful, bold = (order_together(demands, alike=alike, risk=r) for r in (one, one + more))
    assert careful.spent >= bold.spent - 1e-9


# --- by hand ----------------------------------------------------------------------------------


def test_the_chance_that_all_is_enough_is_the_product_where_nothing_is_shared() -> None:
    # Ten likely amounts each: 9 of 10 times 8 of 10.
    one, other = demand(range(1, 11)), demand(range(1, 11))
    assert chance_of_missing([one, other], [9, 8], 0.0) == pytest.approx(1 - 0.9 * 0.8)


def test_items_that_share_a_job_s_luck_run_short_on_the_same_jobs() -> None:
    # Two normal variables with correlation r are both below zero with chance
    # 1/4 + arcsin(r) / (2 pi) (Sheppard 1899; any text on the bivariate normal): 1/3 at r = 1/2.
    one, other = demand(range(1, 11)), demand(range(1, 11))
    assert chance_of_missing([one, other], [5, 5], 0.5) == pytest.approx(2 / 3)


def test_three_items_of_one_luck_are_as_by_the_known_orthant() -> None:
    # Equal correlations of 1/2: all of n standard normals are below zero with chance 1 / (n + 1)
    # (any text on order statistics: the common part is one more of the same).
    three = [demand(range(1, 11)) for _ in range(3)]
    assert chance_of_missing(three, [5, 5, 5], 0.5) == pytest.approx(3 / 4)


def test_the_chance_is_that_of_two_hundred_thousand_drawn_jobs() -> None:
    draw = np.random.default_rng(1)
    amounts = [np.sort(draw.gamma(4, 5, 1000)) for _ in range(6)]
    demands = [demand(one.tolist()) for one in amounts]
    packs = [30, 33, 36, 31, 40, 35]
    luck = draw.standard_normal((200_000, 1))
    mixed = np.sqrt(0.4) * luck + np.sqrt(0.6) * draw.standard_normal((200_000, 6))
    places = np.clip(
        np.array([NormalDist().cdf(one) for one in np.linspace(-6, 6, 4001)])[
            np.round((np.clip(mixed, -6, 6) + 6) / 12 * 4000).astype(int)
        ]
        * 1000,
        0,
        999,
    ).astype(int)
    short = np.zeros(200_000, dtype=bool)
    for at, one in enumerate(demands):
        thin = np.array(without_far_tail(one.prediction).equally_likely)
        short |= thin[places[:, at]] > packs[at]
    assert chance_of_missing(demands, packs, 0.4) == pytest.approx(short.mean(), abs=0.006)


def test_one_trip_for_two_items_is_weighed_by_hand() -> None:
    # Each takes 1 or 2, as likely, by itself. A pack too many costs 1 half of the time. With both
    # at 1 a trip is needed 3 times in 4, with one at 2 half of the time, with both at 2 never:
    # 3/4 t, 1/2 + 1/2 t, 1. Each by itself would be paid for alone: 1/2 t against 1/2, from t = 1.
    two = [demand([1.0] * 10 + [2.0] * 10)] * 2
    packs = {}
    for trip in ("1.30", "1.40"):
        costs = OrderCosts(Decimal(trip), Decimal(1), once=True)
        made = order_together(two, alike=0.0, costs=costs)
        packs[trip] = [order.packs for order in made.orders]
    assert packs == {"1.30": [1, 1], "1.40": [2, 2]}


def test_a_dear_item_is_ordered_tighter_than_a_cheap_one() -> None:
    alike = [demand(range(1, 101), price=50), demand(range(1, 101), price=1)]
    dear, cheap = order_together(alike, alike=0.0, risk=0.2).orders
    assert dear.packs < cheap.packs
    assert (1 - dear.chance_short) * (1 - cheap.chance_short) >= 0.8 - 1e-9


def test_without_any_price_packs_are_counted() -> None:
    made = order_together([demand(range(1, 11), price=None)] * 2, alike=0.0, risk=0.2)
    assert sorted(order.packs for order in made.orders) == [9, 9]
    assert made.spent == 18


def test_what_has_no_price_is_weighed_like_the_median_of_the_rest() -> None:
    amounts = range(1, 11)
    priced = [demand(amounts, price=price) for price in (1, 7, 100)]
    [*_, unknown] = order_together([*priced, demand(amounts, price=None)], alike=0, risk=0.2).orders
    [*_, seven] = order_together([*priced, demand(amounts, price=7)], alike=0, risk=0.2).orders
    assert unknown.packs == seven.packs


@given(st.integers(50, 899).map(lambda thousandths: (thousandths + 0.5) / 1000), ALIKE)
@settings(max_examples=30, deadline=None)
def test_one_item_alone_is_ordered_as_it_ever_was(risk: float, alike: float) -> None:
    one = demand([float(x) for x in range(1, 1001)])
    [order] = order_together([one], alike=alike, risk=risk).orders
    alone = order_quantity(without_far_tail(one.prediction), risk=risk)
    assert (order.packs, order.covers, order.left_over) == (
        alone.packs,
        alone.covers,
        alone.left_over,
    )


def test_each_pack_missing_shares_nothing_and_is_ordered_item_by_item() -> None:
    costs = OrderCosts(Decimal(3), Decimal(1))
    demands = [demand(range(1, 1001)), demand(range(5, 505), pack=7)]
    made = order_together(demands, alike=0.5, costs=costs)
    assert list(made.orders) == [
        order_quantity(one.prediction, one.pack, costs=costs) for one in demands
    ]
    assert max(order.chance_short for order in made.orders) <= made.chance_any


def test_what_is_there_in_any_case_is_bought_whatever_the_risk() -> None:
    sure = Demand(foreseen(range(1, 11)), on_hand=Fraction(2), at_least=Fraction(30))
    [order] = order_together([sure], alike=0.5, risk=0.9).orders
    assert (order.packs, order.chance_short, order.covers) == (28, 0, 30)


def test_nothing_to_order_is_no_order() -> None:
    made = order_together([], alike=0.5, risk=0.1)
    assert (made.orders, made.chance_any, made.at_most_saved) == ((), 0.0, 0.0)


@pytest.mark.parametrize("stakes", [{}, {"risk": 0.0}, {"risk": 1.0}])
def test_an_order_of_many_that_makes_no_sense_is_refused(stakes: dict[str, float]) -> None:
    with pytest.raises(ValueError):
        order_together([demand(range(1, 11))], alike=0.5, **stakes)  # type: ignore[arg-type]


# --- the far tail -------------------------------------------------------------------------------


def test_a_tail_no_fatter_than_its_log_normal_stays_as_it_is() -> None:
    levels = (np.arange(1000) + 0.5) / 1000
    normal = 40 - 0.8 + np.exp([NormalDist(1, 0.6).inv_cdf(one) for one in levels])
    as_it_is = foreseen(normal.tolist(), sure=40.0)
    assert without_far_tail(as_it_is).equally_likely == pytest.approx(as_it_is.equally_likely)


def test_only_what_lies_beyond_nineteen_of_twenty_is_carried_on() -> None:
    fat = [40 + 0.01 * x for x in range(951)] + [80.0] * 49
    thin = without_far_tail(foreseen(fat, sure=40.0)).equally_likely
    assert thin[:950] == tuple(fat[:950])
    assert fat[950] <= thin[951] < 80.0
    assert list(thin) == sorted(thin)


def test_what_does_not_differ_has_no_tail() -> None:
    same = foreseen([7.0] * 1000, sure=7.0)
    assert without_far_tail(same) == same
