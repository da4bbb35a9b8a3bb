"""A plan as it was printed with --json, read back."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.form import from_json
from joblog.model import Plan, PlannedItem, PlannedTask, Problem
from joblog.plan.read_csv import check_parts
from joblog.quantity import MOST
from joblog.reason import BeyondReason, check


def read_json(file: Path, *, sure: bool = False) -> tuple[Plan, tuple[Problem, ...]]:
    """The plan, whole and exact; else an empty one, and one problem for each thing wrong in it.

    Amounts that no job has are wrong unless a person is `sure`.
    """
    try:
        plan = from_json(Plan, json.loads(file.read_text("utf-8-sig"), parse_int=_whole))
    except OSError as error:
        return Plan(), (Problem(file.name, f"cannot be read: {error.strerror}"),)
    except (ValueError, RecursionError) as error:
        said = "" if isinstance(error, json.JSONDecodeError | UnicodeError) else f" ({error})"
        why = f"is no plan as joblog plan --json prints it{said}"
        return Plan(), (Problem(file.name, why),)
    problems = tuple(Problem(file.name, why) for why in _wrong(plan, sure))
    return (Plan() if problems else plan), problems


def _whole(digits: str) -> int:
    if len(digits) > _MOST_DIGITS:
        raise ValueError("it holds a number beyond reason")
    return int(digits)


_MOST_DIGITS = 400


def _wrong(plan: Plan, sure: bool) -> Iterator[str]:
    for names in ([line.item.name for line in plan.items], [line.task.name for line in plan.tasks]):
        counted = Counter(name.lower() for name in names)
        yield from (f"{name} is planned twice" for name, times in counted.items() if times > 1)
        if "" in counted:
            yield "a line has no name"
    lines: tuple[PlannedItem | PlannedTask, ...] = (*plan.items, *plan.tasks)
    for line in lines:
        name = line.item.name if isinstance(line, PlannedItem) else line.task.name
        for field in fields(line):
            number = getattr(line, field.name)
            if isinstance(number, Fraction | Decimal):
                called = field.name.replace("_", " ")
                why = _wrong_with(line, called, number, sure)
                yield from (f"{name}: {why}" for why in [why] if why)
        if isinstance(line, PlannedItem):
            try:
                check_parts(line)
            except ValueError as error:
                yield f"{name}: {error}"


def _wrong_with(
    line: PlannedItem | PlannedTask, called: str, number: Fraction | Decimal, sure: bool
) -> str:
    """What is wrong with a number of a line; "" where nothing is."""
    if number < 0:
        return f"{called} {number} is below zero"
    if number > MOST:
        return f"{called} is a number beyond reason"
    unit = line.item.unit if isinstance(line, PlannedItem) else line.task.unit
    of_unit = called in ("quantity", "opening", "net", "offcut")
    what = {"unit cost": "price"}.get(called, called)
    try:
        check(what, number, unit if of_unit else "", sure=sure)
    except BeyondReason as error:
        return str(error)
    return ""
