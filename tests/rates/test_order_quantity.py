"""How many packs to order."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from joblog.model import History, OrderCosts, Prediction
from joblog.rates import learn, order_quantity, predict
from tests.rates.closed import scattered, uses

LEARNED = learn(History(uses(scattered(0.08, 0.5, 12))))
FORTY = predict(LEARNED, "soffit panel", Fraction(40), Fraction(2))


@given(st.floats(0.01, 0.99), st.fractions(Fraction(1, 4), 20, max_denominator=4))
def test_the_packs_cover_the_risk_and_one_fewer_would_not(risk: float, pack: Fraction) -> None:
    order = order_quantity(FORTY, pack, risk=risk)
    fewer = float(order.quantity - pack)
    short = sum(amount > fewer for amount in FORTY.equally_likely) / 1000
    assert order.quantity == order.packs * pack
    assert order.chance_short <= risk < short


@given(st.floats(0.01, 0.98), st.floats(0.01, 0.98))
def test_a_smaller_risk_never_orders_less(one: float, other: float) -> None:
    assume(one < other)
    careful, bold = (order_quantity(FORTY, risk=risk) for risk in (one, other))
    assert careful.packs >= bold.packs
    assert careful.left_over >= bold.left_over


def test_the_risk_that_balances_the_costs_is_the_cheapest() -> None:
    costs = OrderCosts(second_trip=Decimal(60), left_over=Decimal(15))
    order = order_quantity(FORTY, costs=costs)
    tried = {packs: _expected_cost(FORTY, packs) for packs in range(35, 80)}
    assert order.risk == pytest.approx(0.2)
    assert tried[order.packs] == min(tried.values())


def _expected_cost(prediction: Prediction, packs: int) -> float:
    wanted = [-(-amount // 1) for amount in prediction.equally_likely]
    return sum(max(packs - n, 0) * 15 + max(n - packs, 0) * 60 for n in wanted) / 1000


def test_one_trip_for_all_that_is_missing_is_the_cheapest_too() -> None:
    costs = OrderCosts(second_trip=Decimal(90), left_over=Decimal(15), once=True)
    order = order_quantity(FORTY, costs=costs)
    tried = {packs: _expected_with_one_trip(FORTY, packs) for packs in range(35, 80)}
    assert tried[order.packs] == min(tried.values())
    assert order.risk == order.chance_short


def _expected_with_one_trip(prediction: Prediction, packs: int) -> float:
    wanted = [-(-amount // 1) for amount in prediction.equally_likely]
    return sum(max(packs - n, 0) * 15 + (n > packs) * 90 for n in wanted) / 1000


def test_what_is_on_hand_needs_no_ordering() -> None:
    with_none = order_quantity(FORTY, risk=0.1)
    with_ten = order_quantity(FORTY, risk=0.1, on_hand=Fraction(10))
    assert with_ten.packs == with_none.packs - 10
    assert order_quantity(FORTY, risk=0.1, on_hand=Fraction(500)).packs == 0


@pytest.mark.parametrize(
    ("options", "why"),
    [
        ({}, "either the risk"),
        ({"risk": 0.1, "costs": OrderCosts(Decimal(1), Decimal(1))}, "either the risk"),
        ({"risk": 0.0}, "between 0.001 and 0.999"),
        ({"risk": 1.0}, "between 0.001 and 0.999"),
        ({"risk": 0.1, "pack": Fraction(0)}, "a pack must hold something"),
        ({"risk": 0.1, "on_hand": Fraction(-1)}, "on hand not below zero"),
        ({"costs": OrderCosts(Decimal(0), Decimal(1))}, "must cost something"),
        ({"costs": OrderCosts(Decimal(1), Decimal(0))}, "must cost something"),
    ],
)
def test_an_order_that_makes_no_sense_is_refused(options: dict[str, object], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        order_quantity(FORTY, **options)  # type: ignore[arg-type]


# --- by hand: every amount from 1 to 1,000 is as likely as the next

EVEN = Prediction(
    "waste", "loaf", 0, 500.5, 500.5, (), 0, "by hand", tuple(map(float, range(1, 1001)))
)


@pytest.mark.parametrize("risk", [0.001, 0.1, 0.25, 0.999])
def test_the_share_that_goes_short_is_the_risk(risk: float) -> None:
    order = order_quantity(EVEN, risk=risk)
    assert (order.packs, order.chance_short) == (round(1000 * (1 - risk)), pytest.approx(risk))
    assert (order.risk, order.covers) == (risk, order.packs)


def test_what_is_left_over_is_the_mean_of_what_is_not_needed() -> None:
    order = order_quantity(EVEN, Fraction(50), risk=0.5, on_hand=Fraction(25))
    # 500 are to be covered: 475 beside the 25 on hand, ten packs of 50; 525 are there.
    assert (order.packs, order.quantity) == (10, 500)
    # 1 to 525 leave 524, 523 ... 0: 524 x 525 / 2 in a thousand.
    assert order.left_over == pytest.approx(524 * 525 / 2 / 1000)
    assert order.chance_short == pytest.approx(0.475)
    assert (order.covers, order.item, order.source) == (500, "loaf", "by hand")


@pytest.mark.parametrize(
    ("trip", "left_over", "risk"),
    [("3", "1", 0.25), ("1", "1", 0.5), ("1", "5000", 0.999), ("5000", "1", 0.001)],
)
def test_the_risk_that_balances_what_mistakes_cost(trip: str, left_over: str, risk: float) -> None:
    # Short with chance co / (cu + co) (any operations text), held between 0.001 and 0.999.
    order = order_quantity(EVEN, costs=OrderCosts(Decimal(trip), Decimal(left_over)))
    assert order.risk == pytest.approx(risk)
    assert order.packs == round(1000 * (1 - risk))


def test_what_is_there_in_any_case_lacks_what_is_not_on_hand() -> None:
    order = order_quantity(
        EVEN, Fraction(7), risk=0.999, on_hand=Fraction(20), at_least=Fraction(100)
    )
    # 80 are lacking: twelve packs of 7, 84; 104 are there.
    assert (order.packs, order.quantity, order.covers) == (12, 84, 100)
    assert order.chance_short == pytest.approx(0.896)


def test_one_trip_for_two_likely_amounts_is_weighed_by_hand() -> None:
    # 10 or 20, each as likely. Ordering 10 risks half a trip; ordering 20 leaves 5 on average.
    two = Prediction("waste", "loaf", 0, 15, 15, (), 0, "", (10.0,) * 500 + (20.0,) * 500)
    dear, cheap = (
        order_quantity(two, costs=OrderCosts(Decimal(trip), Decimal(1), once=True))
        for trip in (11, 9)
    )
    assert (dear.packs, dear.risk, dear.covers) == (20, 0, 20)
    assert (cheap.packs, cheap.risk, cheap.covers) == (10, 0.5, 10)


def test_nothing_is_needed_in_any_case_unless_it_is_said() -> None:
    little = Prediction("waste", "caulk", 0, 0.2, 0.2, (), 0, "", (0.2,) * 1000)
    assert order_quantity(little, Fraction(1, 4), risk=0.5).quantity == Fraction(1, 4)
    empty = Prediction("waste", "caulk", 0, 0, 0, (), 0, "", (0.0,) * 1000)
    assert order_quantity(empty, Fraction(1, 4), risk=0.5).packs == 0


def test_a_pack_of_less_than_one_and_an_empty_shelf_are_no_mistakes() -> None:
    assert order_quantity(EVEN, Fraction(1, 2), risk=0.5, on_hand=Fraction(0)).packs == 1000
