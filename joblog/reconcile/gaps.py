"""What the record does not say or says in two ways, and how complete it is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from joblog.form import amount, units_of
from joblog.local import day_written
from joblog.model import (
    STOCK_KINDS,
    BookEntry,
    DayHours,
    Entry,
    Gap,
    Item,
    PlannedItem,
    Record,
    StockLine,
    TaskLine,
)
from joblog.quantity import feet_and_inches, money
from joblog.reconcile.allowed import less_than_planned
from joblog.reconcile.counts import clashing_counts
from joblog.reconcile.stock import Ledger
from joblog.reconcile.units import crew_hours, in_unit_of


@dataclass(frozen=True, slots=True)
class Squared:
    """One item's line with what it was made of."""

    item: Item
    planned: PlannedItem | None
    ledger: Ledger
    line: StockLine
    price: Fraction | None
    """Of one: planned, else paid; None where neither is known."""
    entries: tuple[BookEntry, ...]


def gaps_of(
    stock: Sequence[Squared],
    tasks: Sequence[TaskLine],
    days: Sequence[DayHours],
    entries: Sequence[BookEntry],
) -> tuple[Gap, ...]:
    """Contradictions first, then what settles most: the dearest, then the widest, then the rest."""
    found = [gap for one in stock for gap in _of_item(one)]
    found += [gap for task in tasks for gap in _of_task(task, entries)]
    found += [
        Gap(
            f"{day_written(day.day)}: a start or a stop is missing, so its hours are not known",
            "hours",
            entries=day.entries,
        )
        for day in days
        if day.crew_hours is None
    ]
    found += [*_nameless(entries), *_priceless(stock)]
    return tuple(sorted(found, key=_weight))


def record_of(
    stock: Sequence[Squared],
    tasks: Sequence[TaskLine],
    days: Sequence[DayHours],
    gaps: Sequence[Gap],
) -> Record:
    """How much of the record is settled: closed, undoubted, and without a contradiction."""
    wrong = {gap.name for gap in gaps if gap.contradiction}
    settled = [
        one.line
        for one in stock
        if one.line.consumed is not None and not one.line.left_out and one.line.item not in wrong
    ]
    every = sum((_planned_cost(one.line) for one in stock), Fraction(0))
    sure = sum((_planned_cost(line) for line in settled), Fraction(0))
    return Record(
        items=len(stock),
        items_settled=len(settled),
        tasks=len(tasks),
        tasks_settled=sum(_task_settled(task) for task in tasks),
        days=len(days),
        days_settled=sum(day.crew_hours is not None for day in days),
        cost_settled=sure / every if every else None,
    )


def _task_settled(task: TaskLine) -> bool:
    """Whether its hours are known, and how much was done in them where it is measured."""
    return bool(task.entries) and not task.left_out and not (task.unit and task.without_amount)


def _weight(gap: Gap) -> tuple[bool, bool, Fraction, bool, Fraction]:
    return (
        not gap.contradiction,
        gap.money is None,
        -Fraction(gap.money or 0),
        gap.width is None,
        -(gap.width or Fraction(0)),
    )


# --- of one item ------------------------------------------------------------------------------


def _of_item(one: Squared) -> Iterable[Gap]:
    contradictions = tuple(_contradictions(one))
    yield from contradictions
    yield from _left_out(one)
    yield from _pieces(one)
    yield from _sizes(one)
    if not contradictions:
        yield from _missing(one)


def _contradictions(one: Squared) -> Iterable[Gap]:
    line, ledger = one.line, one.ledger
    came = line.opening + line.delivered + line.moved_in
    went = line.returned + line.moved_out
    if went > came:
        how = "returned or moved out" if line.moved_out else "returned"
        text = f"{_many(one, went)} {how}, but only {amount(came)} ever came"
        yield _gap(one, text, "delivery", went - came, ("delivered", "returned"), True)
    elif line.at_least > line.at_most and (ledger.delivered or ledger.moved_in):
        text = (
            f"{_many(one, line.at_least)} gone, installed, wasted or counted out, but only "
            f"{amount(line.at_most)} ever came"
        )
        width = line.at_least - line.at_most
        yield _gap(one, text, "delivery", width, ("delivered", "returned", "used", "spoiled"), True)
    left = ledger.counted_left
    if left is not None and left < 0 and not ledger.moved_since:
        counted = amount(left + ledger.returned_since)
        text = f"{_many(one, ledger.returned_since)} returned, where {counted} were counted as left"
        yield _gap(one, text, "count", -left, ("on_hand", "returned"), True)
    elif left is not None and line.consumed is not None and line.consumed < 0 <= line.at_most:
        text = f"{_many(one, left)} counted as left, but only {amount(line.at_most)} ever came"
        yield _gap(one, text, "count", left - line.at_most, ("on_hand", "delivered"), True)
    elif line.unaccounted is not None and line.unaccounted < 0 and line.at_least <= line.at_most:
        text = (
            f"{_many(one, line.at_least)} installed and wasted as told, but by the count of what "
            f"is left only {amount(line.consumed)} can be"
        )
        yield _gap(one, text, "count", -line.unaccounted, ("on_hand", "used", "spoiled"), True)
    yield from _counts(one)


