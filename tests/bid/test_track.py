"""What earlier bids were off by beyond what they said goes into the next one's intervals."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from statistics import NormalDist

import pytest

from joblog.bid.became import became
from joblog.bid.chances import REST_WORDS
from joblog.bid.planned import plan_of
from joblog.bid.said import with_said
from joblog.bid.track import JOBS, off_beyond
from joblog.bid.work_out import names_of, work_out
from joblog.model import Bid, BidBasis, BidGround, BidOutcome, Item, Plan, PlannedItem
from joblog.reconcile import reconcile
from tests.reconcile.told import JOB, book


def bid_of(deviation: float, off_before: float = 0.0) -> Bid:
    """Material for about 1,000, which varies by so much as a share of it."""
    spread = [math.exp(NormalDist(0, deviation).inv_cdf((at + 0.5) / 200)) for at in range(200)]
    plan = Plan((PlannedItem(Item("all of it", "each"), Fraction(1000), Decimal(1)),))
    ground = BidGround("all of it", (), tuple(1000 * share for share in spread))
    of = BidBasis(plan, items=(ground,), off_before=off_before)
    return work_out(JOB.name, date(2026, 9, 1), of, with_said((), (), names_of(of)))


def cost(bid: Bid, real: float) -> tuple[Bid, BidOutcome]:
    empty = became(bid, reconcile(JOB, plan_of(bid), book()))
    return bid, replace(empty, cost=Decimal(f"{real:.2f}"), overhead=Decimal(0), lacks=())


def test_bids_that_were_off_as_far_as_they_said_add_nothing() -> None:
    # Off by 10 % up and down, where they said a deviation of 10 %.
    bid = bid_of(0.10)
    past = [cost(bid, 1000 * math.exp(off)) for off in (0.1, -0.1) * 5]
    assert off_beyond(past) == pytest.approx(0, abs=0.02)


def test_what_bids_were_off_by_beyond_it_is_learned_slowly() -> None:
    # sqrt(10 (0.13^2 - 0.05^2) / (10 + 3)) = 0.105
    bid = bid_of(0.05)
    past = [cost(bid, 1000 * math.exp(off)) for off in (0.13, -0.13) * 5]
    expected = math.sqrt(10 * (0.13**2 - 0.05**2) / (10 + JOBS))
    assert off_beyond(past) == pytest.approx(expected, rel=0.03)


def test_a_bid_that_had_it_in_already_does_not_count_it_away() -> None:
    without, with_it = bid_of(0.05), bid_of(0.05, 0.12)
    offs = [1000 * math.exp(off) for off in (0.13, -0.13) * 5]
    before, after = (off_beyond([cost(bid, real) for real in offs]) for bid in (without, with_it))
    assert after == pytest.approx(before, rel=0.05)


def test_a_job_whose_cost_is_not_all_known_tells_nothing() -> None:
    bid, outcome = cost(bid_of(0.05), 2000)
    assert off_beyond([(bid, replace(outcome, lacks=("nobody counted",)))]) == 0
    assert off_beyond([]) == 0


def test_it_widens_the_interval_as_a_root_of_squares_and_is_told_as_what_drives_it() -> None:
    # 0.06 and 0.08 on the log scale are 0.10 together.
    found = bid_of(0.06, 0.08).chances
    assert found is not None
    eighty = found.intervals[1]
    expected = 2 * 0.10 * NormalDist().inv_cdf(0.9)
    assert math.log(eighty.high / eighty.low) == pytest.approx(expected, rel=0.03)
    assert found.drivers[0].words == REST_WORDS
    assert sum(one.share for one in found.drivers) == pytest.approx(1)
    assert found.mean == pytest.approx(1000, rel=0.01)
