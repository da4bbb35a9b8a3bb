"""Hours that say how much was done in them, and what an hour costs."""

from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.dictation import read
from joblog.model import Entry
from tests.bench.corpus import words

JOB = words()


def hours_in(text: str) -> Entry:
    [entry] = [entry for entry in read(text, JOB).entries if entry.kind == "labor"]
    return entry


@pytest.mark.parametrize(
    ("text", "task", "hours", "quantity", "unit"),
    [
        ("hung forty feet of soffit in three hours", "hang soffit", 3, 40, "ft"),
        ("wrapped sixty feet of fascia four hours", "wrap fascia", 4, 60, "ft"),
        ("hung three squares of siding in five hours", "side walls", 5, 3, "square"),
        ("gutter went up forty feet in two hours", "hang gutter", 2, 40, "ft"),
    ],
)
def test_how_much_was_done_stands_with_its_hours(
    text: str, task: str, hours: int, quantity: int, unit: str
) -> None:
    entry = hours_in(text)
    assert (entry.task, entry.hours, entry.quantity, entry.unit) == (task, hours, quantity, unit)
    assert not read(text, JOB).doubts


def test_the_material_is_not_told_a_second_time() -> None:
    kinds = [entry.kind for entry in read("hung forty feet of gutter in two hours", JOB).entries]
    assert kinds == ["labor"]


def test_the_crew_counts_as_it_does_without_an_amount() -> None:
    entry = hours_in("two of us hung forty feet of gutter in three and a half hours")
    assert (entry.workers, entry.hours, entry.quantity) == (2, Fraction(7, 2), 40)


@pytest.mark.parametrize(
    ("text", "pay"),
    [
        ("hung soffit six hours at twenty five an hour", "25.00"),
        ("soffit six hours with a helper at thirty two dollars an hour", "32.00"),
        ("worked on siding four hours at twenty two fifty an hour", "22.50"),
    ],
)
def test_what_an_hour_costs_stands_with_its_hours(text: str, pay: str) -> None:
    assert hours_in(text).unit_cost == Decimal(pay)


@pytest.mark.parametrize(
    ("text", "whose"),
    [
        ("soffit six hours with a helper at thirty two dollars an hour", "the helper"),
        ("two of us, six hours on soffit, the helper at eighteen an hour", "the helper"),
        ("six hours on soffit with a helper, the helper gets eighteen an hour", "the helper"),
        ("six hours on soffit with two helpers at eighteen an hour", "the helpers"),
        ("six hours on soffit, two of us, at thirty an hour", None),
        ("six hours on soffit with a helper at thirty an hour each", None),
        ("hung soffit six hours at twenty five an hour", None),
    ],
)
def test_the_pay_of_a_helper_is_told_apart_from_that_of_everybody(
    text: str, whose: str | None
) -> None:
    assert hours_in(text).who == whose
    assert not read(text, JOB).doubts


def test_whose_pay_it_is_is_asked_where_a_breath_stands_between() -> None:
    [doubt] = read("soffit six hours with a helper, at eighteen an hour", JOB).doubts
    assert doubt.why == "is that the helper's pay, or everybody's?"


def test_the_wind_is_no_pay() -> None:
    entries = read("windy about twenty miles an hour", JOB).entries
    assert [entry.kind for entry in entries] == ["weather"]
