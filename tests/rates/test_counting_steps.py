"""What an item is counted in, told from the amounts alone."""

from fractions import Fraction

import pytest

from joblog.rates.steps import piece_of, step_of


@pytest.mark.parametrize(
    ("told", "step"),
    [
        ("", "1/2"),
        ("40", "1/2"),
        # One amount may be a multiple of much by chance.
        ("1075", "1/2"),
        ("37.5 41 16", "1/2"),
        ("42 40 17 31", "1"),
        # Sticks of 12 ft in halves: multiples of 6 ft.
        ("126 48 90", "6"),
        ("130 50 95 45", "5"),
        ("37.25 41 16.5", "1/4"),
        # Weighed, not counted: then as where nothing is known.
        ("37.21 40.03", "1/2"),
        ("0 42 40 17 31", "1"),
    ],
)
def test_the_step_is_the_likeliest_of_those_that_all_amounts_are_multiples_of(
    told: str, step: str
) -> None:
    assert step_of(map(Fraction, told.split())) == Fraction(step)


def test_a_piece_is_two_of_the_halves_that_it_was_counted_in() -> None:
    assert [piece_of(step) for step in (0.25, 0.5, 1, 6)] == [1, 1, 1, 12]
