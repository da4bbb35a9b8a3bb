"""The plan against every other plan there is, for jobs small enough to try them all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.cuts import plan_cuts
from joblog.model import CutPlan, Piece, StockLength

KERF, USEFUL = Fraction(1, 8), Fraction(24)
Score = tuple[Fraction, Fraction, int, int, Fraction]
"""Cost, less what comes out of offcuts, patterns, loads, less the squares of what is kept."""

lengths = st.lists(
    st.sampled_from([20, 24, 31, 40, 47, 59, 60, 70, 71]).map(Fraction), min_size=1, max_size=5
)
new_stock = st.lists(st.sampled_from([72, 96, 100, 144]), min_size=1, max_size=2, unique=True)
offcut = st.sampled_from([None, 30, 50, 80])


def partitions(pieces: list[Fraction]) -> Iterator[list[list[Fraction]]]:
    if not pieces:
        yield []
        return
    for rest in partitions(pieces[1:]):
        yield [[pieces[0]], *rest]
        for at in range(len(rest)):
            yield [*rest[:at], [pieces[0], *rest[at]], *rest[at + 1 :]]


def square_if_kept(left: Fraction) -> Fraction:
    return left * left if left >= USEFUL else Fraction(0)


def score(sticks: list[tuple[StockLength, list[Fraction]]], at_once: int) -> Score:
    patterns = Counter((line, tuple(sorted(cuts))) for line, cuts in sticks)
    kept = sum(
        square_if_kept(max(Fraction(0), line.length - sum(cuts) - len(cuts) * KERF))
        - (square_if_kept(line.length) if line.offcut else 0)
        for line, cuts in sticks
    )
    return (
        Fraction(sum(line.length for line, _ in sticks if not line.offcut)),
        -Fraction(sum(sum(cuts) for line, cuts in sticks if line.offcut)),
        len(patterns),
        sum(-(-times // at_once) for times in patterns.values()) if at_once > 1 else 0,
        -Fraction(kept),
    )


def best_by_trying_all(
    pieces: list[Fraction], stock: list[StockLength], on_hand: list[StockLength], at_once: int
) -> Score:
    return min(
        score(list(zip(kinds, blocks, strict=True)), at_once)
        for blocks in partitions(pieces)
        for kinds in product([*stock, *on_hand], repeat=len(blocks))
        if sum(line.offcut for line in kinds) <= len(on_hand)
        and all(
            sum(cuts) + (len(cuts) - 1) * KERF <= line.length
            for line, cuts in zip(kinds, blocks, strict=True)
        )
    )


def score_of(plan: CutPlan, stock: list[StockLength], at_once: int) -> Score:
    found = {(line.length, line.offcut): line for line in stock}
    sticks = [
        (found[stick.length, stick.offcut], [cut.length for cut in stick.cuts])
        for stick in plan.sticks
    ]
    return score(sticks, at_once)


@settings(max_examples=60)
@given(lengths, new_stock, offcut, st.sampled_from([1, 2]))
def test_a_small_plan_is_the_best_of_all(
    pieces: list[Fraction], new: list[int], old: int | None, at_once: int
) -> None:
    stock = [StockLength(Fraction(length)) for length in new]
    on_hand = [StockLength(Fraction(old), 1, offcut=True)] if old else []
    plan, _ = plan_cuts(
        [Piece(length) for length in pieces],
        [*stock, *on_hand],
        kerf=KERF,
        useful=USEFUL,
        at_once=at_once,
    )
    assert plan.proved
    assert plan.patterns_proved
    assert score_of(plan, [*stock, *on_hand], at_once) == best_by_trying_all(
        pieces, stock, on_hand, at_once
    )
