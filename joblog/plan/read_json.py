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
from joblog.sheet import Question
from joblog.sheet.nouns import SURE

LARGEST = 8 << 20
"""Bytes; a plan of twenty thousand lines takes four million."""


def read_json(file: Path, *, sure: bool = False) -> tuple[Plan, tuple[Problem, ...]]:
    """The plan, whole and exact; else an empty one, and one problem for each thing wrong in it.

    Amounts that no job has are wrong unless a person is `sure`.
    """
    try:
        if file.stat().st_size > LARGEST:
            return Plan(), (Problem(file.name, f"is larger than {LARGEST >> 20} MB: no plan is"),)
        plan = from_json(Plan, json.loads(file.read_text("utf-8-sig"), parse_int=_whole))
    except OSError as error:
        return Plan(), (Problem(file.name, f"cannot be read: {error.strerror}"),)
    except (ValueError, RecursionError) as error:
        said = "" if isinstance(error, json.JSONDecodeError | UnicodeError) else f" ({error})"
        why = f"is no plan as joblog plan --json prints it{said}"
        return Plan(), (Problem(file.name, why),)
    problems = (
        *(Problem(file.name, why) for why in _wrong(plan)),
        *(Question(file.name, why, (SURE,)) for why in _beyond_reason(plan) if not sure),
    )
    return (Plan() if problems else plan), problems


def _whole(digits: str) -> int:
    if len(digits) > _MOST_DIGITS:
        raise ValueError("it holds a number beyond reason")
    return int(digits)


_MOST_DIGITS = 400


def _wrong(plan: Plan) -> Iterator[str]:
    for names in ([line.item.name for line in plan.items], [line.task.name for line in plan.tasks]):
        counted = Counter(name.lower() for name in names)
        yield from (f"{name} is planned twice" for name, times in counted.items() if times > 1)
        if "" in counted:
            yield "a line has no name"
    for name, _, called, number in _numbers(plan):
        if number < 0:
            yield f"{name}: {called} {number} is below zero"
        if number > MOST:
            yield f"{name}: {called} is a number beyond reason"
    for line in plan.items:
        try:
            check_parts(line)
        except ValueError as error:
            yield f"{line.item.name}: {error}"


def _beyond_reason(plan: Plan) -> Iterator[str]:
    """What is planned that no job has, and that may be so."""
    for name, line, called, number in _numbers(plan):
        unit = line.item.unit if isinstance(line, PlannedItem) else line.task.unit
        try:
            if 0 <= number <= MOST:
                check(_MEANS.get(called, called), number, unit if called in _OF_UNIT else "")
        except BeyondReason as error:
            yield f"{name}: {error}"


_MEANS = {"unit cost": "price"}
_OF_UNIT = ("quantity", "opening", "net", "offcut")


def _numbers(
    plan: Plan,
) -> Iterator[tuple[str, PlannedItem | PlannedTask, str, Fraction | Decimal]]:
    """Every number of every line, with the name of the line and what the number is called."""
    lines: tuple[PlannedItem | PlannedTask, ...] = (*plan.items, *plan.tasks)
    for line in lines:
        name = line.item.name if isinstance(line, PlannedItem) else line.task.name
        for field in fields(line):
            number = getattr(line, field.name)
            if isinstance(number, Fraction | Decimal):
                yield name, line, field.name.replace("_", " "), number
