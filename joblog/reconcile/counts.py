"""Counts of what is left that cannot both be right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from joblog.form import amount
from joblog.model import BookEntry, Item
from joblog.reconcile.units import in_unit_of

IN_ONE_GO = timedelta(minutes=30)
"""What is told so soon after a count of the same item was in that count (common practice: one
counts, and then tells what was used)."""


@dataclass(frozen=True, slots=True)
class Clash:
    """A later count that finds more than an earlier one and what came in between."""

    earlier: BookEntry
    later: BookEntry
    over: Fraction
    why: str


def clashing_counts(item: Item, entries: Sequence[BookEntry]) -> Iterator[Clash]:
    """Of entries of one item in order of time, none of them open; each count with the one before.

    Stock does not grow by itself: what was counted before, and everything told to have come since,
    is all that can be there.
    """
    before: tuple[BookEntry, Fraction] | None = None
    for kept in entries:
        left = in_unit_of(item, kept.entry.quantity, kept.entry.unit)
        if kept.entry.kind != "on_hand" or left is None:
            continue
        if before is not None:
            earlier, count = before
            came = sum(
                (
                    in_unit_of(item, other.entry.quantity, other.entry.unit) or Fraction(0)
                    for other in entries
                    if other.entry.kind == "delivered"
                    and earlier.at <= other.at <= kept.at + IN_ONE_GO
                ),
                Fraction(0),
            )
            if left > count + came:
                since = f"only {amount(came)} came since" if came else "none came since"
                why = f"{amount(left)} left, where {amount(count)} were left before and {since}"
                yield Clash(earlier, kept, left - count - came, why)
        before = kept, left
