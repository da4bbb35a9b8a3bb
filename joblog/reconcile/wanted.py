"""What was said to be needed, and has not come since."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from joblog.form import units_of
from joblog.model import BookEntry, Item, Wanted
from joblog.reconcile.units import in_unit_of


def wanted_of(entries: Sequence[BookEntry], items: Mapping[str, Item]) -> tuple[Wanted, ...]:
    """One line an item, in the order in which they were asked for first; no doubtful ones.

    A delivery of an item, or what was brought of it, answers all that was asked for before it. The
    same amount said twice is taken for one, different ones are added, and the note says which.
    """
    asked: dict[str, list[BookEntry]] = {}
    for kept in sorted(entries, key=lambda one: (one.at, one.id)):
        said = kept.entry
        if kept.open or kept.standing == "dropped" or not said.item:
            continue
        if said.kind == "needed":
            asked.setdefault(said.item, []).append(kept)
        elif said.kind == "delivered" or said.from_job is not None:
            asked.pop(said.item, None)
    return tuple(_wanted(name, mine, items) for name, mine in asked.items())


def _wanted(name: str, asked: Sequence[BookEntry], items: Mapping[str, Item]) -> Wanted:
    item = items.get(name) or Item(
        name, next((k.entry.unit for k in asked if k.entry.unit), "each")
    )
    amounts: list[Fraction] = []
    notes = []
    for kept in asked:
        said = kept.entry
        if said.quantity is None:
            continue
        quantity = in_unit_of(item, said.quantity, said.unit)
        if quantity is None:
            notes.append(f"{units_of(said.quantity, said.unit)} more, which is in another unit")
        elif quantity in amounts:
            notes.append(f"{units_of(quantity, item.unit)} asked for twice, taken for one")
        else:
            amounts.append(quantity)
    if len(amounts) > 1:
        each = " and ".join(units_of(quantity, item.unit) for quantity in amounts)
        notes.append(f"asked for at different times: {each}")
    days = [kept.entry.day for kept in asked if kept.entry.day]
    return Wanted(
        name,
        item.unit,
        sum(amounts, Fraction(0)) if amounts else None,
        tuple(kept.id for kept in asked),
        min(days, default=None),
        "; ".join(dict.fromkeys(notes)),
    )
