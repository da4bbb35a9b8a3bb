"""An order by supplier: sums, sales tax, and what is below the least that one takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from joblog.model import Catalog, OrderLine
from joblog.quantity import money


@dataclass(frozen=True, slots=True)
class SupplierOrder:
    """What is bought of one supplier. Money is exact, to the cent."""

    supplier: str
    """"" for what nobody said a supplier of."""
    lines: tuple[OrderLine, ...]
    cost: Decimal | None
    """Before tax, of all lines with a price; None where none has one."""
    tax: Decimal
    """Each rate on the sum of what bears it, rounded to the cent once, as on one bill."""
    unpriced: tuple[str, ...]
    """Items that are bought and have no price."""
    least_order: Decimal | None
    """The least that it takes an order for, before tax; the highest, where its items differ."""

    @property
    def total(self) -> Decimal | None:
        return None if self.cost is None else self.cost + self.tax

    @property
    def below(self) -> Decimal:
        """What is lacking to the least order; nothing where nothing is bought there."""
        if self.least_order is None or not any(line.packs for line in self.lines):
            return Decimal("0.00")
        return max(self.least_order - (self.cost or Decimal()), Decimal("0.00"))


def by_supplier(lines: Sequence[OrderLine]) -> tuple[SupplierOrder, ...]:
    """In the order in which suppliers first come; what has none comes last."""
    names = list(dict.fromkeys(line.supplier for line in lines))
    names.sort(key=lambda name: not name)
    return tuple(_of(name, [line for line in lines if line.supplier == name]) for name in names)


def with_tax(catalog: Catalog, tax: Fraction | None) -> Catalog:
    """The catalog with that sales tax on every item that has none of its own."""
    if tax is None:
        return catalog
    items = (item if item.tax is not None else replace(item, tax=tax) for item in catalog.items)
    return replace(catalog, items=tuple(items))


def _of(name: str, lines: Sequence[OrderLine]) -> SupplierOrder:
    priced = [line for line in lines if line.cost is not None]
    sums: dict[Fraction, Fraction] = {}
    for line in priced:
        rate = line.tax or Fraction(0)
        sums[rate] = sums.get(rate, Fraction(0)) + Fraction(line.cost or 0)
    return SupplierOrder(
        supplier=name,
        lines=tuple(lines),
        cost=sum((line.cost or Decimal() for line in priced), Decimal("0.00")) if priced else None,
        tax=sum((money(rate * cost) for rate, cost in sums.items()), Decimal("0.00")),
        unpriced=tuple(line.item for line in lines if line.cost is None and line.packs),
        least_order=max((line.least_order for line in lines if line.least_order), default=None),
    )
