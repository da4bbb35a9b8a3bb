"""Geometric waste: what the pieces really cut force, by the cut list of the stock they are from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from joblog.model import BookEntry, Item, Piece

SEARCHED = 1000
"""More pieces are filled one by one, which of so many takes a few sticks in a thousand more than
the least; a search through them would take as long as all the rest of a job."""
EFFORT = 0.1
"""Of the usual search, for one item's cut list; what is not proved least by then is the least that
was found."""


@dataclass(frozen=True, slots=True)
class CutPieces:
    """Pieces of one item that were said to be cut, in the item's own unit."""

    net: Fraction
    """What they measure."""
    gross: Fraction
    """The stock that they need at least, whole sticks of the item's usual length."""
    entries: tuple[int, ...] = ()
    too_long: tuple[int, ...] = ()
    """Entries whose pieces are longer than the stock; they are in neither figure."""


NOTHING = CutPieces(Fraction(0), Fraction(0))


def cut_pieces(item: Item, entries: Iterable[BookEntry]) -> CutPieces:
    """The pieces in these entries; none for an item that does not come in sticks."""
    stick = _stick(item)
    if stick is None or item.stock_length is None:
        return NOTHING
    cut: list[tuple[Fraction, int]] = []
    counted: list[int] = []
    too_long: list[int] = []
    for kept in entries:
        length, pieces = kept.entry.inches, kept.entry.pieces
        if length is None or pieces is None or length <= 0 or pieces <= 0:
            continue
        if length > item.stock_length:
            too_long.append(kept.id)
            continue
        cut.append((length, pieces))
        counted.append(kept.id)
    if not cut:
        return CutPieces(Fraction(0), Fraction(0), (), tuple(too_long))
    measured = sum((length * pieces for length, pieces in cut), Fraction(0))
    # A take-off knows far more than this; squaring up starts quicker without.
    from joblog.takeoff.take_off import KERF

    kerf = KERF if item.kerf is None else item.kerf
    sticks = _fewest(tuple(sorted(cut)), item.stock_length, kerf)
    return CutPieces(
        measured / item.stock_length * stick, sticks * stick, tuple(counted), tuple(too_long)
    )


def _stick(item: Item) -> Fraction | None:
    """How many of the item's own unit one stick is; None for what is not cut from sticks."""
    if item.stock_length is None:
        return None
    if item.unit == "in":
        return item.stock_length
    if item.unit == "ft":
        return item.stock_length / 12
    return None if item.unit in _NO_STICKS else Fraction(1)


_NO_STICKS = ("lb", "ft2", "square", "gal", "box", "pair")


@lru_cache(maxsize=512)
def _fewest(cut: tuple[tuple[Fraction, int], ...], length: Fraction, kerf: Fraction) -> int:
    # A job is squared up each time it is looked at; its pieces seldom change in between, and
    # where there are none nobody should wait for numpy.
    from joblog.cutting.best_fit import best_fit
    from joblog.cutting.cuts import fewest_sticks

    counts: dict[Fraction, int] = {}
    for each, count in cut:
        counts[each] = counts.get(each, 0) + count
    filled, least = best_fit(counts, length, kerf)
    if filled == least or sum(counts.values()) > SEARCHED:
        return filled
    pieces = [Piece(each, count) for each, count in cut]
    return fewest_sticks(pieces, length, kerf=kerf, effort=EFFORT)[0]
