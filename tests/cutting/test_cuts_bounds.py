"""No lower bound of a cut list lies above what the pieces can be cut for."""

from __future__ import annotations

from collections import Counter
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.columns import (
    Bin,
    PackingProblem,
    _in_parts,
    _without_short,
    bound_by_functions,
)
from joblog.cutting.effort import Effort
from joblog.cutting.packing import pack

weights = st.lists(st.integers(2, 30), min_size=1, max_size=6)
kinds = st.lists(
    st.builds(Bin, st.integers(8, 29), st.integers(1, 9), st.none() | st.integers(0, 2)),
    max_size=2,
)
offcuts = st.lists(st.builds(Bin, st.integers(5, 29), st.just(0), st.just(1)), max_size=2)


def least_by_trying_all(pieces: list[int], bins: list[Bin]) -> int:
    """Each piece into each stick that there could be, all sticks at once."""
    sticks = [bin for bin in bins for _ in range(len(pieces) if bin.limit is None else bin.limit)]
    best = [10**9]

    def put(at: int, left: list[int], cost: int) -> None:
        if cost >= best[0]:
            return
        if at == len(pieces):
            best[0] = cost
            return
        tried = set()
        for number, room in enumerate(left):
            fresh = room == sticks[number].capacity
            key = room, fresh and sticks[number].cost
            if room >= pieces[at] and key not in tried:
                tried.add(key)
                left[number] = room - pieces[at]
                put(at + 1, left, cost + (sticks[number].cost if fresh else 0))
                left[number] = room

    put(0, [stick.capacity for stick in sticks], 0)
    return best[0]


@settings(max_examples=80, deadline=None)
@given(weights, kinds, offcuts, st.integers(1, 9))
def test_the_cheapest_sticks_are_found_and_no_bound_is_above_them(
    pieces: list[int], kinds: list[Bin], offcuts: list[Bin], cost: int
) -> None:
    bins = [*kinds, *offcuts, Bin(30, cost)]
    counted = Counter(pieces)
    lengths = sorted(counted, reverse=True)
    demands = [counted[length] for length in lengths]
    least = least_by_trying_all(sorted(pieces, reverse=True), bins)
    packing = pack(lengths, demands, bins, Effort())
    problem = PackingProblem(tuple(lengths), tuple(demands), tuple(bins), Effort())
    assert (packing.cost, packing.bound) == (least, least)
    assert bound_by_functions(problem) <= least
    for effort in (0, 0.0005):
        hurried = pack(lengths, demands, bins, Effort(effort))
        assert hurried.bound <= least <= hurried.cost


def test_pieces_of_more_than_half_a_stick_are_counted_one_by_one_without_a_search() -> None:
    problem = PackingProblem((60, 51), (7, 5), (Bin(100, 1),), Effort(0))
    assert bound_by_functions(problem) == 12


def test_thirds_that_are_a_little_too_long_go_two_to_a_stick() -> None:
    assert bound_by_functions(PackingProblem((34,), (20,), (Bin(100, 1),), Effort(0))) == 10


@settings(max_examples=30, deadline=None)
@given(st.integers(2, 40), st.integers(1, 20), st.data())
def test_what_fits_into_a_stick_still_fits_after_each_change_of_sizes(
    longest: int, step: int, data: st.DataObject
) -> None:
    least = data.draw(st.integers(1, max(1, longest // 2)))
    for one, other in product(range(longest + 1), repeat=2):
        if one + other <= longest:
            assert _in_parts(longest, step, one) + _in_parts(longest, step, other) <= _in_parts(
                longest, step, one + other
            )
            if least * 2 <= longest:
                assert _without_short(longest, least, one) + _without_short(
                    longest, least, other
                ) <= _without_short(longest, least, one + other)
