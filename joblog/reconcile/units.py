"""Amounts as they are counted: in an item's own unit, and in crew hours."""

from __future__ import annotations

from fractions import Fraction

from joblog.model import Item
from joblog.quantity import convert


def in_unit_of(item: Item, quantity: Fraction | None, unit: str | None) -> Fraction | None:
    """A quantity in the item's own unit; None when it cannot be turned into it."""
    if quantity is None or unit is None or unit == item.unit:
        return quantity
    for other, one in item.also:
        if other == unit:
            return quantity * one
    return convert(quantity, unit, item.unit)


def crew_hours(hours: Fraction | None, workers: int | None) -> Fraction:
    """People times hours; one person when nobody said how many."""
    return (hours or Fraction(0)) * (workers or 1)
