"""What was told, by place and by day; and why material was spoiled."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, Item, Part, Reason, StockLine
from joblog.quantity import money
from joblog.reconcile.labor import NO_TASK
from joblog.reconcile.stock import Ledger
from joblog.reconcile.units import crew_hours, in_unit_of, total

MOVES = ("delivered", "returned", "used", "spoiled")


@dataclass(slots=True)
class _Sums:
    name: str
    unit: str
    place: str | None
    day: date | None
    amounts: dict[str, list[Fraction]] = field(default_factory=dict)
    entries: list[int] = field(default_factory=list)


def parts_of(
    entries: Sequence[BookEntry], items: Mapping[str, Item], counted: frozenset[int], zone: ZoneInfo
) -> tuple[Part, ...]:
    """What was told of each item and task at each place, then on each day, in order of time.

    Only entries that some balance counts; a count of what is left, or hours, at no place stand
    under the place "". The parts of one item over all places add up to what was told of it.
    """
    places: dict[tuple[str, str], _Sums] = {}
    days: dict[tuple[date, str], _Sums] = {}
    for kept in entries:
        if kept.id not in counted:
            continue
        counts_as = _counts_as(kept, items)
        if counts_as is None:
            continue
        name, unit, key, quantity = counts_as
        place, day = kept.entry.place or "", kept.at.astimezone(zone).date()
        here = places.setdefault((place, name), _Sums(name, unit, place, None))
        then = days.setdefault((day, name), _Sums(name, unit, None, day))
        for sums in (here, then):
            sums.amounts.setdefault(key, []).append(quantity)
            sums.entries.append(kept.id)
    first: dict[str, int] = {}
    for place, _ in places:
        first.setdefault(place, len(first))
    by_place = sorted(places.values(), key=lambda one: (one.place == "", first[one.place or ""]))
    by_day = sorted(days.values(), key=lambda one: one.day or date.min)
    return tuple(map(_part, (*by_place, *by_day)))


def reasons_of(lines: Iterable[tuple[StockLine, Ledger, Fraction | None]]) -> tuple[Reason, ...]:
    """Why material was spoiled, the dearest first, then the most; with the price of one of each."""
    found = [
        Reason(
            text,
            line.item,
            line.unit,
            quantity,
            None if price is None else money(quantity * price),
            tuple(ledger.reason_entries[text]),
        )
        for line, ledger, price in lines
        for text, quantity in ledger.reasons.items()
    ]
    return tuple(sorted(found, key=lambda one: (one.cost is None, -(one.cost or 0), -one.quantity)))


def _counts_as(kept: BookEntry, items: Mapping[str, Item]) -> tuple[str, str, str, Fraction] | None:
    """The item or task, its unit, which amount of a part it adds to, and how much."""
    said = kept.entry
    if said.kind == "labor":
        return said.task or NO_TASK, "hours", "hours", crew_hours(said.hours, said.workers)
    if said.kind not in MOVES or said.item is None:
        return None
    item = items[said.item]
    quantity = in_unit_of(item, said.quantity, said.unit)
    return None if quantity is None else (item.name, item.unit, said.kind, quantity)


def _part(sums: _Sums) -> Part:
    return Part(
        sums.name,
        sums.unit,
        sums.place,
        sums.day,
        **{key: total(amounts) for key, amounts in sums.amounts.items()},
        entries=tuple(sums.entries),
    )
