"""Lengths as people write them in a list."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.quantity import feet_and_inches, inches_of, tape


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("12' 4 1/2\"", Fraction(297, 2)),
        ("12'-4 1/2\"", Fraction(297, 2)),
        ("12′ 4½″", Fraction(297, 2)),
        ("5 ft 3 1/2 in", Fraction(127, 2)),
        ("147 3/8", Fraction(1179, 8)),
        ("147-3/8", Fraction(1179, 8)),
        ("14.625", Fraction(117, 8)),
        ("12.5'", Fraction(150)),
        ("7/8", Fraction(7, 8)),
        ("1'6", Fraction(18)),
        ("1,200", Fraction(1200)),
    ],
)
def test_a_length_is_read_exactly(text: str, inches: Fraction) -> None:
    assert inches_of(text) == inches


@pytest.mark.parametrize(
    "text", ["", "abc", "-3", "1/0", "1/2 1/2", "12' 13", "1,5", "1e5", "9" * 5000, "12'' 3'"]
)
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"is not a length|divides by zero"):
        inches_of(text)


@given(st.fractions(0, 5000, max_denominator=64))
def test_a_length_that_was_written_reads_back(inches: Fraction) -> None:
    assert inches_of(feet_and_inches(inches)) == inches
    assert inches_of(tape(inches)) == inches
