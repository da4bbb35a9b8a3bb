"""A plan and the catalog meet: what is planned under another name, or in another unit, becomes the
catalog's item, so that what is learned and paid on one job is known on the next."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from joblog.catalog.naming import Named
from joblog.form import amount, unit_shown, units_of
from joblog.model import Catalog, Item, Plan, PlannedItem
from joblog.quantity import MEASURES
from joblog.reconcile.units import in_unit_of


@dataclass(frozen=True, slots=True)
class Unsure:
    """A planned item that may be one of the catalog's."""

    name: str
    unit: str
    likely: tuple[Item, ...]
    """The likeliest first; all of them are counted in a unit that the planned one can be put in."""


@dataclass(frozen=True, slots=True)
class Met:
    """A plan whose items are the catalog's as far as that is sure."""

    plan: Plan
    notes: tuple[str, ...] = ()
    """What was taken for what, and what was converted, a line each."""
    unsure: tuple[Unsure, ...] = ()
    apart: tuple[str, ...] = ()
    """Items that the catalog does not have, and that are like none of its."""
    refused: tuple[str, ...] = ()
    """What is called as the catalog calls it, but counted so that nothing turns it into that: a
    line each, with what to do."""


def met(plan: Plan, catalog: Catalog, only: Container[str] | None = None) -> Met:
    """The plan under the catalog's names and in its units, exactly; nothing of it is lost.

    What is not sure, or cannot be converted, stays as it was planned; so does what is not one of
    the items named in `only`, where that is given.
    """
    lines: list[PlannedItem] = []
    notes: list[str] = []
    unsure: list[Unsure] = []
    apart: list[str] = []
    refused: list[str] = []
    names = {line.item.name.lower() for line in plan.items}
    taken: set[str] = set()
    known = Named(catalog.items)
    for line in plan.items:
        lines.append(line)
        name, found = line.item.name, known.meant(line.item.name)
        item = found.item or known.variant_of(name)
        if item is None:
            likely = tuple(one for one in found.likely if _can_be(line, one))
            if likely:
                unsure.append(Unsure(name, line.item.unit, likely))
            else:
                apart.append(name)
            continue
        if only is not None and item.name not in only:
            continue
        other = item.name.lower() != name.lower()
        if other and (item.name.lower() in names or item.name in taken):
            refused.append(
                f"{name}: is the catalog's {item.name}, which is planned too; put both in one row"
            )
            continue
        as_planned = as_item(line, item)
        if as_planned is None:
            refused.append(_cannot(line, item))
            continue
        taken.add(item.name)
        lines[-1] = as_planned
        if found.item is None:
            notes.append(f"{name}: a size of the catalog's {item.variant_of}, and learns with it")
        elif other:
            notes.append(f"{name}: taken for the catalog's {item.name}, {found.how}")
        if item.unit != line.item.unit:
            notes.append(_converted(line, as_planned))
    return Met(
        replace(plan, items=tuple(lines)), tuple(notes), tuple(unsure), tuple(apart), tuple(refused)
    )


def met_again(before: Catalog, after: Catalog, plan: Plan) -> Plan:
    """The plan after a change of the catalog, met by those of its lines that are others now; what
    something costs is no reason to."""
    was = {item.name: _but_price(item) for item in before.items}
    new = {item.name for item in after.items if was.get(item.name) != _but_price(item)}
    return met(plan, after, new).plan if new else plan


def _but_price(item: Item) -> Item:
    return replace(item, unit_cost=None, priced=None)


def as_item(line: PlannedItem, item: Item) -> PlannedItem | None:
    """The planned line as one of this item, in its unit; None where that cannot be done exactly.

    Its own name stays a name that is said for it; so do those that were planned to be said.
    """
    own = () if line.item.name.lower() == item.name.lower() else (line.item.name.lower(),)
    spoken = dict.fromkeys((*own, *line.item.spoken, *item.spoken))
    named = replace(item, name=item.name, spoken=tuple(one for one in spoken if one != item.name))
    if line.item.unit == item.unit:
        return replace(line, item=named if own else replace(line.item, name=item.name))
    one = _one_of(line, item)
    if not one or not _can_be(line, item):
        return None
    cost = line.unit_cost
    return replace(
        line,
        item=named,
        quantity=line.quantity * one,
        opening=line.opening * one,
        net=None if line.net is None else line.net * one,
        offcut=line.offcut * one,
        unit_cost=None if cost is None else price_of(cost, one),
    )


def _can_be(line: PlannedItem, item: Item) -> bool:
    """Whether the planned line can be put in the item's unit exactly, and its price too."""
    if line.item.unit == item.unit:
        return True
    one = _one_of(line, item)
    return bool(one and (line.unit_cost is None or price_of(line.unit_cost, one) is not None))


def _one_of(line: PlannedItem, item: Item) -> Fraction | None:
    """How many of the item's unit one of the planned unit is; None where nothing says so. One
    piece of what is counted one by one is one of it."""
    found = in_unit_of(item, Fraction(1), line.item.unit)
    if not found and line.item.unit == "each" and item.unit not in _OF_MANY:
        return Fraction(1)
    return found


_OF_MANY = frozenset(MEASURES) | set(
    "bag box bucket bundle carton case coil crate pack pail pallet".split()
)
"""Units of what is measured, and of what holds many: a piece of it may be one of those."""


def price_of(cost: Decimal, one: Fraction) -> Decimal | None:
    """The price of one unit where `cost` is paid for `one` of it; None where it is no whole part
    of a cent."""
    each = Fraction(cost) / one * _PARTS
    return Decimal(int(each)) / _PARTS if each.denominator == 1 else None


_PARTS = 10_000
"""Of a dollar: a screw costs less than a cent."""


def _converted(line: PlannedItem, now: PlannedItem) -> str:
    if line.item.unit == "each" and line.quantity == now.quantity:
        one = unit_shown(now.item.unit, now.item.name)
        many = amount(line.quantity)
        return f"{line.item.name}: planned {many} each; one each is taken for one {one}"
    was = units_of(line.quantity, line.item.unit, line.item.name)
    became = units_of(now.quantity, now.item.unit, now.item.name)
    return f"{line.item.name}: planned {was}, which is {became} as the catalog counts it"


def _cannot(line: PlannedItem, item: Item) -> str:
    name = line.item.name
    called = "" if name.lower() == item.name.lower() else f" ({item.name})"
    if _one_of(line, item):
        return (
            f"{name}: its price for one {line.item.unit} is no exact one for one {item.unit}; "
            f"write the price of one {item.unit}"
        )
    return (
        f"{name}: is planned in {line.item.unit}, and the catalog{called} counts it in "
        f'{item.unit}; plan it so, or say how many one is: joblog catalog set "{item.name}" '
        f'"also={line.item.unit} = ..."'
    )
