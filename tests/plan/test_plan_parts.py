"""A plan parts its quantities, says how much work its hours are for, and reads back to itself."""

from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog
from joblog.form import to_json
from joblog.model import Item, Plan, PlannedItem, PlannedTask, Task
from joblog.plan import read_csv, read_json
from joblog.report import as_csv
from joblog.report.sheets import plan_list, plan_table

HEAD = "line,name,quantity,unit,cost,opening,net,offcut,amount,said,source\n"
CATALOG = starter_catalog()
PARTED = Plan(
    (
        PlannedItem(
            CATALOG.items[0], Fraction(31, 2), Decimal("21.40"), Fraction(2), Fraction(40, 3),
            Fraction(1, 3), "6 jobs, 3 to 9 %",
        ),
        PlannedItem(Item("odd part", "box", ("part",)), Fraction(3)),
    ),
    (
        PlannedTask(CATALOG.tasks[0], Fraction(6), Decimal("48.00"), Fraction(95, 2), "=catalog"),
        PlannedTask(Task("dig holes", unit="each"), Fraction(4), None, Fraction(12)),
    ),
    ("north eave",),
)  # fmt: skip


def test_an_item_says_what_is_work_and_what_is_offcut() -> None:
    plan, problems = read_csv(HEAD + "item,fascia,12,stick,,,10,1 1/2,,,our last six jobs\n")
    [line] = plan.items
    assert problems == ()
    assert (line.net, line.offcut, line.source) == (10, Fraction(3, 2), "our last six jobs")


def test_a_plan_without_the_new_columns_does_not_part_its_quantities() -> None:
    plan, _ = read_csv("line,name,quantity\nitem,fascia,12\ntask,hang soffit,6\n")
    assert (plan.items[0].net, plan.items[0].offcut, plan.tasks[0].quantity) == (None, 0, None)


def test_what_the_catalog_knows_of_an_item_comes_along() -> None:
    plan, _ = read_csv(HEAD + "item,Fascia,12,,,,,,,the long one,\n")
    item = plan.items[0].item
    assert (item.name, item.kerf, item.least_offcut) == ("Fascia", Fraction(1, 8), 12)
    assert item.spoken[:2] == ("the long one", "fascia board")


def test_counted_in_another_unit_only_the_sizes_of_the_catalog_hold() -> None:
    plan, _ = read_csv(HEAD + "item,house wrap,2,box,,,,,,,\nitem,fascia,90,ft,,,,,,,\n")
    wrap, fascia = (line.item for line in plan.items)
    assert (wrap.unit, wrap.covers) == ("box", None)
    assert (fascia.unit, fascia.kerf, fascia.stock_length) == ("ft", Fraction(1, 8), 144)


@pytest.mark.parametrize(
    ("cell", "quantity", "unit"),
    [("410", 410, "ft"), ("410 ft", 410, "ft"), ("6 in", Fraction(1, 2), "ft")],
)
def test_the_work_of_a_task_is_in_the_unit_of_the_catalog(
    cell: str, quantity: Fraction, unit: str
) -> None:
    plan, _ = read_csv(HEAD + f"task,hang soffit,18,hours,,,,,{cell},,\n")
    assert (plan.tasks[0].quantity, plan.tasks[0].task.unit) == (quantity, unit)


def test_a_task_that_the_catalog_does_not_know_takes_the_unit_of_its_amount() -> None:
    plan, _ = read_csv(HEAD + "task,dig holes,4,,,,,,12 pieces,,\n")
    assert (plan.tasks[0].quantity, plan.tasks[0].task.unit) == (12, "each")


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("item,x,3,lb,,,2,1 1/8,,,", "net 2 and offcut 1 1/8 together are more than the quantity"),
        ("item,x,3,lb,,,4,,,,", "net 4 and offcut 0 together are more than the quantity of 3"),
        ("item,x,3,lb,,,,1,,,", "has an offcut of 1 but no net"),
        ("item,x,3,lb,,,-1,,,,", "net -1 is below zero"),
        ("item,x,3,lb,,,2,-1,,,", "offcut -1 is below zero"),
        ("item,x,3,lb,,,some,,,,", "'some' is not a number"),
        ("task,hang soffit,3,,,,,,many,,", "is not an amount"),
        ("task,hang soffit,3,,,,,,4 lb,,", "is no amount in ft"),
        ("task,hang soffit,3,,,,,,0,,", "amount 0 is not above zero"),
        ("task,dig holes,3,,,,,,12,,", "amount 12 needs a unit"),
    ],
)
def test_parts_that_cannot_be_are_refused_by_their_row(row: str, why: str) -> None:
    plan, [problem] = read_csv(HEAD + row + "\n")
    assert (plan, problem.what) == (Plan(), "plan, row 2")
    assert why in problem.why


