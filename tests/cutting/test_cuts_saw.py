"""The order for the saw."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.saw import saw_order

lengths = st.sets(st.integers(1, 5).map(Fraction), min_size=1, max_size=3)


def settings_counted(orders: list[tuple[Fraction, ...]]) -> int:
    row = [length for order in orders for length in order]
    return sum(one != other for one, other in zip([None, *row], row, strict=False))


def least_by_trying_all(patterns: list[set[Fraction]]) -> int:
    return min(
        settings_counted(list(orders))
        for order in permutations(patterns)
        for orders in product(*(list(permutations(sorted(each))) for each in order))
    )


@settings(max_examples=60)
@given(st.lists(lengths, min_size=1, max_size=4))
def test_the_fence_is_set_as_seldom_as_trying_every_order_finds(
    patterns: list[set[Fraction]],
) -> None:
    turns, count = saw_order([sorted(each) for each in patterns])
    assert sorted(turn.pattern for turn in turns) == list(range(len(patterns)))
    assert all(set(turn.lengths) == patterns[turn.pattern] for turn in turns)
    assert count == settings_counted([turn.lengths for turn in turns])
    assert count == least_by_trying_all(patterns)


def test_the_first_patterns_stay_first() -> None:
    one, two = Fraction(1), Fraction(2)
    turns, _ = saw_order([[one], [two], [one], [two]], first=2)
    assert {turn.pattern for turn in turns[:2]} == {0, 1}
