"""What it would cost if an entry were wrong, for the order in which questions are asked.

These are rough figures, and stand in no other place: the money of the item times what competes,
hours at what an hour costs, covered work high, mere words nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from joblog.asking.doubts import About, Doubt
from joblog.model import STOCK_KINDS, Catalog, Entry, Item, Kind, Plan
from joblog.quantity import fraction_of, money
from joblog.reconcile.units import crew_hours, in_unit_of

COVERED = Decimal(500)
"""What is covered can only be looked at by opening it again: dearer than most material of a small
job (common practice)."""
NO_PRICE, NO_PAY, A_MILE = Fraction(5), Fraction(30), Fraction(1, 2)
"""What one of an item, an hour and a mile are taken for where nobody said what they cost."""
SMALL = Fraction(1)
"""What a figure is taken for that costs nothing by itself, such as a depth."""
SHARE: dict[About, Fraction] = {
    "item": Fraction(1), "became": Fraction(1), "kind": Fraction(1), "stock": Fraction(1),
    "number": Fraction(1, 2), "whose": Fraction(1, 2), "time": Fraction(1, 2),
    "words": Fraction(1, 4), "record": Fraction(1), "place": Fraction(1, 50),
}  # fmt: skip
"""How much of the entry is at stake by what is asked; of a number where it does not say which."""


@dataclass(frozen=True, slots=True)
class Prices:
    """What things cost on a job."""

    items: dict[str, Item]
    of_one: dict[str, Fraction]
    """By item, of one of its own unit."""
    an_hour: dict[str, Fraction]
    """By task, of one person."""
    dearest_hour: Fraction = NO_PAY
    """Of what nobody knows the task of."""


def prices(plan: Plan, catalog: Catalog | None, items: dict[str, Item]) -> Prices:
    """The plan's prices before those of the catalog."""
    of_one = {name: Fraction(item.unit_cost) for name, item in items.items() if item.unit_cost}
    of_one |= {one.item.name: Fraction(one.unit_cost) for one in plan.items if one.unit_cost}
    known = catalog.tasks if catalog else ()
    an_hour = {task.name: Fraction(task.hourly_cost) for task in known if task.hourly_cost}
    an_hour |= {one.task.name: Fraction(one.hourly_cost) for one in plan.tasks if one.hourly_cost}
    return Prices(items, of_one, an_hour, max(an_hour.values(), default=NO_PAY))


def at_stake(entries: Iterable[Entry], doubts: Sequence[Doubt], known: Prices) -> Decimal:
    """Money, to the cent, of all that is asked about together; 0 only for mere words of which no
    more is asked than which words they are."""
    told = list(entries)
    if all(entry.kind in MERE_WORDS for entry in told):
        return Decimal(0) if _only_which_words(doubts) else money(SMALL)
    stake = money(sum((_stake(entry, doubts, known) for entry in told), Fraction(0)))
    return max(stake, Decimal("0.01"))


MERE_WORDS: tuple[Kind, ...] = (
    "note", "problem", "photo", "weather", "todo", "inspection", "visit",
)  # fmt: skip
"""Kinds on which no figure hangs. What was covered is not among them."""


def _only_which_words(doubts: Sequence[Doubt]) -> bool:
    return all(doubt.kind.about in ("words", "record") for doubt in doubts)


def _stake(entry: Entry, doubts: Sequence[Doubt], known: Prices) -> Fraction:
    whole = _worth(entry, known)
    if entry.kind == "covered" or not doubts:
        return whole
    return max(whole * _share(entry, doubt) for doubt in doubts)


def _share(entry: Entry, doubt: Doubt) -> Fraction:
    """How much of an entry is at stake; of two numbers, what lies between them."""
    share = SHARE[doubt.kind.about]
    if doubt.kind.about != "number":
        return share
    numbers = [_first_number(way) for way in doubt.ways]
    told = [one for one in numbers if one]
    return (max(told) - min(told)) / max(told) if len(told) > 1 else share


def _first_number(way: str) -> Fraction | None:
    found = _NUMBER.search(way)
    try:
        return fraction_of(found.group()) if found else None
    except ValueError:
        return None


_NUMBER = re.compile(r"\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?")


def _worth(entry: Entry, known: Prices) -> Fraction:
    """What the whole entry comes to in money."""
    entry = entry.replacement or entry
    if entry.kind == "covered":
        return Fraction(COVERED)
    if entry.kind in STOCK_KINDS:
        return _material(entry, known)
    if entry.kind in ("labor", "start", "stop", "break"):
        return _hours(entry, known)
    if entry.kind == "price":
        return Fraction(entry.unit_cost or 0) * 10
    if entry.kind in ("extra", "expense"):
        hours = (entry.hours or Fraction(0)) * NO_PAY
        return Fraction(entry.price) if entry.price is not None else hours
    if entry.kind == "drive":
        return (entry.miles or Fraction(0)) * A_MILE
    if entry.kind == "measure":
        return _cut(entry, known)
    return SMALL if entry.kind == "correction" else Fraction(0)


def _material(entry: Entry, known: Prices) -> Fraction:
    item = known.items.get(entry.item or "")
    if item is None:
        # Of what, nobody knows: it may be the dearest that is counted so.
        each: Fraction = max(
            (cost for name, cost in known.of_one.items() if known.items[name].unit == entry.unit),
            default=NO_PRICE,
        )
        return each * (Fraction(1) if entry.quantity is None else abs(entry.quantity))
    quantity = in_unit_of(item, entry.quantity, entry.unit)
    many = Fraction(1) if quantity is None else abs(quantity)
    return known.of_one.get(item.name, NO_PRICE) * many


def _hours(entry: Entry, known: Prices) -> Fraction:
    an_hour = known.an_hour.get(entry.task or "", known.dearest_hour)
    hours = entry.hours
    if entry.kind == "break":
        hours = (entry.minutes or Fraction(30)) / 60
    return crew_hours(Fraction(1) if hours is None else hours, entry.workers) * an_hour


def _cut(entry: Entry, known: Prices) -> Fraction:
    """Pieces that are cut come to so much of a stick."""
    item = known.items.get(entry.item or "")
    if not entry.pieces or not entry.inches:
        return SMALL
    long = (item.stock_length if item else None) or Fraction(144)
    each = known.of_one.get(item.name, NO_PRICE) if item else NO_PRICE
    return max(SMALL, each * entry.pieces * entry.inches / long)
