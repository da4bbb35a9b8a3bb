"""The reconciliation of one job. Pure: plan and entries in, balances out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.catalog.lines import starter
from joblog.model import (
    STOCK_KINDS,
    BookEntry,
    Catalog,
    Item,
    Job,
    Moved,
    Plan,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog.reconcile.beside import beside_of
from joblog.reconcile.carried import told_elsewhere, unlike_gaps, with_transfers
from joblog.reconcile.conditions import conditions_of
from joblog.reconcile.costing import Brought, brought_to
from joblog.reconcile.gaps import Squared, gaps_of, record_of
from joblog.reconcile.hours import attendance
from joblog.reconcile.labor import hours_of_no_task, task_lines
from joblog.reconcile.parts import parts_of, reasons_of
from joblog.reconcile.sense import sensed
from joblog.reconcile.stock import NOT_BROUGHT, ledger_of, stock_line
from joblog.reconcile.told import when_it_was
from joblog.reconcile.variances import labor_sum, material_sum


def reconcile(
    job: Job,
    plan: Plan,
    entries: Sequence[BookEntry],
    catalog: Catalog | None = None,
    came: Sequence[Moved] = (),
) -> Reconciliation:
    """Planned against used, per item and per task, and the hours of each day.

    The entries are those of the book; what makes no sense among them is doubted here (`sensed`).
    Only entries that are free of doubt, or that a person accepted, are counted; the others stand
    in `left_out` of their line. Every balance closes and every sum of variances holds exactly, in
    quantity and to the cent; what rests on a missing count is None, with the range it leaves in
    `at_least`, `at_most` and `gaps`. Items that are not planned are looked up in the catalog, the
    starter's where none is given. `came` is what is known of the job's transfers beyond its own
    entries: those that others told, and what each of them, and what it began with, cost.
    """
    zone = ZoneInfo(job.zone)
    standing = _standing(job, plan, entries, catalog, came)
    tasks = tuple(task_lines(plan, standing, catalog))
    flows = with_transfers(standing, job.name, came)
    by_task = {line.task: line for line in tasks}
    foreign, brought = told_elsewhere(job.name, came), brought_to(job.name, came)
    stock = tuple(
        _own(one, foreign) for one in _squared(plan, flows, catalog, zone, by_task, brought)
    )
    days = attendance(job, standing)
    gaps = tuple(
        replace(gap, entries=_without(gap.entries, foreign))
        for gap in gaps_of(stock, tasks, days, standing)
    )
    gaps += tuple(unlike_gaps(job.name, came))
    priced = {
        one.line.item: one.line.money
        for one in stock
        if one.line.money is not None and one.line.money.total is not None
    }
    counted = frozenset(number for one in stock for number in one.line.entries)
    counted |= frozenset(number for line in tasks for number in line.entries)
    return Reconciliation(
        job=job.name,
        stock=tuple(one.line for one in stock),
        tasks=tasks,
        days=days,
        open_doubts=sum(kept.open for kept in standing),
        gaps=gaps,
        material=material_sum(priced.values()),
        material_of=tuple(priced),
        labor=labor_sum([line.variance for line in tasks if line.variance is not None]),
        untold_hours=hours_of_no_task(days),
        parts=parts_of(standing, {one.item.name: one.item for one in stock}, counted, zone),
        reasons=reasons_of((one.line, one.ledger, one.price) for one in stock),
        record=record_of(stock, tasks, days, gaps),
        conditions=conditions_of(standing),
        beside=beside_of(standing, zone),
    )


def stock_told_of(
    job: Job,
    plan: Plan,
    entries: Sequence[BookEntry],
    catalog: Catalog | None = None,
    came: Sequence[Moved] = (),
) -> tuple[StockLine, ...]:
    """The stock lines of `reconcile` of what anything was told of, or the job began with; without
    what was allowed and how that differs. A plan may have thousands of others, which say nothing of
    what lies where."""
    flows = with_transfers(_standing(job, plan, entries, catalog, came), job.name, came)
    told = {kept.entry.item for kept in flows}
    lines = tuple(line for line in plan.items if line.opening or line.item.name in told)
    foreign, brought = told_elsewhere(job.name, came), brought_to(job.name, came)
    squared = _squared(replace(plan, items=lines), flows, catalog, ZoneInfo(job.zone), {}, brought)
    return tuple(_own(one, foreign).line for one in squared)


def _standing(
    job: Job,
    plan: Plan,
    entries: Sequence[BookEntry],
    catalog: Catalog | None,
    came: Sequence[Moved],
) -> list[BookEntry]:
    zone = ZoneInfo(job.zone)
    return [
        when_it_was(kept, zone)
        for kept in sensed(job, plan, entries, catalog, came)
        if kept.standing != "dropped"
    ]


def _squared(
    plan: Plan,
    entries: Sequence[BookEntry],
    catalog: Catalog | None,
    zone: ZoneInfo,
    tasks: Mapping[str, TaskLine],
    brought: Mapping[str, Brought],
) -> Iterable[Squared]:
    planned = {line.item.name: line for line in plan.items}
    known = {item.name: item for item in (catalog.items if catalog else starter())}
    by_item: dict[str, list[BookEntry]] = {name: [] for name in planned}
    for kept in entries:
        said = kept.entry
        if said.item and (said.kind in STOCK_KINDS or (said.kind == "measure" and said.pieces)):
            by_item.setdefault(said.item, []).append(kept)
    for name, mine in by_item.items():
        line = planned.get(name)
        item = line.item if line else known.get(name) or Item(name, "each")
        if line is None and all(kept.entry.kind == "needed" for kept in mine):
            continue
        mine.sort(key=lambda kept: (kept.at, kept.id))
        ledger = ledger_of(item, line.opening if line else Fraction(0), mine, zone)
        planned_price = line.unit_cost if line else None
        price = ledger.price if planned_price is None else Fraction(planned_price)
        task = tasks.get(line.task) if line else None
        squared = stock_line(item, line, ledger, task, brought.get(name, NOT_BROUGHT))
        yield Squared(item, line, ledger, squared, price, tuple(mine))


def _own(one: Squared, foreign: frozenset[int]) -> Squared:
    """The line without the entries of other jobs, which are none of this one's."""
    if not foreign:
        return one
    return replace(one, line=replace(one.line, entries=_without(one.line.entries, foreign)))


def _without(entries: tuple[int, ...], foreign: frozenset[int]) -> tuple[int, ...]:
    return tuple(number for number in entries if number not in foreign) if foreign else entries
