"""What an item is counted in: whole pieces, halves of one, or sticks told in feet."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

USUAL = Fraction(1, 2)
"""Halves of a piece, where nothing is known."""


def step_of(amounts: Iterable[Fraction]) -> Fraction:
    """The step that all amounts are multiples of: 1/2 where halves of a piece were counted, 6 where
    sticks of 12 ft were counted in halves and told in feet; `USUAL` where nothing tells it surely.

    The likeliest of those that people count in, by Bayes: amounts that come in steps of s are all
    multiples of a coarser step t by chance (s / t) to the power of how many they are.
    """
    told = [amount for amount in amounts if amount > 0]
    likely = {
        step: before * step ** len(told)
        for step, before in _BEFORE.items()
        if all((amount / step).denominator == 1 for amount in told)
    }
    best = max(likely, key=lambda step: likely[step], default=USUAL)
    return best if likely and likely[best] > _SURE * sum(likely.values()) else USUAL


_SURE = Fraction(3, 5)


def piece_of(step: float) -> float:
    """How much one piece is, in the item's own unit: what is told in coarse steps was counted in
    halves of it."""
    return 1.0 if step <= 1 else 2 * step


_COARSE = (2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 50, 100)
_BEFORE = {
    USUAL: Fraction(50, 100),
    Fraction(1): Fraction(20, 100),
    Fraction(1, 4): Fraction(2, 100),
    Fraction(1, 8): Fraction(2, 100),
    **{Fraction(step): Fraction(2, 100) for step in _COARSE},
}
"""How likely each is before anything was told; common practice, not a measurement."""
