"""Amounts as they are counted: in an item's own unit, and in crew hours."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from joblog.model import Item
from joblog.quantity import convert


def in_unit_of(item: Item, quantity: Fraction | None, unit: str | None) -> Fraction | None:
    """A quantity in the item's own unit; None when it cannot be turned into it.

    Feet of what is counted in sticks are lengths of them; feet or squares of what one covers a
    known length or area of are turned by that.
    """
    if quantity is None or unit is None or unit == item.unit:
        return quantity
    for other, one in item.also:
        if other == unit:
            return quantity * one
    found = convert(quantity, unit, item.unit)
    if found is None and item.unit == "stick" and item.stock_length:
        inches = convert(quantity, unit, "in")
        found = None if inches is None else inches / item.stock_length
    if found is None and item.covers is not None and item.covers.quantity > 0:
        covered = convert(quantity, unit, item.covers.unit)
        found = None if covered is None else covered / item.covers.quantity
    return found


NOTHING = Fraction(0)


def crew_hours(hours: Fraction | None, workers: int | None) -> Fraction:
    """People times hours; one person when nobody said how many."""
    if hours is None:
        return NOTHING
    return hours * workers if workers is not None and workers > 1 else hours


def total(amounts: Iterable[Fraction]) -> Fraction:
    """Their sum, for many of them: one by one, each step would be brought to its lowest terms."""
    parts: dict[int, int] = {}
    for one in amounts:
        parts[one.denominator] = parts.get(one.denominator, 0) + one.numerator
    return sum((Fraction(many, part) for part, many in parts.items()), NOTHING)
