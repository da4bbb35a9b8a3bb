"""What layers of an item come to."""

from __future__ import annotations

from collections.abc import Sequence
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


NOTHING = Fraction(0)
