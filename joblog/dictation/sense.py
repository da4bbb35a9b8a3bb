"""Whether one entry can be so at all, whatever else was said."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from joblog.dictation.draft import item_named
from joblog.model import Entry, Vocabulary
from joblog.quantity import feet_and_inches, tape


def against_sense(entry: Entry, vocabulary: Vocabulary) -> tuple[str, ...]:
    """Why an entry can hardly be so, in words for a person; nothing where it can.

    What only the entries around it can tell is in `joblog.reconcile.sense`.
    """
    return tuple(_whys(entry.replacement or entry, vocabulary))


MOST_PEOPLE = 12
"""On one small job; from memory, crews that hang trim are one to four people."""
LONGEST_DAY = 16
"""Hours that a person may work in one day, and more than anybody should."""
LONGEST_BREAK = 8
"""Hours: a working day."""


MOST: dict[str, tuple[Fraction, str]] = {
    "quantity": (Fraction(100_000), "so many"),
    "pieces": (Fraction(10_000), "so many pieces"),
    "inches": (Fraction(12 * 1000), "so long"),
    "square_inches": (Fraction(144 * 1_000_000), "so large"),
    "unit_cost": (Fraction(100_000), "so much money"),
}
"""Beyond what a small job has of anything, and what to ask then; common practice."""


def _whys(entry: Entry, vocabulary: Vocabulary) -> Iterator[str]:
    for name, (most, question) in MOST.items():
        amount = getattr(entry, name)
        if amount and amount > most:
            yield f"{question}?"
    if entry.workers is not None and entry.workers > MOST_PEOPLE:
        yield f"{entry.workers} people?"
    if entry.hours is not None and entry.hours > LONGEST_DAY:
        yield f"{tape(entry.hours)} hours is more than a day's work"
    if entry.minutes is not None and entry.kind == "break" and entry.minutes > LONGEST_BREAK * 60:
        yield f"a break of {tape(entry.minutes / 60)} hours is longer than a day's work"
    item = item_named(vocabulary, entry.item)
    stock = item.stock_length if item is not None else None
    if entry.pieces and entry.inches and stock and entry.inches > stock:
        yield (
            f"a piece of {feet_and_inches(entry.inches)} cannot be cut from {entry.item}, "
            f"which comes {feet_and_inches(stock)} long"
        )
