"""Hours on tasks, against the plan: how long, how fast, at what pay."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from joblog.model import BookEntry, Catalog, DayHours, Entry, Plan, PlannedTask, Task, TaskLine
from joblog.quantity import convert, money
from joblog.reconcile.units import crew_hours, total
from joblog.reconcile.variances import labor_variance

NO_TASK = "no task named"


def task_lines(
    plan: Plan, entries: Sequence[BookEntry], catalog: Catalog | None
) -> Iterable[TaskLine]:
    """One line a task, planned ones first.

    Hours are counted as they were told, people times hours; breaks are in nobody's hours on a
    task. How much was done is known of hours that were told with an amount, and of those before an
    amount that was told by itself. Only where it is known of all hours are the plan's scaled to it;
    else nobody can say what was more work and what was a slower pace. A plan of hours alone is
    taken as it is. An hour costs what was said, and where nothing was, what was planned; where the
    pay of one is said, the others cost what was planned.
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
    known = [day.crew_hours - day.on_tasks for day in days if day.crew_hours is not None]
    return total(known) if days and len(known) == len(days) else None


def _line(
    name: str, line: PlannedTask | None, known: Task | None, entries: Sequence[BookEntry]
) -> TaskLine:
    task = line.task if line else known or Task(name)
    unit = task.unit or (known.unit if known else "")
    counted = [kept for kept in entries if not kept.open and _counts(kept.entry, unit)]
    ids = {kept.id for kept in counted}
    standard = Fraction(line.hourly_cost) if line and line.hourly_cost is not None else None
    actual = total(map(_hours, counted))
    cost = _cost(counted, standard)
    planned_quantity = line.quantity if line else None
    work = _done(counted, unit)
    variance = None
    if counted:
        planned = line.hours if line else Fraction(0)
        allowed: Fraction | None = planned
        if line is None:
            allowed = actual
        elif planned_quantity:
            known_of_all = work.told and not work.without_amount
            allowed = planned * work.quantity / planned_quantity if known_of_all else None
        rate = standard if line else cost / actual if cost is not None and actual else None
        variance = labor_variance(planned, allowed, actual, rate, cost)
    done = work.quantity if work.told else None
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
        done_hours=work.hours,
        without_amount=work.without_amount,
        planned_rate=_planned_rate(line, known),
        actual_rate=_rate(done, work.hours),
        variance=variance,
    )


def _counts(said: Entry, unit: str) -> bool:
    """Whether it tells hours, or how much was done."""
    return said.hours is not None or _amount(said, unit) is not None


def _hours(kept: BookEntry) -> Fraction:
    return crew_hours(kept.entry.hours, kept.entry.workers)


def _cost(entries: Sequence[BookEntry], standard: Fraction | None) -> Fraction | None:
    costs = [_pay(kept.entry, standard) for kept in entries if kept.entry.hours is not None]
    known = [cost for cost in costs if cost is not None]
    if len(known) < len(costs):
        return None
    # Without any hours nothing is known of pay, but nothing was spent either.
    return total(known) if costs or standard is not None else None


def _pay(said: Entry, standard: Fraction | None) -> Fraction | None:
    """What the hours of an entry cost. The pay of "the helper" is that of all who are at it beside
    the one who tells it, and his is the usual one."""
    people, hours = said.workers or 1, said.hours or Fraction(0)
    told = standard if said.unit_cost is None else Fraction(said.unit_cost)
    own = standard if said.who and said.unit_cost is not None and people > 1 else told
    return None if told is None or own is None else hours * (own + (people - 1) * told)


@dataclass(frozen=True, slots=True)
class _Work:
    """How much was told to be done, in which hours, and the entries whose hours say nothing."""

    told: bool
    quantity: Fraction
    hours: Fraction
    without_amount: tuple[int, ...]


def _done(entries: Sequence[BookEntry], unit: str) -> _Work:
    amounts: list[Fraction] = []
    hours: list[Fraction] = []
    waiting: list[BookEntry] = []
    for kept in sorted(entries, key=lambda one: (one.at, one.id)):
        amount = _amount(kept.entry, unit)
        if amount is None:
            if _hours(kept):
                waiting.append(kept)
            continue
        amounts.append(amount)
        if kept.entry.hours is not None:
            hours.append(_hours(kept))
            continue
        # Told by itself, it is what became of all the hours before it.
        hours += map(_hours, waiting)
        waiting.clear()
    untold = tuple(kept.id for kept in waiting)
    return _Work(bool(amounts), total(amounts), total(hours), untold)


def _amount(said: Entry, unit: str) -> Fraction | None:
    """How much an entry says was done, in the unit of its task."""
    if said.quantity is None or said.unit is None or not unit:
        return None
    return convert(said.quantity, said.unit, unit)


def _planned_rate(line: PlannedTask | None, known: Task | None) -> Fraction | None:
    if line and line.quantity is not None:
        return _rate(line.quantity, line.hours)
    task = line.task if line else None
    return task.per_hour if task and task.per_hour else known.per_hour if known else None


def _rate(quantity: Fraction | None, hours: Fraction) -> Fraction | None:
    return quantity / hours if quantity and hours > 0 else None


def _price(hours: Fraction, rate: Fraction | None) -> Decimal | None:
    return None if rate is None else money(hours * rate)
