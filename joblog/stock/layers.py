"""What an item costs while it lies somewhere: layers, the oldest taken first.

First in, first out: what leaves takes the cost of what has lain longest, and what lies there at
the end cost what was paid last (Warren, Reeve and Duchac, Accounting, on FIFO under a perpetual
inventory system). What goes back to the supplier is what came last. All of it is exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from joblog.model import Layer


def quantity_of(layers: Sequence[Layer]) -> Fraction:
    """How many they are together."""
    return sum((layer.quantity for layer in layers), Fraction(0))


def cost_of(layers: Sequence[Layer]) -> Fraction:
    """Dollars that those with a price cost together."""
    return sum((layer.quantity * layer.each for layer in layers if layer.each is not None), NOTHING)


def unpriced_in(layers: Sequence[Layer]) -> Fraction:
    """How many of them nobody told a price of."""
    return sum((layer.quantity for layer in layers if layer.each is None), NOTHING)


def price_of(entry_cost: Decimal, said: Fraction, quantity: Fraction) -> Fraction:
    """What one costs of the item's own unit, of `quantity` that were said as `said` at that cost."""
    return Fraction(entry_cost) * said / quantity


NOTHING = Fraction(0)
