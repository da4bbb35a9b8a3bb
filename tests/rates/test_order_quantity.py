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
        ({"risk": 0.1, "pack": Fraction(0)}, "a pack must hold something"),
        ({"costs": OrderCosts(Decimal(0), Decimal(1))}, "must cost something"),
    ],
)
def test_an_order_that_makes_no_sense_is_refused(options: dict[str, object], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        order_quantity(FORTY, **options)  # type: ignore[arg-type]
