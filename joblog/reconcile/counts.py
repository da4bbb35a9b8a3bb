"""Counts of what is left: what each found, and those that cannot both be right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from joblog.form import amount
from joblog.model import BookEntry, Item
from joblog.quantity import MEASURES
from joblog.reconcile.units import in_unit_of

IN_ONE_GO = timedelta(minutes=30)
"""What is told so soon after a count of the same item was in that count (common practice: one
counts, and then tells what was used)."""


@dataclass(frozen=True, slots=True)
class Count:
    """What was found at one moment, in the item's own unit; offcuts told beside the whole sticks
    are part of it."""

    quantity: Fraction
    parts: Fraction
    """How much of it is no whole stick, sheet or roll: begun ones, and offcuts that were kept."""
    told: tuple[BookEntry, ...]

    @property
    def last(self) -> BookEntry:
        return self.told[-1]


@dataclass(frozen=True, slots=True)
class Clash:
    """A later count that finds more than an earlier one and what came in between."""

    earlier: BookEntry
    later: BookEntry
    over: Fraction
    why: str


def counts_in(item: Item, entries: Iterable[BookEntry]) -> list[Count]:
    """The counts among entries of one item in order of time, none of them open.

    An offcut that is told in one go with another count lies beside what that one found; the same
    length told again is the same offcut.
    """
    found: list[Count] = []
    for kept in entries:
        counted = quantity_counted(item, kept) if kept.entry.kind == "on_hand" else None
        if counted is not None:
            found.append(_after(found[-1] if found else None, item, kept, counted))
            if len(found) > 1 and found[-2].told == found[-1].told[:-1]:
                del found[-2]
    return found


def counted_with(count: Count | None, item: Item, kept: BookEntry) -> Count | None:
    """The count that stands once this entry is told; None where it counts nothing."""
    found = quantity_counted(item, kept)
    return None if found is None else _after(count, item, kept, found)


def quantity_counted(item: Item, kept: BookEntry) -> Fraction | None:
    """What an entry says is there, in the item's own unit; a piece shorter than the item comes is
    its share of a stick."""
    said = kept.entry
    quantity = in_unit_of(item, said.quantity, said.unit)
    if quantity is None or quantity < 0:
        return None
    if is_piece(item, kept) and said.length is not None and item.stock_length is not None:
        return quantity * said.length / item.stock_length
    return quantity


def whole(item: Item) -> Fraction | None:
    """How many of the item's own unit one stick, sheet, roll or box of it is; None for what is only
    measured, such as pounds."""
    if item.stock_length is not None and item.unit in ("in", "ft"):
        return item.stock_length / (12 if item.unit == "ft" else 1)
    return None if item.unit in MEASURES and item.unit != "each" else Fraction(1)


def is_piece(item: Item, kept: BookEntry) -> bool:
    """Whether it speaks of pieces by their length, shorter than the item is bought."""
    length = kept.entry.length
    bought = [one for one in (item.stock_length, *item.other_lengths) if one is not None]
    return length is not None and length > 0 and bool(bought) and length < min(bought)


def clashing_counts(item: Item, entries: Sequence[BookEntry]) -> Iterator[Clash]:
    """Of entries of one item in order of time, none of them open; each count with the one before.

    Stock does not grow by itself: what was counted before, and everything told to have come since,
    is all that can be there.
    """
    before: Count | None = None
    came = [kept for kept in entries if kept.entry.kind == "delivered"]
    first = 0
    for count in counts_in(item, entries):
        if before is not None:
            since = Fraction(0)
            while first < len(came) and came[first].at < before.last.at:
                first += 1
            for kept in came[first:]:
                if kept.at > count.last.at + IN_ONE_GO:
                    break
                since += in_unit_of(item, kept.entry.quantity, kept.entry.unit) or Fraction(0)
            if count.quantity > before.quantity + since:
                told = f"only {amount(since)} came since" if since else "none came since"
                why = (
                    f"{amount(count.quantity)} left, where {amount(before.quantity)} were left "
                    f"before and {told}"
                )
                over = count.quantity - before.quantity - since
                yield Clash(before.last, count.last, over, why)
        before = count


def _after(before: Count | None, item: Item, kept: BookEntry, found: Fraction) -> Count:
    offcut = _is_offcut(item, kept)
    one = whole(item)
    if before is None or kept.at - before.last.at > IN_ONE_GO:
        return Count(found, _part(found, one, offcut), (kept,))
    beside = all(_is_offcut(item, other) for other in before.told) or offcut
    if beside and any(_same(kept, other) for other in before.told):
        return Count(before.quantity, before.parts, (*before.told, kept))
    if beside:
        parts = before.parts + _part(found, one, offcut)
        return Count(before.quantity + found, parts, (*before.told, kept))
    return Count(found, _part(found, one, offcut), (kept,))


def _part(found: Fraction, one: Fraction | None, offcut: bool) -> Fraction:
    return Fraction(0) if one is None else found if offcut else found % one


def _is_offcut(item: Item, kept: BookEntry) -> bool:
    """What is counted in sticks but told by its length: "five feet left", "a five foot piece"."""
    if is_piece(item, kept):
        return True
    by_length = kept.entry.unit in ("in", "ft") and item.unit not in ("in", "ft")
    return by_length and item.stock_length is not None


def _same(kept: BookEntry, other: BookEntry) -> bool:
    one, two = kept.entry, other.entry
    return (one.quantity, one.unit, one.length) == (two.quantity, two.unit, two.length)
