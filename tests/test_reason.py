"""What no job has is asked about before it is taken."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.quantity import convert
from joblog.reason import BOUNDS, BeyondReason, bound_of, check
from joblog.takeoff.works import starter_works


@pytest.mark.parametrize(
    ("what", "number", "unit", "why"),
    [
        ("depth", 1, "in", "depth 1 in is below 3 in, which no job has; say --sure if it is so"),
        ("depth", 12, "ft", "depth 12 ft is more than 5 ft"),
        ("length", 4_100, "ft", "length 4,100 ft is more than 400 ft"),
        ("stud_spacing", Fraction(1, 2), "in", "stud_spacing 1/2 in is below 6 in"),
        ("quantity", 10**12 - 1, "stick", "quantity 999,999,999,999 stick is more than 20,000"),
        ("hours", 9_000, "", "hours 9,000 is more than 5,000"),
        ("price", Decimal("125000.00"), "", "price 125,000.00 is more than 20,000"),
        ("a measure of his own", 10**6, "ft", "more than 20,000 ft"),
    ],
)
def test_what_no_job_has_is_refused_with_what_to_do(
    what: str, number: Fraction | Decimal | int, unit: str, why: str
) -> None:
    with pytest.raises(BeyondReason) as refused:
        check(what, number, unit)
    assert why in str(refused.value)
    check(what, number, unit, sure=True)


def test_a_kind_of_work_may_allow_more_or_less_than_the_table() -> None:
    check("depth", 1, "in", least=Fraction(1, 2))
    with pytest.raises(BeyondReason, match="more than 24 in"):
        check("depth", 30, "in", most=Fraction(24))


@given(st.sampled_from(sorted(BOUNDS)), st.fractions(0, 1))
def test_all_from_the_least_to_the_most_is_within_reason_and_nothing_outside(
    what: str, share: Fraction
) -> None:
    bound = BOUNDS[what]
    check(what, bound.least + share * (bound.most - bound.least), bound.unit)
    for outside in (bound.least - 1, bound.most + 1):
        with pytest.raises(BeyondReason):
            check(what, outside, bound.unit)


@pytest.mark.parametrize("what", [what for what, bound in BOUNDS.items() if bound.unit == "in"])
def test_a_bound_is_the_same_in_every_unit(what: str) -> None:
    bound = bound_of(what, "ft")
    assert convert(bound.most, "ft", "in") == BOUNDS[what].most


def test_all_usual_values_of_our_kinds_of_work_are_within_reason() -> None:
    for work in starter_works().values():
        for measure in work.takes:
            if measure.usual is not None:
                check(measure.name, measure.usual, measure.unit)
