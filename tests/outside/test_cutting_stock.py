"""The cut list against published problems whose best answer is known."""

from __future__ import annotations

import random
from collections import Counter
from fractions import Fraction

import pytest

from joblog.cutting.cuts import plan_cuts
from joblog.model import Piece, StockLength

# Source: the standard paper-roll example of the cutting-stock literature (after Gilmore and
# Gomory): rolls of 5600, 13 widths, 73 rolls at the least, 0.401 % trim loss.
PAPER_ROLLS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12,
    2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def triplets(pieces: int, seed: int) -> list[int]:
    """The "triplet" class of bin packing, where the best is known by how it is made.

    Source: Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics
    2 (1996), from memory: a bin of 1000 is cut into three pieces, the first from 380 to 490, the
    second from 250 to half of what is left. So all pieces fit exactly into a third as many bins.
    """
    chance = random.Random(seed)
    found = []
    for _ in range(pieces // 3):
        first = chance.randint(380, 490)
        second = chance.randint(250, (1000 - first) // 2)
        found += [first, second, 1000 - first - second]
    chance.shuffle(found)
    return found


def test_the_paper_rolls_take_73() -> None:
    wanted = [Piece(Fraction(width), count) for width, count in PAPER_ROLLS.items()]
    plan, problems = plan_cuts(wanted, [StockLength(Fraction(5600))], kerf=Fraction(0))
    loss = sum(stick.remainder for stick in plan.sticks) / plan.spent
    assert problems == ()
    assert (len(plan.sticks), plan.proved) == (73, True)
    assert round(float(100 * loss), 3) == 0.401
    assert Counter(cut.length for stick in plan.sticks for cut in stick.cuts) == PAPER_ROLLS


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("pieces", [60, 120])
def test_triplets_fill_a_third_as_many_bins_without_any_rest(pieces: int, seed: int) -> None:
    wanted = [Piece(Fraction(size)) for size in triplets(pieces, seed)]
    plan, _ = plan_cuts(wanted, [StockLength(Fraction(1000))], kerf=Fraction(0))
    assert (len(plan.sticks), plan.proved) == (pieces // 3, True)
    assert {stick.remainder for stick in plan.sticks} == {0}
