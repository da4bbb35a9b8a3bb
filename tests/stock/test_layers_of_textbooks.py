"""First in, first out under a perpetual system, against worked examples of a textbook."""

from fractions import Fraction

import pytest

from joblog.stock import Movement, cost_of, quantity_of, through_jobs
from tests.stock.told_in_days import on

# Practice exercises 7-2A and 7-2B, "Perpetual inventory using FIFO", of Warren, Reeve and Duchac,
# Accounting (25th edition): item B901 begins with 50 at $80, 30 are sold on the 9th, 40 bought at
# $85 on the 13th, 25 sold on the 28th. Answer: sold on the 28th for $2,025, left $2,975. Item Delta
# begins with 50 at $15, 44 are sold on the 7th, 90 bought at $18 on the 15th, 40 sold on the 24th.
# Answer: sold on the 24th for $702, left $1,008.
B901 = (
    on(1, "B901", "delivered", 50, "80.00"),
    on(9, "B901", "consumed", 30),
    on(13, "B901", "delivered", 40, "85.00"),
    on(28, "B901", "consumed", 25),
)
DELTA = (
    on(1, "Delta", "delivered", 50, "15.00"),
    on(7, "Delta", "consumed", 44),
    on(15, "Delta", "delivered", 90, "18.00"),
    on(24, "Delta", "consumed", 40),
)


@pytest.mark.parametrize(
    ("life", "last_sale", "units_left", "cost_left"),
    [(B901, 2025, 35, 2975), (DELTA, 702, 56, 1008)],
)
def test_what_is_sold_and_what_is_left_cost_what_the_textbook_says(
    life: tuple[Movement, ...], last_sale: int, units_left: int, cost_left: int
) -> None:
    before, after = through_jobs(life[:-1]), through_jobs(life)
    [(_, _, sold_before)], [(_, _, sold)] = before.consumed, after.consumed
    [lying] = after.lying
    assert cost_of(sold) - cost_of(sold_before) == last_sale
    assert (lying.quantity, cost_of(lying.layers)) == (units_left, cost_left)


def test_in_any_order_of_telling_it_comes_to_the_same() -> None:
    assert through_jobs(B901[::-1]) == through_jobs(B901)


def test_the_first_and_last_of_a_layer_add_up() -> None:
    [(_, _, sold)] = through_jobs(B901).consumed
    assert quantity_of(sold) == Fraction(55)