def _counts(one: Squared) -> Iterable[Gap]:
    counted = set(one.ledger.entries)
    certain = [kept for kept in one.entries if kept.id in counted]
    for clash in clashing_counts(one.item, certain):
        entries = (clash.earlier.id, clash.later.id)
        yield _gap_of(one, f"{one.item.name}: {clash.why}", "count", clash.over, entries, True)


def _left_out(one: Squared) -> Iterable[Gap]:
    left_out = set(one.ledger.left_out)
    waiting = [kept for kept in one.entries if kept.open and kept.id in left_out]
    foreign = [kept for kept in one.entries if not kept.open and kept.id in left_out]
    if waiting:
        amounts = [in_unit_of(one.item, kept.entry.quantity, kept.entry.unit) for kept in waiting]
        width = max((abs(each) for each in amounts if each is not None), default=None)
        one_waits = "1 entry waits for a decision and is"
        some_wait = f"{len(waiting)} entries wait for a decision and are"
        text = f"{one.item.name}: {one_waits if len(waiting) == 1 else some_wait} not counted"
        yield _gap_of(one, text, "decision", width, tuple(kept.id for kept in waiting))
    if foreign:
        units = ", ".join(dict.fromkeys(kept.entry.unit or "no unit" for kept in foreign))
        text = f"{one.item.name}: told in {units}, which cannot be counted in {one.item.unit}"
        yield _gap_of(one, text, "decision", None, tuple(kept.id for kept in foreign))


def _pieces(one: Squared) -> Iterable[Gap]:
    pieces, ledger = one.ledger.pieces, one.ledger
    if pieces.too_long:
        text = f"{one.item.name}: pieces were cut that are longer than its stock"
        yield _gap_of(one, text, "decision", None, pieces.too_long)
    said_used = ledger.used + ledger.cut_unused
    if ledger.used and pieces.gross > said_used:
        needed = units_of(pieces.gross, one.item.unit, one.item.name)
        text = (
            f"{one.item.name}: the pieces cut need {needed}, and only {amount(said_used)} were "
            "told installed"
        )
        yield _gap_of(one, text, "use", pieces.gross - said_used, pieces.entries)


def _sizes(one: Squared) -> Iterable[Gap]:
    counted = set(one.ledger.entries)
    told = [kept for kept in one.entries if kept.id in counted]
    for of, said in (("sizes", _size), ("lengths", _length)):
        by_said = {kept.id: said(kept.entry) for kept in told}
        different = sorted({text for text in by_said.values() if text})
        if len(different) > 1:
            text = f"{one.item.name}: {of} {' and '.join(different)} are counted together"
            entries = tuple(number for number, text in by_said.items() if text)
            yield _gap_of(one, text, "decision", None, entries)


def _size(entry: Entry) -> str | None:
    return entry.size


def _length(entry: Entry) -> str | None:
    # A count may be of offcuts.
    return (
        None if entry.length is None or entry.kind == "on_hand" else feet_and_inches(entry.length)
    )


