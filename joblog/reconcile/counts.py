"""Counts of what is left: what each found, and those that cannot both be right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from joblog.form import amount
from joblog.model import BookEntry, Entry, Item
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


def counts_in(item: Item, entries: Sequence[BookEntry]) -> list[Count]:
    """The counts among entries of one item in order of time, none of them open.

    An offcut that is told in one go with another count lies beside what that one found; the same
    length told again is the same offcut.
    """
    found: list[Count] = []
    shortest = shortest_bought(item, entries)
    for kept in entries:
        if kept.entry.kind != "on_hand":
            continue
        counted = counted_with(found[-1] if found else None, item, kept, shortest)
        if counted is not None:
            if len(counted.told) > 1:
                del found[-1]
            found.append(counted)
    return found


def counted_with(
    count: Count | None, item: Item, kept: BookEntry, shortest: Fraction | None
) -> Count | None:
    """The count that stands once this entry is told; None where it counts nothing."""
    found = quantity_counted(item, kept.entry, shortest)
    return None if found is None else _after(count, item, kept, found, shortest)


def quantity_counted(item: Item, said: Entry, shortest: Fraction | None) -> Fraction | None:
    """What an entry says is there, in the item's own unit; a piece shorter than the shortest that
    is bought is its share of a stick."""
    quantity = in_unit_of(item, said.quantity, said.unit)
    if quantity is None or quantity < 0:
        return None
    if _is_piece(said, shortest) and said.length is not None and item.stock_length is not None:
        return quantity * said.length / item.stock_length
    return quantity


def shortest_bought(item: Item, entries: Iterable[BookEntry]) -> Fraction | None:
    """The shortest length that the item comes in, by the catalog and by what was delivered; None
    for what comes in no lengths."""
    came = (kept.entry.length for kept in entries if kept.entry.kind == "delivered")
    lengths = (item.stock_length, *item.other_lengths, *came)
    return min((one for one in lengths if one is not None), default=None)


def whole(item: Item) -> Fraction | None:
    """How many of the item's own unit one stick, sheet, roll or box of it is; None for what is only
    measured, such as pounds."""
    if item.stock_length is not None and item.unit in ("in", "ft"):
        return item.stock_length / (12 if item.unit == "ft" else 1)
    return None if item.unit in MEASURES and item.unit != "each" else Fraction(1)


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


def _after(
    before: Count | None,
    item: Item,
    kept: BookEntry,
    found: Fraction,
    shortest: Fraction | None,
) -> Count:
    offcut = _is_offcut(item, kept.entry, shortest)
    one = whole(item)
    if before is None or kept.at - before.last.at > IN_ONE_GO:
        return Count(found, _part(found, one, offcut), (kept,))
    beside = offcut or all(_is_offcut(item, one.entry, shortest) for one in before.told)
    others = tuple(other for other in before.told if not _same(kept, other))
    if beside and len(others) < len(before.told):
        return Count(before.quantity, before.parts, (*others, kept))
    if beside:
        parts = before.parts + _part(found, one, offcut)
        return Count(before.quantity + found, parts, (*before.told, kept))
    return Count(found, _part(found, one, offcut), (kept,))


def _part(found: Fraction, one: Fraction | None, offcut: bool) -> Fraction:
    return Fraction(0) if one is None else found if offcut else found % one


def _is_piece(said: Entry, shortest: Fraction | None) -> bool:
    """Whether it speaks of pieces by their length, shorter than the item is bought."""
    return said.length is not None and shortest is not None and 0 < said.length < shortest


def _is_offcut(item: Item, said: Entry, shortest: Fraction | None) -> bool:
    """What is counted in sticks but told by its length: "five feet left", "a five foot piece"."""
    by_length = said.unit in ("in", "ft") and item.unit not in ("in", "ft")
    return _is_piece(said, shortest) or (by_length and item.stock_length is not None)


def _same(kept: BookEntry, other: BookEntry) -> bool:
    one, two = kept.entry, other.entry
    return (one.quantity, one.unit, one.length) == (two.quantity, two.unit, two.length)
