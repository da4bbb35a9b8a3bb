"""The reconciliation of one job. Pure: plan and entries in, balances out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from joblog.model import (
    STOCK_KINDS,
    BookEntry,
    Catalog,
    Gap,
    Item,
    Job,
    Plan,
    PlannedItem,
    PlannedTask,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog.plan.catalog import starter
from joblog.quantity import money
from joblog.reconcile.hours import attendance
from joblog.reconcile.sense import sensed
from joblog.reconcile.units import crew_hours, in_unit_of


def reconcile(
    job: Job, plan: Plan, entries: Sequence[BookEntry], catalog: Catalog | None = None
) -> Reconciliation:
    """Planned against used, per item and per task, and the hours of each day.

    The entries are those of the book; what makes no sense among them is doubted here (`sensed`).
    Only entries that are free of doubt, or that a person accepted, are counted; the others stand
    in `left_out` of their line. Counts taken later replace earlier counts of what is left. Costs
    are planned quantity times planned cost, and consumed quantity times the average price paid
    (the planned one where no price was said); None where something needed for it is missing.
    Items that are not planned are looked up in the catalog, the starter's where none is given.
    """
    standing = [
        entry for entry in sensed(job, plan, entries, catalog) if entry.standing != "dropped"
    ]
    stock = tuple(_stock_lines(plan, standing, catalog))
    tasks = tuple(_task_lines(plan, standing))
    return Reconciliation(
        job=job.name,
        stock=stock,
        tasks=tasks,
        days=attendance(job, standing),
        open_doubts=sum(entry.open for entry in standing),
        gaps=tuple(Gap(text, "count") for text in _notes(stock, tasks, standing)),
    )


def _stock_lines(
    plan: Plan, entries: Sequence[BookEntry], catalog: Catalog | None
) -> Iterable[StockLine]:
    planned = {line.item.name: line for line in plan.items}
    named = {item.name: item for item in (catalog.items if catalog else starter())}
    spoken = [entry for entry in entries if entry.entry.kind in STOCK_KINDS]
    names = dict.fromkeys([*planned, *(e.entry.item for e in spoken if e.entry.item)])
    for name in names:
        line = planned.get(name)
        item = line.item if line else named.get(name) or Item(name, "each")
        mine = [entry for entry in spoken if entry.entry.item == name]
        if line is None and all(entry.entry.kind == "needed" for entry in mine):
            continue
        yield _balance(item, line, mine)


def _balance(item: Item, line: PlannedItem | None, entries: Sequence[BookEntry]) -> StockLine:
    sums = dict.fromkeys(("delivered", "returned", "used", "spoiled"), Fraction(0))
    on_hand: Fraction | None = None
    counted: list[int] = []
    left_out: list[int] = []
    reasons: dict[str, Fraction] = {}
    paid: list[tuple[Fraction, Decimal]] = []
    for kept in sorted(entries, key=lambda entry: (entry.at, entry.id)):
        said = kept.entry
        quantity = in_unit_of(item, said.quantity, said.unit)
        if said.kind == "needed":
            continue
        if kept.open or quantity is None:
            left_out.append(kept.id)
            continue
        counted.append(kept.id)
        if said.kind == "on_hand":
            on_hand = quantity
            continue
        sums[said.kind] += quantity
        if said.kind == "spoiled":
            reason = said.reason or "no reason said"
            reasons[reason] = reasons.get(reason, Fraction(0)) + quantity
        if said.kind == "delivered" and said.unit_cost is not None and quantity:
            share = said.unit_cost * _decimal(said.quantity) / _decimal(quantity)
            paid.append((quantity, share))
    opening = line.opening if line else Fraction(0)
    at_most = opening + sums["delivered"] - sums["returned"]
    offcut = Fraction(0)
    at_least = sums["used"] + sums["spoiled"] + offcut
    consumed = None if on_hand is None else at_most - on_hand
    price = _average(paid) or (Fraction(line.unit_cost) if line and line.unit_cost else None)
    return StockLine(
        item=item.name,
        unit=item.unit,
        planned=line.quantity if line else None,
        opening=opening,
        delivered=sums["delivered"],
        returned=sums["returned"],
        on_hand=on_hand,
        consumed=consumed,
        placed=sums["used"],
        spoiled=sums["spoiled"],
        offcut=offcut,
        unaccounted=None if consumed is None else consumed - at_least,
        at_least=at_least,
        at_most=at_most,
        planned_cost=_planned_cost(line.quantity, line.unit_cost) if line else None,
        actual_cost=None if consumed is None or price is None else money(consumed * price),
        reasons=tuple(reasons.items()),
        entries=tuple(counted),
        left_out=tuple(left_out),
    )


def _task_lines(plan: Plan, entries: Sequence[BookEntry]) -> Iterable[TaskLine]:
    planned: dict[str, PlannedTask] = {line.task.name: line for line in plan.tasks}
    labor = [entry for entry in entries if entry.entry.kind == "labor"]
    for name in dict.fromkeys([*planned, *(e.entry.task or _NO_TASK for e in labor)]):
        line = planned.get(name)
        mine = [entry for entry in labor if (entry.entry.task or _NO_TASK) == name]
        counted = [entry for entry in mine if not entry.open and entry.entry.hours is not None]
        actual = sum(
            (crew_hours(entry.entry.hours, entry.entry.workers) for entry in counted), Fraction(0)
        )
        rate = line.hourly_cost if line else None
        yield TaskLine(
            task=name,
            planned=line.hours if line else None,
            actual=actual,
            planned_cost=_planned_cost(line.hours, rate) if line else None,
            actual_cost=_planned_cost(actual, rate),
            entries=tuple(entry.id for entry in counted),
            left_out=tuple(entry.id for entry in mine if entry not in counted),
        )


_NO_TASK = "no task named"


def _notes(
    stock: Sequence[StockLine], tasks: Sequence[TaskLine], entries: Sequence[BookEntry]
) -> Iterable[str]:
    for line in stock:
        if line.on_hand is None and line.at_most > line.at_least:
            yield f"{line.item}: nobody counted what is left; one count would settle it"
        if line.at_least > line.at_most:
            yield (
                f"{line.item}: {line.at_least} {line.unit} used and spoiled, but only "
                f"{line.at_most} ever came; a delivery is missing or a count is wrong"
            )
        if line.returned > line.opening + line.delivered:
            yield f"{line.item}: more was returned than ever came"
        if line.unaccounted is not None and line.unaccounted < 0 <= line.at_most - line.at_least:
            yield f"{line.item}: more was said to be used than the counts leave room for"
    for task in tasks:
        if task.planned is not None and not task.entries:
            yield f"{task.task}: no hours were said"
    nameless = [e for e in entries if e.entry.kind in STOCK_KINDS and e.entry.item is None]
    if nameless:
        ids = ", ".join(str(entry.id) for entry in nameless)
        yield f"in no balance, because they name no item: entries {ids}"


def _planned_cost(quantity: Fraction, unit_cost: Decimal | None) -> Decimal | None:
    return None if unit_cost is None else money(quantity * Fraction(unit_cost))


def _average(paid: Sequence[tuple[Fraction, Decimal]]) -> Fraction | None:
    quantity = sum((amount for amount, _ in paid), Fraction(0))
    total = sum((amount * Fraction(each) for amount, each in paid), Fraction(0))
    return total / quantity if quantity else None


def _decimal(amount: Fraction | None) -> Decimal:
    amount = amount or Fraction(0)
    return Decimal(amount.numerator) / Decimal(amount.denominator)
