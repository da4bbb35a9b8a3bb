"""Every noun that the book freezes comes back from its JSON as it was."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, time
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.form import from_json, to_json
from joblog.model import (
    Amount,
    DayHours,
    Gap,
    Item,
    Moment,
    Plan,
    PlannedItem,
    Position,
    Reconciliation,
    StockLine,
    TaskLine,
)

st.register_type_strategy(Fraction, st.fractions(max_denominator=10**6))
st.register_type_strategy(Decimal, st.decimals("-99999.99", "99999.99", places=2))
st.register_type_strategy(date, st.dates())
st.register_type_strategy(time, st.times())
st.register_type_strategy(str, st.text(max_size=8))


def there_and_back(noun: object) -> object:
    return from_json(type(noun), json.loads(json.dumps(to_json(noun))))


@given(st.from_type(StockLine))
def test_any_line_of_the_balance_comes_back(line: StockLine) -> None:
    assert there_and_back(line) == line


@given(st.from_type(TaskLine))
def test_any_line_of_hours_comes_back(line: TaskLine) -> None:
    assert there_and_back(line) == line


@settings(max_examples=60, deadline=None)
@given(st.from_type(Reconciliation))
def test_any_squared_up_job_comes_back(done: Reconciliation) -> None:
    assert there_and_back(done) == done


@settings(max_examples=60, deadline=None)
@given(st.from_type(Plan))
def test_any_plan_comes_back(plan: Plan) -> None:
    assert there_and_back(plan) == plan


def test_a_moment_and_a_float_come_back() -> None:
    moment = Moment(datetime(2026, 10, 5, 11, 32, 10, 250, tzinfo=UTC), "container")
    assert there_and_back(moment) == moment
    assert there_and_back(Position(0.1, -71.3)) == Position(0.1, -71.3)


def test_money_keeps_its_cents() -> None:
    again = from_json(Gap, to_json(Gap("one count", "count", money=Decimal("13.50"))))
    assert str(again.money) == "13.50"


def test_what_an_older_joblog_did_not_write_is_as_by_default() -> None:
    assert from_json(Item, {"name": "fascia", "unit": "stick"}) == Item("fascia", "stick")


def test_what_a_newer_joblog_wrote_besides_is_passed_over() -> None:
    shown = {"quantity": "3", "unit": "ft", "colour": "white"}
    assert from_json(Amount, shown) == Amount(Fraction(3), "ft")


@pytest.mark.parametrize(
    ("kind", "shown", "why"),
    [
        (Amount, {"unit": "ft"}, "quantity is missing"),
        (Amount, {"quantity": 3}, "quantity: 3 is no exact number"),
        (Amount, {"quantity": "1e999999999"}, "is no exact number"),
        (Amount, {"quantity": "1/0"}, "divides by zero"),
        (Amount, {"quantity": "1", "unit": None}, "unit: None is no str"),
        (Amount, ["3", "ft"], "is no Amount"),
        (Item, {"name": "x", "unit": "lb", "unit_cost": "cheap"}, "no amount of money"),
        (Item, {"name": "x", "unit": "lb", "unit_cost": "1e999999"}, "no amount of money"),
        (Item, {"name": "x", "unit": "lb", "spoken": "nails"}, "is no list"),
        (Item, {"name": "x", "unit": "lb", "also": [["box"]]}, "is no list of the right length"),
        (Gap, {"text": "x", "settled_by": "luck"}, "'luck' is none of count, delivery"),
        (DayHours, {"day": "someday"}, "day: Invalid isoformat"),
        (Plan, {"items": [{"item": {"name": "x"}}]}, "items: item: unit is missing"),
        (PlannedItem, {"item": {"name": "x", "unit": "lb"}, "quantity": True}, "True is no exact"),
        (Reconciliation, {"job": "x", "open_doubts": False}, "open_doubts: False is no int"),
        (Gap, {"text": "x", "settled_by": "count", "contradiction": 1}, "1 is no bool"),
    ],
)
def test_what_is_no_such_noun_is_refused_by_its_field(kind: type, shown: object, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        from_json(kind, shown)
