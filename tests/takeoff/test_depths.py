"""Measured depths: one batch where they agree, each piece its own where not."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Depth
from joblog.takeoff.depths import DepthError, Profile

FOOT = Fraction(12)
EIGHTH = Fraction(1, 8)
SIXTEENTHS = st.integers(16 * 8, 16 * 40).map(lambda parts: Fraction(parts, 16))


def depths(*inches: str) -> tuple[Depth, ...]:
    return tuple(Depth(Fraction(depth)) for depth in inches)


def profile(*inches: str, feet: int = 40, tolerance: Fraction = EIGHTH) -> Profile:
    return Profile.of(depths(*inches), Fraction(feet * 12), FOOT, tolerance)


def test_depths_within_the_tolerance_agree_and_the_smallest_fits_everywhere() -> None:
    agreed = profile("12", "97/8", "12")
    assert agreed.agree
    assert agreed.least == 12
    assert "the batch can be cut ahead" in agreed.summary


def test_depths_beyond_the_tolerance_are_cut_each_to_its_own() -> None:
    apart = profile("12", "195/16", "12")
    assert not apart.agree
    assert "cut each piece to its own" in apart.summary


def test_each_piece_has_the_depth_in_its_middle() -> None:
    # From 12 to 16 in over 4 ft the depth grows by 1 in a foot: 12 1/2, 13 1/2, 14 1/2, 15 1/2.
    pieces = profile("12", "16", feet=4, tolerance=Fraction(1)).of_pieces(4)
    assert list(pieces) == [Fraction(25, 2), Fraction(27, 2), Fraction(29, 2), Fraction(31, 2)]


def test_where_the_depth_runs_out_fast_a_piece_is_as_long_as_its_longer_edge() -> None:
    fast = profile("12", "16", feet=4)
    assert list(fast.of_pieces(4)) == [13, 14, 15, 16]
    assert "cut the slant" in fast.summary


def test_places_of_the_depths_may_be_given_in_any_order() -> None:
    placed = (Depth(Fraction(13), Fraction(240)), Depth(Fraction(12), Fraction(0)))
    middle = Profile.of(placed, Fraction(480), FOOT, EIGHTH)
    assert middle.mean == Fraction(51, 4)  # 12 to 13 over half, then 13: (12.5 + 13) / 2


def test_the_mean_is_the_area_over_the_length() -> None:
    assert profile("12", "14", "12").mean == 13


@pytest.mark.parametrize(
    ("measured", "why"),
    [
        ((Depth(Fraction(12), Fraction(5)), Depth(Fraction(13), Fraction(5))), "two depths at 5"),
        ((Depth(Fraction(12), Fraction(500)),), "but is 40' long"),
        ((Depth(Fraction(0)),), "zero or less"),
        ((Depth(Fraction(12), Fraction(5)), Depth(Fraction(12))), "not of all"),
    ],
)
def test_depths_that_cannot_be_are_refused(measured: tuple[Depth, ...], why: str) -> None:
    with pytest.raises(DepthError, match=why):
        Profile.of(measured, Fraction(480), FOOT, EIGHTH)


@given(st.lists(SIXTEENTHS, min_size=1, max_size=8), st.integers(1, 60))
def test_no_piece_is_deeper_or_shallower_than_what_was_measured(
    measured: list[Fraction], feet: int
) -> None:
    found = Profile.of([Depth(depth) for depth in measured], feet * FOOT, FOOT, EIGHTH)
    assert all(min(measured) <= depth <= max(measured) for depth in found.of_pieces(feet))
    assert min(measured) <= found.mean <= max(measured)
