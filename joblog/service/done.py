"""How much was done of a task, told when its hours were told without it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.form import units_of
from joblog.model import BookEntry, Entry, TaskLine
from joblog.quantity import convert, fraction_of, unit_named
from joblog.reconcile.told import when_it_was
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.filling_in import keep_filled_in
from joblog.service.record import read_balance, read_entries


@use_case
def done_in_all(desk: Desk, task: str, amount: str = "") -> Entry:
    """The fact that so much of a task was done in all its hours, "82 ft" or "82"; where no amount
    is given, all of it, as planned.

    What was told with hours of its own is in it: the fact says how much more was done, in the hours
    of which nobody said it. Raises `ServiceError` for what cannot be so.
    """
    return _fact(_line(desk, task), amount)


@use_case
def say_done(desk: Desk, task: str, amount: str = "") -> BookEntry:
    """Keeps it beside the last of those hours, so that it is of them and of their day; a step that
    can be undone."""
    line = _line(desk, task)
    last = _last(desk, line)
    fact = replace(_fact(line, amount), day=last.entry.day)
    [kept] = keep_filled_in(desk, [fact], last.at)
    return kept


def _line(desk: Desk, task: str) -> TaskLine:
    lines = read_balance(desk).tasks
    wanted = task.casefold()
    found = [one for one in lines if one.task.casefold() == wanted] or [
        one for one in lines if wanted in one.task.casefold()
    ]
    if len(found) != 1:
        known = ", ".join(one.task for one in found or lines) or "none"
        raise ServiceError(f"{task!r} is {'no' if not found else 'more than one'} task: {known}")
    [line] = found
    if not line.entries or not line.actual:
        raise ServiceError(f"{line.task}: no hours were told, so nothing was done in them")
    if not line.unit:
        raise ServiceError(f"{line.task}: nothing says what it is measured in; its plan may")
    if not line.without_amount:
        told = units_of(line.done, line.unit)
        raise ServiceError(f"{line.task}: {told} were told to be done, in all its hours")
    return line


def _fact(line: TaskLine, amount: str) -> Entry:
    if amount.strip():
        total = _read(line, amount.strip())
    elif line.planned_quantity:
        total = line.planned_quantity
    else:
        raise ServiceError(f"{line.task}: the plan has no amount of it; say how much was done")
    before = line.done or Fraction(0)
    if total < before:
        raise ServiceError(
            f"{line.task}: {units_of(before, line.unit)} were told to be done already, "
            f"so it was not {units_of(total, line.unit)} in all; say how much it was"
        )
    return Entry("labor", task=line.task, quantity=total - before, unit=line.unit)


def _read(line: TaskLine, text: str) -> Fraction:
    words = text.split()
    for many in range(len(words), 0, -1):
        try:
            quantity = fraction_of(" ".join(words[:many]))
        except ValueError:
            continue
        unit = unit_named(" ".join(words[many:])) if words[many:] else line.unit
        turned = None if unit is None else convert(quantity, unit, line.unit)
        if turned is None or turned < 0:
            raise ServiceError(f"{line.task} is measured in {line.unit}: {text!r} is none of it")
        return turned
    raise ServiceError(f"{text!r} is no amount; write it as 82, or 82 {line.unit}")


def _last(desk: Desk, line: TaskLine) -> BookEntry:
    zone, waiting = ZoneInfo(desk.job.zone), set(line.without_amount)
    mine = [one for one in read_entries(desk) if one.id in waiting]
    return max(mine, key=lambda one: (when_it_was(one, zone).at, one.id))
