"""How a bid may turn out: against what is known in closed form."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from statistics import NormalDist

import pytest

from joblog.bid.chances import thinned
from joblog.bid.said import with_said
from joblog.bid.work_out import names_of, work_out
from joblog.model import Bid, BidBasis, BidGround, Item, Plan, PlannedItem
from tests.bid.a_basis import basis

DAY = date(2026, 11, 2)
EVEN = [(at + 0.5) / 200 for at in range(200)]


def bid_on(of: BidBasis, *said: tuple[str, str]) -> Bid:
    return work_out("maple street", DAY, of, with_said((), said, names_of(of)))


def two_normal_items(one: float, other: float) -> BidBasis:
    """Two items, 100 units each at 1 a unit, that vary normally by so much."""
    items = tuple(
        PlannedItem(Item(name, "each"), Fraction(100), Decimal(1)) for name in ("first", "second")
    )
    grounds = tuple(
        BidGround(item.item.name, (), tuple(NormalDist(100, by).inv_cdf(p) for p in EVEN))
        for item, by in zip(items, (one, other), strict=True)
    )
    return BidBasis(Plan(items), items=grounds)


def test_two_lines_together_vary_as_the_root_of_their_squares() -> None:
    # Independent normals: 3 and 4 together are 5 (any text on probability). The 200 points of
    # each hold a little less than all of its variance.
    found = bid_on(two_normal_items(3, 4)).chances
    assert found is not None
    for interval in found.intervals:
        expected = NormalDist(200, 5)
        low, high = ((1 - interval.level) / 2, (1 + interval.level) / 2)
        assert interval.low == pytest.approx(expected.inv_cdf(low), abs=0.2)
        assert interval.high == pytest.approx(expected.inv_cdf(high), abs=0.2)
    assert [one.name for one in found.drivers] == ["second", "first"]
    assert found.drivers[0].share == pytest.approx(16 / 25, abs=0.02)


def test_the_chance_to_cost_more_than_the_price_is_half_at_the_expected_cost() -> None:
    found = bid_on(two_normal_items(3, 4)).chances
    assert found is not None
    assert found.over == pytest.approx(0.5, abs=0.02)


def test_a_margin_makes_it_less_likely_to_lose() -> None:
    # 200 / (1 - 0.0244) = 205: one standard deviation above, which 15.9 % exceed.
    found = bid_on(two_normal_items(3, 4), ("price", "205")).chances
    assert found is not None
    assert found.over == pytest.approx(1 - NormalDist().cdf(1), abs=0.01)


def test_a_number_that_was_set_takes_its_scatter_with_it() -> None:
    before, after = (
        bid_on(two_normal_items(3, 0.001), *said).chances
        for said in ((), (("first.quantity", "200"),))
    )
    assert before is not None
    assert after is not None
    widths = [one.intervals[1].high - one.intervals[1].low for one in (before, after)]
    assert widths[1] == pytest.approx(2 * widths[0], rel=0.01)
    assert after.mean == pytest.approx(300, abs=0.01)


def test_whole_packs_are_drawn_as_whole_packs() -> None:
    of = two_normal_items(3, 0.001)
    dozen = replace(of.plan.items[0], item=Item("first", "each", pack=Fraction(12)))
    of = replace(of, plan=replace(of.plan, items=(dozen, of.plan.items[1])))
    found = bid_on(of, ("first.packs", "yes")).chances
    assert found is not None
    # A hundred, give or take three: at most 96 in 9 % of jobs, more than 108 in 0.4 %.
    assert found.intervals[2].low == pytest.approx(96 + 100, abs=0.1)
    assert found.intervals[2].high == pytest.approx(108 + 100, abs=0.1)


def test_the_same_bid_has_the_same_chances() -> None:
    assert bid_on(basis()) == bid_on(basis())


def test_a_line_of_which_nothing_is_known_stands_as_it_is_and_is_told() -> None:
    found = bid_on(basis()).chances
    assert found is not None
    assert found.certain == ("trim nails",)


def test_where_nothing_is_known_of_any_line_there_are_no_chances() -> None:
    assert bid_on(basis(chances=False)).chances is None


def test_fewer_points_have_the_mean_of_all_of_them() -> None:
    many = tuple(NormalDist(50, 4).inv_cdf((at + 0.5) / 1000) for at in range(1000))
    few = thinned(many)
    assert len(few) == 200
    assert sum(few) / 200 == pytest.approx(50, abs=1e-4)
