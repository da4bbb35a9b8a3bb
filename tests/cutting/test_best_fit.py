"""Sticks filled piece by piece: never fewer than can be, and often as few."""

from collections import Counter
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.cutting.best_fit import best_fit
from joblog.cutting.cuts import fewest_sticks
from joblog.model import Piece

EIGHTH = Fraction(1, 8)
LENGTHS = st.fractions(min_value=1, max_value=120, max_denominator=16)


def test_pieces_that_fill_their_sticks_take_no_more() -> None:
    # Three of 47 7/8 with three cuts are 144 in, and the last cut falls beside the stick.
    assert best_fit({Fraction(383, 8): 6}, Fraction(144), EIGHTH) == (2, 2)


def test_short_ones_go_into_what_long_ones_leave() -> None:
    assert best_fit({Fraction(100): 2, Fraction(40): 2}, Fraction(144), EIGHTH) == (2, 2)


def test_what_fits_nowhere_takes_a_stick_of_its_own() -> None:
    assert best_fit({Fraction(90): 3}, Fraction(144), EIGHTH) == (3, 2)


@given(st.dictionaries(LENGTHS, st.integers(1, 6), min_size=1, max_size=5))
def test_it_lies_between_the_least_that_can_be_and_one_stick_for_each_piece(
    pieces: dict[Fraction, int],
) -> None:
    sticks, bound = best_fit(pieces, Fraction(120), EIGHTH)
    least, _ = fewest_sticks([Piece(each, many) for each, many in pieces.items()], Fraction(120))
    assert bound <= least <= sticks <= Counter(pieces).total()


@given(st.dictionaries(LENGTHS, st.integers(1, 60), min_size=1, max_size=40))
def test_it_takes_no_more_than_twice_what_the_pieces_measure(
    pieces: dict[Fraction, int],
) -> None:
    sticks, bound = best_fit(pieces, Fraction(120), EIGHTH)
    # All sticks but one are filled more than half, or hold a piece that is more than half of one.
    assert bound <= sticks <= 2 * bound + 1