def test_a_plan_printed_as_csv_reads_back_to_itself() -> None:
    assert read_csv(as_csv(plan_table(PARTED))) == (PARTED, ())


QUANTITIES = st.fractions(0, 500, max_denominator=64)
LINES = st.builds(
    lambda item, net, offcut, extra, opening, cost, source, task: PlannedItem(
        item, net + offcut + extra, cost, opening, net, offcut, source, task
    ),
    st.sampled_from(CATALOG.items), QUANTITIES, QUANTITIES, QUANTITIES, QUANTITIES,
    st.none() | st.decimals(0, 999, places=2),
    st.sampled_from(["", "3 jobs", "=1+1", "5 %, common practice", "a, b; \"c\""]),
    st.sampled_from(["", "hang soffit", "wrap, trim; paint"]),
)  # fmt: skip
TASKS = st.builds(
    PlannedTask,
    st.sampled_from(CATALOG.tasks),
    QUANTITIES,
    st.none() | st.decimals(0, 999, places=2),
    st.none() | QUANTITIES.filter(bool),
)
PLANS = st.builds(
    Plan,
    st.lists(LINES, max_size=4, unique_by=lambda line: line.item.name).map(tuple),
    st.lists(TASKS, max_size=3, unique_by=lambda line: line.task.name).map(tuple),
    st.just(("north eave", "dormer")),
)


@given(PLANS)
def test_any_plan_of_the_catalog_reads_back_to_itself(plan: Plan) -> None:
    assert read_csv(as_csv(plan_table(plan))) == (plan, ())


def test_a_plan_printed_as_json_reads_back_to_itself(tmp_path: Path) -> None:
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(to_json(PARTED)), "utf-8")
    assert read_json(file) == (PARTED, ())


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("{", "is no plan as joblog plan --json prints it"),
        ("[]", "is no plan as joblog plan --json prints it ([] is no Plan)"),
        ('{"items": [{"item": {"name": "x", "unit": "lb"}, "quantity": 3}]}', "quantity: 3 is no"),
        (
            '{"items": [{"item": {"name": "x", "unit": "lb"}, "quantity": "3", "net": "4"}]}',
            "x: net 4 and offcut 0 together are more than the quantity of 3",
        ),
        (
            '{"items": [{"item": {"name": "x", "unit": "lb"}, "quantity": "-3"}]}',
            "x: quantity -3 is below zero",
        ),
        (
            '{"tasks": [{"task": {"name": "x"}, "hours": "3"}, {"task": {"name": "X"}, "hours": "3"'
            "}]}",
            "x is planned twice",
        ),
        ('{"tasks": [{"task": {"name": ""}, "hours": "3"}]}', "a line has no name"),
    ],
)
def test_a_json_file_that_is_no_plan_is_told_by_its_name(
    tmp_path: Path, text: str, why: str
) -> None:
    file = tmp_path / "plan.json"
    file.write_text(text, "utf-8")
    plan, [problem] = read_json(file)
    assert (plan, problem.what) == (Plan(), "plan.json")
    assert why in problem.why


def test_a_json_file_that_is_not_there_is_a_plain_line(tmp_path: Path) -> None:
    _, [problem] = read_json(tmp_path / "plan.json")
    assert (problem.what, "cannot be read" in problem.why) == ("plan.json", True)


def test_the_list_for_a_person_shows_the_parts_only_where_there_are_any() -> None:
    whole = Plan((PlannedItem(CATALOG.items[0], Fraction(3)),))
    assert plan_list(whole).headings == ("planned", "quantity", "unit", "cost of one")
    parted = plan_list(PARTED)
    assert parted.headings[4:] == ("work", "cutoffs", "extra", "from")
    assert parted.rows[0][4:] == ("13 1/3", "1/3", "~1.83", "6 jobs, 3 to 9 %")
    assert parted.rows[2][4] == "47 1/2 ft"