def _missing(one: Squared) -> Iterable[Gap]:
    line, ledger = one.line, one.ledger
    name, unit = one.item.name, one.item.unit
    if not ledger.entries and not ledger.left_out:
        yield _gap(one, f"{name}: nothing was told of it", "delivery", None, ())
    elif line.at_least > line.at_most:
        text = (
            f"{name}: {units_of(line.at_least, unit, name)} gone, and only "
            f"{amount(line.at_most)} ever came; no delivery was told"
        )
        yield _gap(one, text, "delivery", line.at_least - line.at_most, ("used", "spoiled"))
    elif line.on_hand is None and line.at_most > line.at_least:
        why = "nobody counted what is left"
        if ledger.moved_since:
            counted = amount(line.last_count)
            why = f"{counted} counted as left, and more came or was used since"
        span = f"{amount(line.at_least)} to {units_of(line.at_most, unit, name)}"
        text = f"{name}: {why}; {span} may be gone"
        yield _gap(one, text, "count", line.at_most - line.at_least, STOCK_KINDS)
    elif line.unaccounted and not line.placed and not any(_waits_as(one, "used")):
        text = (
            f"{name}: nobody said how much was installed; until then it stands as work not done "
            "and material unexplained"
        )
        yield _gap(one, text, "use", line.unaccounted, STOCK_KINDS)
    elif less_than_planned(line) and line.placed and line.consumed is not None:
        takes = (line.allowed or Fraction(0)) + line.allowed_offcut
        task = one.planned.task if one.planned else ""
        why, settled_by = "the plan does not say what task it goes with", "plan"
        if task:
            why, settled_by = f"nobody said how much of {task} was done", "done"
        text = (
            f"{name}: {units_of(line.consumed, unit, name)} gone, where the plan takes "
            f"{amount(takes)}: {why}, so it may be less work, or less used on it"
        )
        yield _gap(one, text, settled_by, takes - line.consumed, STOCK_KINDS)


def _waits_as(one: Squared, kind: str) -> Iterable[bool]:
    return (kept.entry.kind == kind and kept.id in one.ledger.left_out for kept in one.entries)


def _priceless(stock: Sequence[Squared]) -> Iterable[Gap]:
    """Worth saying only where other items have a price, and costs are looked at."""
    names = [one.item.name for one in stock if one.price is None]
    if names and len(names) < len(stock):
        yield Gap(f"no price is known, so they are in no cost: {', '.join(names)}", "plan")


def _gap(
    one: Squared,
    text: str,
    settled_by: str,
    width: Fraction | None,
    kinds: Sequence[str],
    contradiction: bool = False,
) -> Gap:
    counted = set(one.ledger.entries)
    entries = tuple(
        kept.id for kept in one.entries if kept.id in counted and kept.entry.kind in kinds
    )
    return _gap_of(one, text, settled_by, width, entries, contradiction)


def _gap_of(
    one: Squared,
    text: str,
    settled_by: str,
    width: Fraction | None,
    entries: tuple[int, ...],
    contradiction: bool = False,
) -> Gap:
    cost = None if width is None or one.price is None else money(width * one.price)
    return Gap(
        text,
        settled_by,  # type: ignore[arg-type]
        one.item.name,
        one.item.unit,
        width,
        cost,
        entries,
        contradiction,
    )


def _many(one: Squared, quantity: Fraction) -> str:
    return f"{one.item.name}: {units_of(quantity, one.item.unit, one.item.name)}"


def _planned_cost(line: StockLine) -> Fraction:
    return Fraction(line.planned_cost or 0)


# --- of hours, and of nothing in particular -----------------------------------------------------


def _of_task(task: TaskLine, entries: Sequence[BookEntry]) -> Iterable[Gap]:
    if task.planned is not None and not task.entries and not task.left_out:
        yield Gap(f"{task.task}: no hours were said", "hours", task.task, "hours")
    if task.left_out:
        left_out = set(task.left_out)
        waiting = [kept for kept in entries if kept.id in left_out]
        hours = [crew_hours(kept.entry.hours, kept.entry.workers) for kept in waiting]
        text = f"{task.task}: hours in doubt are not counted"
        yield Gap(text, "decision", task.task, "hours", max(hours, default=None), None,
                  task.left_out)  # fmt: skip
    if task.without_amount and task.unit:
        many = amount(task.actual - task.done_hours)
        text = f"{task.task}: nobody said how much was done in {many} man-hours; they teach nothing"
        yield Gap(text, "done", task.task, task.unit, entries=task.without_amount)
    if task.actual and task.actual_cost is None:
        text = f"{task.task}: nobody said what an hour costs, so it is in no cost"
        yield Gap(text, "pay", task.task, "hours", entries=task.entries)


def _nameless(entries: Sequence[BookEntry]) -> Iterable[Gap]:
    stock = [kept.id for kept in entries if kept.entry.kind in STOCK_KINDS and not kept.entry.item]
    if stock:
        yield Gap("in no balance, because they name no item", "decision", entries=tuple(stock))
    cut = [
        kept.id
        for kept in entries
        if kept.entry.kind == "measure" and kept.entry.pieces and not kept.entry.item
    ]
    if cut:
        text = "pieces were cut, but not said of what; they are in no cut list"
        yield Gap(text, "decision", entries=tuple(cut))
