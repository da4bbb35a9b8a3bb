"""How many whole packs to order of all items of a job together, for a trip is paid once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from joblog.model import Order, OrderCosts, Prediction


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
    def proved(self) -> bool:
        """Whether no other order is better."""
        return self.spent <= self.at_least + 1e-9 * max(1.0, abs(self.spent))


def order_together(
    demands: Sequence[Demand],
    *,
    alike: float,
    risk: float | None = None,
    costs: OrderCosts | None = None,
) -> OrderTogether:
    """The packs of all items that cost least while anything is missing on at most `risk` of such
    jobs; or, with `costs`, those with the least expected cost."""
    raise NotImplementedError
