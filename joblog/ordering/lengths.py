"""Of an item that costs its own price in each length: what to buy in which."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import ceil

from joblog.model import Item, OrderedLength
from joblog.ordering.foresee import StockCut
from joblog.quantity import money


def lengths_of(item: Item, cut: StockCut, lacking: Fraction) -> tuple[OrderedLength, ...]:
    """The sticks of a cut list in whole packs, and as much more that `lacking` of the item's own
    unit are bought, in the length that a spoiled piece of any size can be cut from for the least
    money."""
    lengths = tuple(_ordered(item, length, _packs(item, count)) for length, count in cut.sticks)
    return with_more(item, lengths, lacking - in_units(item, lengths), cut.longest)


def with_more(
    item: Item, lengths: Sequence[OrderedLength], more: Fraction, longest: Fraction
) -> tuple[OrderedLength, ...]:
    """With the packs that `more` of the item's own unit take; none where that is nothing."""
    if more <= 0:
        return tuple(lengths)
    spare = spare_length(item, longest, more)
    return with_packs(item, lengths, spare, ceil(more / pack_in_units(item, spare)))


def with_packs(
    item: Item, lengths: Sequence[OrderedLength], length: Fraction, packs: int
) -> tuple[OrderedLength, ...]:
    """With so many more packs of one length."""
    counts = {one.length: one.packs for one in lengths}
    counts[length] = counts.get(length, 0) + packs
    return tuple(_ordered(item, one, count) for one, count in sorted(counts.items()) if count)


def spare_length(item: Item, longest: Fraction, more: Fraction) -> Fraction:
    """The length that holds the longest piece, and `more` of the item's own unit for least money;
    of equal ones the longest."""
    assert item.stock_length is not None
    prices = prices_of(item)
    if item.unit_cost is not None:
        prices = {length: cost for length, cost in prices.items() if cost is not None}
    fitting = [length for length in prices if length >= longest] or [item.stock_length]

    def cost(length: Fraction) -> tuple[Fraction, Fraction]:
        packs = max(1, ceil(more / pack_in_units(item, length)))
        # Without prices what measures least is taken to cost least.
        each = length if item.unit_cost is None else Fraction(prices[length] or 0)
        return packs * item.pack * each, -length

    return min(fitting, key=cost)


def pack_in_units(item: Item, length: Fraction) -> Fraction:
    """What a pack of that length is in the item's own unit, sticks of its usual length."""
    assert item.stock_length is not None
    return item.pack * length / item.stock_length


def cost_of(lengths: Sequence[OrderedLength]) -> Decimal | None:
    """What all of them cost; None where one has no price."""
    costs = [one.cost for one in lengths if one.cost is not None]
    return sum(costs, Decimal("0.00")) if len(costs) == len(lengths) else None


def in_units(item: Item, lengths: Sequence[OrderedLength]) -> Fraction:
    """All of them, in the item's own unit."""
    each = (one.packs * pack_in_units(item, one.length) for one in lengths)
    return sum(each, Fraction(0))


def _packs(item: Item, sticks: int) -> int:
    return ceil(sticks / item.pack)


def prices_of(item: Item) -> dict[Fraction, Decimal | None]:
    """What one of each length costs; None where nobody said."""
    assert item.stock_length is not None
    none: dict[Fraction, Decimal | None] = dict.fromkeys(item.other_lengths)
    return {**none, item.stock_length: item.unit_cost, **dict(item.length_costs)}


def _ordered(item: Item, length: Fraction, packs: int) -> OrderedLength:
    each = prices_of(item)[length]
    pieces = packs * item.pack
    cost = None if each is None else money(pieces * Fraction(each))
    return OrderedLength(length, packs, pieces, each, cost)
