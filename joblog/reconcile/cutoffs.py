"""Cutoffs that a job has left, by their lengths."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from joblog.model import BookEntry, Item, StockLength
from joblog.reconcile.counts import counts_in, quantity_counted, shortest_bought


def cutoffs_left(
    item: Item, entries: Sequence[BookEntry], on_hand: Fraction | None
) -> tuple[tuple[StockLength, ...], Fraction]:
    """The cutoffs that the last count of an item told by their lengths, and how much of the item's
    own unit they were counted as.

    None where `on_hand` is not what that count found: something came or went since, and nobody
    knows which lengths are still there.
    """
    mine = sorted(
        (
            kept
            for kept in entries
            if kept.entry.item == item.name and kept.standing != "dropped" and not kept.open
        ),
        key=lambda kept: (kept.at, kept.id),
    )
    counts = counts_in(item, mine)
    if not counts or counts[-1].quantity != on_hand or item.stock_length is None:
        return (), Fraction(0)
    shortest = shortest_bought(item, mine)
    left: list[StockLength] = []
    share = Fraction(0)
    for kept in counts[-1].told:
        said, found = kept.entry, quantity_counted(item, kept.entry, shortest)
        if said.length is None or shortest is None or not 0 < said.length < shortest or not found:
            continue
        pieces = found * item.stock_length / said.length
        if pieces.denominator == 1:
            left.append(StockLength(said.length, int(pieces), offcut=True))
            share += found
    return tuple(left), share
