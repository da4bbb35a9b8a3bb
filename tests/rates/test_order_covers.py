"""What an order is meant to cover, beside its whole packs."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.model import History, OrderCosts
from joblog.rates import learn, order_quantity, predict
from tests.rates.closed import scattered, uses

LEARNED = learn(History(uses(scattered(0.08, 0.5, 12))))
FORTY = predict(LEARNED, "soffit panel", Fraction(40), Fraction(2))
ONE_TRIP = OrderCosts(Decimal(60), Decimal(8), once=True)
PACKS = st.fractions(Fraction(1, 4), 60, max_denominator=4)
ON_HAND = st.fractions(0, 90, max_denominator=8)


@given(st.floats(0.01, 0.99), PACKS, ON_HAND)
def test_the_packs_are_those_that_cover_the_amount_asked_for(
    risk: float, pack: Fraction, on_hand: Fraction
) -> None:
    order = order_quantity(FORTY, pack, risk=risk, on_hand=on_hand)
    assert order.covers <= float(on_hand + order.quantity) + 1e-6
    assert order.packs == 0 or order.covers > float(on_hand + order.quantity - pack)


@given(PACKS, ON_HAND)
def test_where_one_trip_brings_all_the_packs_cover_the_amount_too(
    pack: Fraction, on_hand: Fraction
) -> None:
    order = order_quantity(FORTY, pack, costs=ONE_TRIP, on_hand=on_hand)
    assert order.covers <= float(on_hand + order.quantity) + 1e-6
    assert order.packs == 0 or order.covers > float(on_hand + order.quantity - pack)


@given(st.floats(0.01, 0.99), ON_HAND)
def test_net_and_geometric_waste_are_there_whatever_the_risk(
    risk: float, on_hand: Fraction
) -> None:
    order = order_quantity(FORTY, risk=risk, on_hand=on_hand, at_least=Fraction(42))
    assert order.quantity + on_hand >= 42
    assert order.covers >= 42


def test_more_on_hand_than_anybody_needs_is_not_called_needed() -> None:
    order = order_quantity(FORTY, costs=ONE_TRIP, on_hand=Fraction(500))
    assert order.packs == 0
    assert order.covers < 60


def test_the_chance_of_running_short_is_that_of_the_packs_really_bought() -> None:
    # A risk of 99 % alone would leave out part of what is needed in any case.
    bold = order_quantity(FORTY, Fraction(1, 8), risk=0.99)
    sure = order_quantity(FORTY, Fraction(1, 8), risk=0.99, at_least=Fraction(42))
    assert sure.quantity == 42 > bold.quantity
    assert sure.chance_short < bold.chance_short
