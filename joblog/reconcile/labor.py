"""Hours on tasks, against the plan: how long, how fast, at what pay."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from joblog.model import BookEntry, Catalog, DayHours, Plan, PlannedTask, Task, TaskLine
from joblog.quantity import convert, money
from joblog.reconcile.units import crew_hours
from joblog.reconcile.variances import labor_variance

NO_TASK = "no task named"


def task_lines(
    plan: Plan, entries: Sequence[BookEntry], catalog: Catalog | None
) -> Iterable[TaskLine]:
    """One line a task, planned ones first.

    Hours are counted as they were told, people times hours; breaks are in nobody's hours on a
    task. The plan's hours are scaled to what was done where every one of the task's entries says
    how much that was; else the plan's own amount counts as done. An hour costs what was said, and
    where nothing was, what was planned.
    """
    planned = {line.task.name: line for line in plan.tasks}
    known = {task.name: task for task in catalog.tasks} if catalog else {}
    by_task: dict[str, list[BookEntry]] = {name: [] for name in planned}
    for kept in entries:
        if kept.entry.kind == "labor":
            by_task.setdefault(kept.entry.task or NO_TASK, []).append(kept)
    for name, mine in by_task.items():
        yield _line(name, planned.get(name), known.get(name), mine)


def hours_of_no_task(days: Sequence[DayHours]) -> Fraction | None:
    """Crew hours at work that were told to no task; None where a day's hours are not known."""
    total = Fraction(0)
    for day in days:
        if day.crew_hours is None:
            return None
        total += day.crew_hours - day.on_tasks
    return total if days else None


def _line(
    name: str, line: PlannedTask | None, known: Task | None, entries: Sequence[BookEntry]
) -> TaskLine:
    counted = [kept for kept in entries if not kept.open and kept.entry.hours is not None]
    ids = {kept.id for kept in counted}
    task = line.task if line else known or Task(name)
    unit = task.unit or (known.unit if known else "")
    standard = Fraction(line.hourly_cost) if line and line.hourly_cost is not None else None
    actual = sum((_hours(kept) for kept in counted), Fraction(0))
    cost = _cost(counted, standard)
    planned_quantity = line.quantity if line else None
    done = _done(counted, unit)
    variance = None
    if counted:
        planned = line.hours if line else Fraction(0)
        allowed = planned
        if done is not None and planned_quantity:
            allowed = planned * done / planned_quantity
        if line is None:
            allowed = actual
        rate = standard if line else cost / actual if cost is not None and actual else None
        variance = labor_variance(planned, allowed, actual, rate, cost)
    return TaskLine(
        task=name,
        planned=line.hours if line else None,
        actual=actual,
        planned_cost=None if line is None else _price(line.hours, standard),
        actual_cost=None if cost is None else money(cost),
        entries=tuple(kept.id for kept in counted),
        left_out=tuple(kept.id for kept in entries if kept.id not in ids),
        unit=unit,
        planned_quantity=planned_quantity,
        done=done,
        planned_rate=_planned_rate(line, known),
        actual_rate=_rate(planned_quantity if done is None else done, actual),
        variance=variance,
    )


def _hours(kept: BookEntry) -> Fraction:
    return crew_hours(kept.entry.hours, kept.entry.workers)


def _cost(entries: Sequence[BookEntry], standard: Fraction | None) -> Fraction | None:
    total = Fraction(0)
    for kept in entries:
        said: Decimal | None = kept.entry.unit_cost
        each = standard if said is None else Fraction(said)
        if each is None:
            return None
        total += _hours(kept) * each
    # Without any hours nothing is known of pay, but nothing was spent either.
    return total if entries or standard is not None else None


def _done(entries: Sequence[BookEntry], unit: str) -> Fraction | None:
    total = Fraction(0)
    for kept in entries:
        said = kept.entry
        if said.quantity is None or said.unit is None or not unit:
            return None
        done = convert(said.quantity, said.unit, unit)
        if done is None:
            return None
        total += done
    return total if entries else None


def _planned_rate(line: PlannedTask | None, known: Task | None) -> Fraction | None:
    if line and line.quantity is not None:
        return _rate(line.quantity, line.hours)
    task = line.task if line else None
    return task.per_hour if task and task.per_hour else known.per_hour if known else None


def _rate(quantity: Fraction | None, hours: Fraction) -> Fraction | None:
    return quantity / hours if quantity and hours > 0 else None


def _price(hours: Fraction, rate: Fraction | None) -> Decimal | None:
    return None if rate is None else money(hours * rate)
