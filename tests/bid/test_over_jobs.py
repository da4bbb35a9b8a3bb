"""Jobs beside each other: three worked by hand, sums that add up, and trends only where there are
any."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.bid.over_jobs import ENOUGH, SUMS, figure, groups_of, house, over_jobs, season, trend
from joblog.bid.planned import plan_of
from joblog.bid.said import with_said
from joblog.bid.work_out import names_of, work_out
from joblog.model import Bid, Closing, Entry, JobResult, OverJobs
from joblog.reconcile import reconcile
from tests.bid.a_basis import basis
from tests.reconcile.told import JOB, book

SAID = (("margin", "20%"), ("expense.permit", "85"), ("miles", "100"), ("mile rate", "0.70"))
AT = datetime(2026, 10, 9, 20, tzinfo=UTC)


def bid(job: str = JOB.name, **more: object) -> Bid:
    of = basis(**more)  # type: ignore[arg-type]
    return work_out(job, date(2026, 9, 1), of, with_said((), SAID, names_of(of)))


def closed(bid: Bid, *told: Entry, job: str = JOB.name, day: date = date(2026, 10, 9)) -> Closing:
    return Closing(job, day, AT, reconcile(JOB, plan_of(bid), book(*told)))


def stock(kind: str, item: str, quantity: object, **more: object) -> Entry:
    unit = "sheet" if item == "soffit panel" else "each"
    return Entry(kind, item=item, quantity=Fraction(str(quantity)), unit=unit, **more)  # type: ignore[arg-type]


TOLD = (
    stock("delivered", "soffit panel", 12, unit_cost=Decimal("33.25")),
    stock("used", "soffit panel", 10),
    stock("spoiled", "soffit panel", 1, reason="cut too short"),
    stock("on_hand", "soffit panel", 0),
    stock("delivered", "trim nails", 1000, unit_cost=Decimal("0.015")),
    stock("used", "trim nails", 800),
    stock("on_hand", "trim nails", 200),
    Entry(
        "labor", hours=Fraction(8), workers=2, task="hang soffit", quantity=Fraction(65), unit="ft"
    ),
    Entry("extra", note="gutter guards", price=Decimal("450"), who="Mrs Hale"),
    Entry("expense", note="permit and parking", price=Decimal("100")),
    Entry("drive", miles=Fraction(120)),
)


def values(found: OverJobs, by: str, name: str) -> dict[str, tuple[Fraction | None, int]]:
    [group] = [one for one in found.groups if (one.by, one.name) == (by, name)]
    return {one.name: (one.value, one.jobs) for one in group.figures}


def test_a_job_by_hand() -> None:
    # As in the outcome of the same job: 1,210.69 and 450 charged; 411 material, 640 for 16 hours
    # at 40, 184 beside.
    [row] = over_jobs([(closed(bid(), *TOLD), bid())]).results
    assert (row.charged, row.cost, row.earned) == (
        Decimal("1660.69"), Decimal("1235.00"), Decimal("425.69"),
    )  # fmt: skip
    assert (row.hours, row.hours_bid, row.feet, row.crew) == (16, 13, 65, 2)
    assert (row.material, row.material_bid) == (Decimal("411.00"), Decimal("293.55"))
    # One panel of 33.25 wasted, one that nobody explains, of 399 + 12.
    assert (row.gone, row.wasted, row.unexplained) == (
        Decimal("411.00"), Decimal("33.25"), Decimal("33.25"),
    )  # fmt: skip
    assert (row.extras, row.expenses, row.miles) == (Decimal("450.00"), Decimal("100.00"), 120)
    assert (row.season, row.lacks) == ("fall", ())


def test_rates_and_shares_by_hand() -> None:
    found = values(over_jobs([(closed(bid(), *TOLD), bid())]), "all", "all jobs")
    assert found["earned_an_hour"] == (Fraction("425.69") / 16, 1)
    assert found["earned_a_foot"] == (Fraction("425.69") / 65, 1)
    # 16 hours where 13 were bid; 411.00 where 293.55 was.
    assert found["hours_over"] == (Fraction(3, 13), 1)
    assert found["material_over"] == (Fraction("117.45") / Fraction("293.55"), 1)
    assert found["wasted_share"] == (Fraction("33.25") / 411, 1)


def test_what_nobody_told_is_unknown_with_its_reason_and_in_no_sum() -> None:
    bare = closed(bid(), TOLD[7], Entry("extra", note="vents"), job="Bare house")
    found = over_jobs([(closed(bid(), *TOLD), bid()), (bare, bid())])
    row = next(one for one in found.results if one.job == "Bare house")
    assert (row.charged, row.cost, row.earned, row.material, row.extras) == (None,) * 5
    lacks = dict(row.lacks)
    assert lacks["charged"] == "nobody said what is charged for: vents"
    assert lacks["material"] == "nothing was told of soffit panel, trim nails"
    assert lacks["wasted"] == "no item was both counted and priced"
    assert row.hours == 16
    together = values(found, "all", "all jobs")
    assert together["earned"] == (Fraction("425.69"), 1)
    assert together["hours"] == (32, 2)


def test_a_job_without_a_bid_is_a_line_with_what_is_known() -> None:
    [row] = over_jobs([(closed(bid(), *TOLD), None)]).results
    assert (row.charged, row.earned, row.hours_bid) == (None, None, None)
    assert dict(row.lacks)["earned"] == "it had no bid"
    assert (row.hours, row.wasted, row.miles) == (16, Decimal("33.25"), 120)


def test_a_bid_that_lacked_a_price_charges_nothing_that_is_known() -> None:
    lacking = bid(panel_price=None)
    [row] = over_jobs([(closed(lacking, *TOLD), lacking)]).results
    assert row.charged is None and row.earned is None
    assert dict(row.lacks)["charged"].startswith("the bid has no price: nobody knows")


def test_an_extra_that_is_in_the_bid_needs_no_price_of_its_own() -> None:
    of = basis()
    said = (*SAID, ("extra.gutter guards", "450 taken"))
    taken = work_out(JOB.name, date(2026, 9, 1), of, with_said((), said, names_of(of)))
    told = (*TOLD[:8], Entry("extra", note="gutter guards"))
    [row] = over_jobs([(closed(taken, *told), taken)]).results
    assert (row.extras, row.charged) == (Decimal("0.00"), taken.price)
    [row] = over_jobs([(closed(taken, *told), None)]).results
    assert (row.extras, dict(row.lacks)["extras"]) == (
        None, "nobody said what is charged for: gutter guards",
    )  # fmt: skip


def test_what_cannot_be_is_known_in_no_figure() -> None:
    odd = closed(bid(), stock("used", "soffit panel", 3), stock("on_hand", "soffit panel", 2))
    [row] = over_jobs([(odd, bid())]).results
    assert (row.hours, row.cost, row.miles, row.gone) == (None,) * 4
    assert all("soffit panel" in why for _, why in row.lacks)


def test_jobs_that_are_left_out_are_told() -> None:
    found = over_jobs([], [("Mill house", "is not closed")])
    assert (found.results, found.groups, found.trends) == ((), (), ())
    assert found.left_out == (("Mill house", "is not closed"),)


@pytest.mark.parametrize(
    ("days", "name"),
    [
        ([date(2026, 2, 28)], "winter"),
        ([date(2026, 2, 28), date(2026, 3, 1), date(2026, 3, 2)], "spring"),
        ([date(2026, 5, 31), date(2026, 6, 1)], "spring"),
        ([date(2026, 12, 1)], "winter"),
        ([date(2026, 9, 1)], "fall"),
        ([], ""),
    ],
)
def test_a_season_is_the_one_of_most_days(days: list[date], name: str) -> None:
    assert season(days) == name


def test_a_house_is_what_stands_before_the_comma() -> None:
    assert house("Mill house, gutters") == house("Mill house") == "Mill house"
    assert house("Hale - porch") == "Hale"
    assert house(", porch") == ", porch"


def test_jobs_at_one_house_are_one_group() -> None:
    jobs = [
        (closed(bid(), *TOLD, job=name), bid())
        for name in ("Mill house", "mill house, gutters", "Barn")
    ]
    of_house = values(over_jobs(jobs), "house", "Mill house")
    assert of_house["earned"] == (2 * Fraction("425.69"), 2)


MONEY = st.none() | st.decimals(-9999, 9999, places=2)
ROWS = st.lists(
    st.builds(
        JobResult,
        day=st.dates(date(2025, 1, 1), date(2026, 12, 31)),
        job=st.sampled_from(["a", "b", "b, shed", "c"]),
        house=st.sampled_from(["a", "b", "c"]),
        season=st.sampled_from(["winter", "spring", "summer", "fall"]),
        crew=st.none() | st.integers(1, 4),
        charged=MONEY,
        cost=MONEY,
        earned=MONEY,
        hours=st.none() | st.fractions(0, 99, max_denominator=4),
        extras=MONEY,
        expenses=MONEY,
        miles=st.none() | st.fractions(0, 99, max_denominator=4),
    ),
    max_size=12,
)


@given(ROWS)
@settings(deadline=None)
def test_sums_over_groups_are_sums_over_jobs(rows: list[JobResult]) -> None:
    groups = groups_of(rows)
    for name in SUMS:
        whole = figure(name, rows)
        for by in ("all", "season", "crew", "house") if rows else ():
            parts = [
                one for group in groups if group.by == by for one in group.figures
                if one.name == name
            ]  # fmt: skip
            assert sum(part.value or 0 for part in parts) == (whole.value or 0)
            assert sum(part.jobs for part in parts) == whole.jobs
            assert sum(len(group.jobs) for group in groups if group.by == by) == len(rows)


def earned(values: list[float]) -> list[JobResult]:
    """Jobs ten days apart that earned so much an hour in one hour."""
    return [
        JobResult(
            date(2026, 1, 1) + timedelta(days=10 * at),
            f"job {at}",
            "a",
            "winter",
            earned=Decimal(str(value)),
            hours=Fraction(1),
        )
        for at, value in enumerate(values)
    ]


def test_a_trend_by_hand() -> None:
    # Two less each time: fourteen less from the first to the eighth, whatever the one that is odd.
    found = trend("earned_an_hour", earned([40, 38, 36, 34, 32, 90, 28, 26]))
    assert found.jobs == 8
    assert found.change == pytest.approx(-14)
    assert found.sure


def test_few_jobs_or_no_direction_make_no_trend() -> None:
    assert trend("earned_an_hour", earned([40, 30, 20, 10, 5, 3, 1])).change is None
    back_and_forth = trend("earned_an_hour", earned([30, 34, 29, 33, 31, 28, 35, 30, 32, 31]))
    assert back_and_forth.jobs >= ENOUGH
    assert not back_and_forth.sure
    same = [replace(one, day=date(2026, 1, 1)) for one in earned([1, 2, 3, 4, 5, 6, 7, 8])]
    assert trend("earned_an_hour", same).change is None
