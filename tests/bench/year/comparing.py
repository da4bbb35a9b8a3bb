"""joblog's figures under the ledger's keys, and every one that differs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from joblog.book import Book
from joblog.model import STOCK, History, Reconciliation
from joblog.service import stock
from tests.bench.year.ledger import MONEY, SHOP, Key, Ledger

CENT = Fraction(1, 100)


def differences(ledger: Ledger, shown: Mapping[Key, Any]) -> Iterator[str]:
    """Each figure that differs, in words; both sides must have the same keys."""
    for key, mine in ledger.figures.items():
        theirs = shown.get(key, "nothing")
        if theirs == "nothing" and not mine:
            continue
        if theirs == "nothing" or not same(key, mine, theirs):
            yield f"{', '.join(key)}: the ledger has {said(mine)}, joblog {said(theirs)}"
    for key in shown.keys() - ledger.figures.keys():
        if shown[key]:
            yield f"{', '.join(key)}: the ledger has nothing, joblog {said(shown[key])}"


def parts_that_do_not_add_up(figures: Reconciliation) -> Iterator[str]:
    """Of money, to the cent: each is rounded, and together they are still the whole."""
    for line in figures.stock:
        money = line.money
        if money is None or money.total is None:
            continue
        parts = (money.scope, money.usage, money.offcut, money.handling, money.price)
        if sum((part or Decimal(0) for part in (*parts, money.unaccounted)), Decimal(0)) != (
            money.total
        ):
            yield f"{figures.job}, {line.item}: its parts in money do not add up to {money.total}"


def same(key: Key, mine: Any, theirs: Any) -> bool:
    """Exactly; what is rounded to the cent lies less than a cent from what is exact."""
    if not isinstance(mine, (int, Fraction, Decimal)) or theirs is None:
        return bool(mine == theirs)
    if key[1] == "bid":
        # Sums of lines of which each is rounded to the cent.
        return abs(Fraction(mine) - Fraction(theirs)) < 10 * CENT
    if key[-1] in MONEY or key[1:3] in (("sum", "material"), ("sum", "labor")):
        return abs(Fraction(mine) - Fraction(theirs)) < CENT * (1 if key[1] != "sum" else 6)
    return Fraction(mine) == Fraction(theirs)


def said(value: Any) -> str:
    if isinstance(value, (Fraction, Decimal)):
        return f"{value} ({float(value):.4f})" if isinstance(value, Fraction) else str(value)
    return str(value)


def shown_of(figures: Reconciliation) -> Iterator[tuple[Key, Any]]:
    """Every figure of a job as it was closed, under the ledger's keys."""
    for key, value in _of_job(figures):
        yield (figures.job, *key), value


def _of_job(figures: Reconciliation) -> Iterator[tuple[Key, Any]]:
    for line in figures.stock:
        names = (
            "opening", "delivered", "returned", "moved_in", "moved_out", "on_hand", "consumed",
            "placed", "spoiled", "offcut", "unaccounted", "pieces", "kept", "at_least", "at_most",
            "planned", "allowed", "allowed_offcut", "allowed_by", "unpriced", "actual_cost",
            "planned_cost",
        )  # fmt: skip
        for name in names:
            yield ("stock", line.item, name), getattr(line, name)
        yield ("stock", line.item, "reasons"), tuple(sorted(line.reasons))
        for name in ("scope", "usage", "offcut", "handling", "unaccounted", "total"):
            if line.variance is not None:
                yield ("stock", line.item, f"variance.{name}"), getattr(line.variance, name)
            if line.money is not None:
                yield ("stock", line.item, f"money.{name}"), getattr(line.money, name)
        if line.money is not None:
            yield ("stock", line.item, "money.price"), line.money.price
    for task in figures.tasks:
        for name in (
            "planned", "actual", "done", "done_hours", "planned_quantity", "planned_rate",
            "actual_rate", "planned_cost", "actual_cost",
        ):  # fmt: skip
            yield ("task", task.task, name), getattr(task, name)
        yield ("task", task.task, "without_amount"), len(task.without_amount)
        if task.variance is not None:
            for name in _LABOR:
                yield ("task", task.task, f"labor.{name}"), getattr(task.variance, name)
    for day in figures.days:
        for name in ("started", "stopped", "break_minutes", "crew_hours", "on_tasks"):
            yield ("day", day.day.isoformat(), name), getattr(day, name)
    yield ("sum", "untold_hours"), figures.untold_hours
    for name in _MATERIAL:
        if figures.material is not None:
            yield ("sum", "material", name), getattr(figures.material, name)
    for name in _LABOR:
        if figures.labor is not None:
            yield ("sum", "labor", name), getattr(figures.labor, name)
    for part in figures.parts:
        by = ("parts", "place", part.place) if part.day is None else (
            "parts", "day", part.day.isoformat()
        )  # fmt: skip
        for name in ("delivered", "returned", "used", "spoiled", "hours"):
            if getattr(part, name):
                yield (*by[:2], by[2] or "", part.name, name), getattr(part, name)
    for name in ("fahrenheit", "depth"):
        yield ("conditions", name), getattr(figures.conditions, name)
    for name in ("spent", "to_charge", "miles"):
        yield ("beside", name), getattr(figures.beside, name)
    yield ("beside", "lines"), len(figures.beside.lines)


_LABOR = (
    "hours", "scope_hours", "efficiency_hours", "scope", "efficiency", "rate", "total",
)  # fmt: skip
_MATERIAL = ("scope", "usage", "offcut", "handling", "unaccounted", "price", "total")


def taught_in(history: History) -> Iterator[tuple[Key, Any]]:
    for use in history.uses:
        key = (use.job, "teaches", use.item)
        yield (*key, "teaches"), True
        yield (*key, "net"), use.net
        yield (*key, "consumed"), use.consumed
        if use.geometric is not None:
            yield (*key, "geometric"), use.geometric
        yield (*key, "allowed_by"), use.allowed_by
    for work in history.work:
        key = (work.job, "teaches", work.task)
        yield (*key, "quantity"), work.quantity
        yield (*key, "crew_hours"), work.crew_hours


def lying_in(book: Book) -> Iterator[tuple[Key, Any]]:
    """What lies anywhere at the end, layer by layer."""
    for one in stock.what_lies(book).items:
        end = SHOP if one.lying.where == STOCK else one.lying.where
        yield (end, "lies", one.lying.item), layers(one.lying.layers)


def lying_of(ledger: Ledger) -> Iterator[tuple[Key, Any]]:
    for (end, item), there in ledger.lies.items():
        yield (end, "lies", item), layers(there)


def layers(there: Any) -> tuple[tuple[Fraction, Fraction | None, str], ...]:
    """(how many, what one cost, the day), those alike in one."""
    joined: dict[tuple[Fraction | None, str], Fraction] = {}
    for layer in there:
        key = (layer.each, str(layer.day))
        joined[key] = joined.get(key, Fraction(0)) + layer.quantity
    return tuple((quantity, each, day) for (each, day), quantity in joined.items())
