"""A plan as JSON is asked about where it plans what no job has."""

from __future__ import annotations

import json
import sys
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.form import to_json
from joblog.model import Item, Plan, PlannedItem, PlannedTask, Task
from joblog.plan.read_json import read_json

SOFFIT = Item("soffit panel", "sheet")
NAILS = Item("trim nails", "each")
HANG = Task("hang soffit", unit="ft")


@pytest.mark.parametrize(
    ("plan", "why"),
    [
        (
            Plan(items=(PlannedItem(SOFFIT, Fraction(10**9)),)),
            "soffit panel: quantity 1,000,000,000 sheet is more than 20,000 sheet",
        ),
        (
            Plan(items=(PlannedItem(SOFFIT, Fraction(9), Decimal("3125000")),)),
            "soffit panel: price 3,125,000 is more than 20,000",
        ),
        (
            Plan(tasks=(PlannedTask(HANG, Fraction(130_000)),)),
            "hang soffit: hours 130,000 is more than 5,000",
        ),
        (
            Plan(tasks=(PlannedTask(HANG, Fraction(13), quantity=Fraction(410_000)),)),
            "hang soffit: quantity 410,000 ft is more than 20,000 ft",
        ),
    ],
)
def test_an_amount_that_no_job_has_is_refused_unless_he_is_sure(
    plan: Plan, why: str, tmp_path: Path
) -> None:
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(to_json(plan)), "utf-8")
    read, problems = read_json(file)
    assert read == Plan()
    assert [problem.why for problem in problems] == [
        f"{why}, which no job has; say --sure if it is so"
    ]
    assert read_json(file, sure=True) == (plan, ())


def test_amounts_that_cannot_be_are_refused_however_sure_he_is(tmp_path: Path) -> None:
    plan = Plan(items=(PlannedItem(SOFFIT, Fraction(10**13)), PlannedItem(NAILS, Fraction(-1))))
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(to_json(plan)), "utf-8")
    _, problems = read_json(file, sure=True)
    assert [problem.why for problem in problems] == [
        "soffit panel: quantity is a number beyond reason",
        "trim nails: quantity -1 is below zero",
    ]


def test_a_file_larger_than_any_plan_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.modules["joblog.plan.read_json"], "LARGEST", 1 << 20)
    (tmp_path / "plan.json").write_bytes(b" " * (1 << 20) + b"{}")
    _, problems = read_json(tmp_path / "plan.json")
    assert [problem.why for problem in problems] == ["is larger than 1 MB: no plan is"]
