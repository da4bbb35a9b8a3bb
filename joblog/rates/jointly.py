"""How many whole packs to order of all items of a job together, for a trip is paid once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import gcd, lcm
from statistics import median

from joblog.model import Order, OrderCosts, Prediction
from joblog.rates.coverage import coverage_of
from joblog.rates.one_trip import least_expected
from joblog.rates.order import (
    expected_left,
    order_of,
    order_quantity,
    packs_at_least,
    packs_wanted,
    risk_asked,
)
from joblog.rates.tail import without_far_tail
from joblog.rates.within_risk import least_within


@dataclass(frozen=True, slots=True)
class Demand:
    """What a job may take of one item, and how it is sold."""

    prediction: Prediction
    pack: Fraction = Fraction(1)
    """Units in a pack."""
    on_hand: Fraction = Fraction(0)
    at_least: Fraction = Fraction(0)
    """There in any case, whatever the risk."""
    price: Fraction | None = None
    """Of a pack; None where nobody knows."""


@dataclass(frozen=True, slots=True)
class OrderTogether:
    """Whole packs of every item, and the chance that anything is missing."""

    orders: tuple[Order, ...]
    """In the order of the demands."""
    chance_any: float
    spent: float
    """What was made least: money for all packs, or what trips and packs left over cost."""
    at_least: float
    """No order within the risk, or no order at all where costs were told, can spend less."""
    alike: float

    @property
    def at_most_saved(self) -> float:
        """The share of what is spent that a better order could save; 0 where this is proved the
        best."""
        return max(0.0, 1 - self.at_least / self.spent) if self.spent > 0 else 0.0


def order_together(
    demands: Sequence[Demand],
    *,
    alike: float,
    risk: float | None = None,
    costs: OrderCosts | None = None,
) -> OrderTogether:
    """The packs of all items that cost least while anything is missing on at most `risk` of such
    jobs; or, with `costs`, those with the least expected cost.

    `costs` are of one trip for all that is missing, whatever it is; where they are of each pack
    missing nothing is shared, and every item is ordered by itself as in `order_quantity`. A pack
    that nobody knows the price of counts as much as the median of the others. `alike` is how much
    the items of one job turn out alike, as in `together`.

    Raises ValueError as `order_quantity` does.
    """
    if costs is not None and not costs.once:
        return _each_by_itself(demands, costs, alike)
    demands = [replace(one, prediction=without_far_tail(one.prediction)) for one in demands]
    asked = [risk_asked(one.prediction.name, risk, costs) for one in demands]
    wanted = [packs_wanted(one.prediction, one.pack, one.on_hand) for one in demands]
    least = [packs_at_least(one.pack, one.on_hand, one.at_least) for one in demands]
    if not demands:
        return OrderTogether((), 0.0, 0.0, 0.0, alike)
    coverage = coverage_of(wanted, least, alike)
    if costs is not None:
        left = [
            float(costs.left_over) * expected_left(packs, levels)
            for packs, levels in zip(wanted, coverage.levels, strict=True)
        ]
        found = least_expected(coverage, left, float(costs.second_trip))
    else:
        prices = _prices(demands)
        money = [
            float(price) * levels for price, levels in zip(prices, coverage.levels, strict=True)
        ]
        found = least_within(coverage, money, asked[0], float(_step(prices)))
    orders = tuple(
        order_of(
            one.prediction, one.pack, int(levels[place]), short,
            on_hand=one.on_hand, at_least=one.at_least,
        )
        for one, levels, place, short in zip(
            demands, coverage.levels, found.places, asked, strict=True
        )
    )  # fmt: skip
    chance = max(0.0, 1 - coverage.chance(found.places))
    return OrderTogether(orders, chance, found.spent, found.at_least, alike)


def chance_of_missing(demands: Sequence[Demand], packs: Sequence[int], alike: float) -> float:
    """That anything is missing when so many packs of each are there beside what is on hand."""
    tails = [without_far_tail(one.prediction) for one in demands]
    wanted = [
        packs_wanted(tail, one.pack, one.on_hand) for tail, one in zip(tails, demands, strict=True)
    ]
    coverage = coverage_of(wanted, packs, alike)
    return max(0.0, 1 - coverage.chance([0] * len(packs)))


def _each_by_itself(demands: Sequence[Demand], costs: OrderCosts, alike: float) -> OrderTogether:
    """Where every pack missing costs something nothing is shared: the best of all is the best of
    each."""
    orders = tuple(
        order_quantity(
            one.prediction, one.pack, costs=costs, on_hand=one.on_hand, at_least=one.at_least
        )
        for one in demands
    )
    chance = chance_of_missing(demands, [order.packs for order in orders], alike)
    return OrderTogether(orders, chance, 0.0, 0.0, alike)


def _prices(demands: Sequence[Demand]) -> list[Fraction]:
    """Of a pack of each; what costs nothing still counts a cent, so that none is bought idly."""
    known = [one.price for one in demands if one.price is not None]
    usual = Fraction(round(median(known) * 100), 100) if known else Fraction(1)
    return [max(usual if one.price is None else one.price, Fraction(1, 100)) for one in demands]


def _step(prices: Sequence[Fraction]) -> Fraction:
    """The greatest amount that all sums of prices are multiples of."""
    whole = lcm(*(price.denominator for price in prices))
    return Fraction(gcd(*(int(price * whole) for price in prices)), whole)
