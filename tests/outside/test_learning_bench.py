"""The bench of learning measures what it says: its physics, its scores, and itself when tiny."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from tests.bench.learning.__main__ import METHODS, show
from tests.bench.learning.methods import LEFT_OVER, MISSING, by_amounts
from tests.bench.learning.scores import LEVELS, _inside, read, score, stored
from tests.bench.learning.simulators import HELD, OPEN, contractor
from tests.bench.learning.trade import Asked, Cuts, Goods, Luck, gone

SURE_HANDS = Goods("panel", "panel", Fraction(1), 1, 0.0, 0.0, 0.0, 0.0, 0.0)
THIRDS = Cuts(pieces=30, size=Fraction(3, 10))
USUAL = Luck(clumsy=1.0, cold=0.0)


def test_sure_hands_lose_only_what_the_cut_list_forces() -> None:
    lost = gone(SURE_HANDS, THIRDS, USUAL, 0.0, np.random.default_rng(1))
    assert lost == pytest.approx(float(THIRDS.net + THIRDS.forced)) == 10


def test_one_panel_in_ten_that_cracks_costs_one_more_for_nine_built_in() -> None:
    """Until ten are whole, 10 x 0.1 / 0.9 break on average: the negative binomial distribution."""
    breaks = Goods("panel", "panel", Fraction(1), 1, 0.1, 0.0, 0.0, 0.0, 0.0)
    draw = np.random.default_rng(2)
    lost = np.mean([gone(breaks, THIRDS, USUAL, 0.0, draw) for _ in range(4000)])
    assert lost == pytest.approx(10 + 10 / 9, abs=0.08)


def test_what_is_foreseen_rightly_is_held_as_often_as_it_says() -> None:
    draw = np.random.default_rng(3)
    foreseen, told = draw.gamma(2, 1.5, 20000), draw.gamma(2, 1.5, 4000)
    assert _inside(np.round(2 * told) / 2, foreseen, 0.5) == pytest.approx(LEVELS, abs=0.02)


def test_the_order_made_of_equally_likely_amounts_is_the_cheapest() -> None:
    amounts = np.random.default_rng(4).gamma(3, 2, 800)
    asked = Asked(SURE_HANDS, Fraction(5), None, None, None, None, tuple(amounts), (), 0)

    def cost(packs: int) -> float:
        needed = np.ceil(amounts)
        return float(
            np.mean(
                MISSING * np.maximum(0, needed - packs) + LEFT_OVER * np.maximum(0, packs - needed)
            )
        )

    cheapest = min(range(40), key=cost)
    assert cost(by_amounts(asked, amounts).packs) == pytest.approx(cost(cheapest), rel=0.01)


@pytest.mark.parametrize("name", OPEN)
def test_a_person_s_life_is_the_same_each_time_and_another_in_the_held_half(name: str) -> None:
    assert contractor(OPEN[name], 0).history(5) == contractor(OPEN[name], 0).history(5)
    assert OPEN[name].seed not in {held.seed for held in HELD.values()}


def test_the_bench_runs_on_one_person_of_each_trade(capsys: pytest.CaptureFixture[str]) -> None:
    found = {}
    for name, setting in OPEN.items():
        person = contractor(setting, 0)
        found[name] = {
            (3, method): [read(stored(score(person, 3, foresee(person, 3))))]
            for method, foresee in METHODS.items()
        }
    show(found)
    table = capsys.readouterr().out
    assert all(table.count(name) >= 5 for name in OPEN)
    assert "nan" not in table
