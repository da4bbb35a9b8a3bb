"""The pages of a squared-up job: money, hours, places, days, why, missing."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.model import (
    Beside,
    BesideLine,
    Closing,
    DayHours,
    Gap,
    LaborVariance,
    MoneyVariance,
    Part,
    Reason,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog_tui.costs import costs
from joblog_tui.hours import hours
from joblog_tui.missing import missing
from joblog_tui.pages import page_names, pages
from joblog_tui.places_and_days import days, places
from joblog_tui.since_closed import since_closed
from joblog_tui.why import why

MONDAY = date(2026, 10, 5)
MONEY = MoneyVariance(
    scope=Decimal("7.00"),
    usage=Decimal("4.00"),
    offcut=Decimal("-5.50"),
    handling=Decimal("22.00"),
    unaccounted=Decimal("5.50"),
    price=Decimal("-8.00"),
    total=Decimal("25.00"),
)
SOFFIT = StockLine(
    item="soffit panel",
    unit="sheet",
    planned=Fraction(15),
    opening=Fraction(0),
    delivered=Fraction(20),
    returned=Fraction(0),
    on_hand=Fraction(2),
    consumed=Fraction(18),
    placed=Fraction(14),
    spoiled=Fraction(3),
    offcut=Fraction(0),
    unaccounted=Fraction(1),
    at_least=Fraction(17),
    at_most=Fraction(20),
    allowed=Fraction(14),
    allowed_by="as planned",
    planned_cost=Decimal("82.50"),
    actual_cost=Decimal("107.50"),
    entries=(1, 2),
    money=MONEY,
)
UNCOUNTED = replace(
    SOFFIT,
    on_hand=None,
    consumed=None,
    unaccounted=None,
    actual_cost=None,
    money=replace(MONEY, unaccounted=None, price=None, total=None),
)
COUNT = Gap(
    "soffit panel: nobody counted what is left",
    "count",
    "soffit panel",
    "sheet",
    Fraction(3),
    Decimal("16.50"),
    (2,),
)
HANGING = TaskLine(
    task="hang soffit",
    planned=Fraction(16),
    actual=Fraction(19),
    planned_cost=Decimal("720.00"),
    actual_cost=Decimal("874.00"),
    entries=(7,),
    unit="ft",
    planned_quantity=Fraction(200),
    done=Fraction(210),
    planned_rate=Fraction(25, 2),
    actual_rate=Fraction(210, 19),
    variance=LaborVariance(
        Fraction(4, 5),
        Fraction(11, 5),
        Fraction(3),
        Decimal("36.00"),
        Decimal("99.00"),
        Decimal("19.00"),
        Decimal("154.00"),
    ),
)
JOB = Reconciliation("job", stock=(SOFFIT,), tasks=(HANGING,))
money = st.decimals(-99999, 99999, places=2)


# --- money ------------------------------------------------------------------------------------


def test_the_parts_of_what_a_material_cost_more_stand_beside_the_whole() -> None:
    [line] = costs(replace(JOB, tasks=()))
    assert line.shown.split() == "soffit panel +25.00 +7.00 +4.00 -5.50 +22.00 +5.50 -8.00".split()
    assert line.head.split()[:3] == ["material", "differs", "work"]


def test_what_a_material_cost_is_said_in_words() -> None:
    [line] = costs(replace(JOB, tasks=()))
    assert "planned $82.50, actual $107.50; $25.00 more than planned" in line.meaning.plain
    assert "wasted: beyond what the plan allows" in line.meaning.plain


def test_money_that_a_missing_count_hides_is_a_range_and_not_nothing() -> None:
    [line] = costs(Reconciliation("job", stock=(UNCOUNTED,), gaps=(COUNT,)))
    assert line.shown.split() == "soffit panel ? +7.00 +4.00? -5.50 +22.00 0-16.50? ?".split()
    assert "it may have cost more: up to $16.50 of it" in line.meaning.plain


def test_usage_and_unexplained_are_in_question_while_not_all_is_said() -> None:
    [line] = costs(Reconciliation("job", stock=(replace(SOFFIT, left_out=(9,)),)))
    assert "+4.00?" in line.shown
    assert "+5.50?" in line.shown
    assert (
        "Usage and unexplained may be one another: a decision on entry 9 settles it"
        in line.meaning.plain
    )


def test_the_sum_of_material_says_of_how_many_it_is() -> None:
    other = replace(UNCOUNTED, item="fascia")
    squared = Reconciliation(
        "job", stock=(SOFFIT, other), material=MONEY, material_of=("soffit panel",)
    )
    together = costs(squared)[-1]
    assert together.shown.startswith("together, 1 of 2")
    assert "+25.00" in together.shown
    assert together.entries == (1, 2)


def test_labor_parts_into_work_pace_and_pay() -> None:
    [line] = costs(replace(JOB, stock=()))
    assert line.shown.split() == "hang soffit +154.00 +36.00 +99.00 +19.00".split()


def test_a_material_without_a_price_is_not_on_the_page_of_money() -> None:
    assert costs(Reconciliation("job", stock=(replace(SOFFIT, money=None),))) == ()


@given(one=money, other=money)
def test_no_line_of_money_is_wider_than_the_screen(one: Decimal, other: Decimal) -> None:
    parts = MoneyVariance(one, other, one, other, one, other)
    lines = costs(replace(JOB, stock=(replace(SOFFIT, item="x" * 60, money=parts),)))
    assert max(len(line.shown) for line in lines) <= 78


# --- hours ------------------------------------------------------------------------------------


def test_hours_stand_planned_and_actual_with_the_pace() -> None:
    [line] = hours(JOB)
    assert line.shown.split() == "hang soffit 16 19 +3 +0.8 +2.2 12.5 ft 11.1 ft".split()


def test_the_pace_is_said_in_words() -> None:
    [line] = hours(JOB)
    assert "done: 210 ft; 11.1 ft an hour of one person, planned 12.5 ft" in line.meaning.plain


def test_hours_that_nobody_said_are_a_question_and_not_nothing() -> None:
    [line] = hours(Reconciliation("job", tasks=(TaskLine("gutters", Fraction(6), Fraction(0)),)))
    assert line.shown.split() == "gutters 6 ? ? ? ? ? ?".split()


def test_hours_at_work_that_belong_to_no_task_have_a_line() -> None:
    day = DayHours(MONDAY, time(7), time(12), Fraction(0), Fraction(5), Fraction(3), (1, 2))
    line = hours(Reconciliation("job", days=(day,), untold_hours=Fraction(2)))[-1]
    assert line.shown == "2 man-hours were worked that nobody put to a task"
    assert line.entries == (1, 2)


# --- places, days, why ------------------------------------------------------------------------

NORTH = Part("soffit panel", "sheet", place="north eave", used=Fraction(6), entries=(4,))
NOWHERE = Part("soffit panel", "sheet", place="", delivered=Fraction(16), entries=(1,))


def test_every_place_has_its_own_part_of_the_page() -> None:
    north, nowhere = places(Reconciliation("job", parts=(NORTH, NOWHERE)))
    assert north.head.startswith("north eave")
    assert nowhere.head.startswith("no place said")
    assert north.shown.split() == "soffit panel, panel - - 6 - -".split()
    assert north.entries == (4,)


def test_columns_of_all_places_stand_under_each_other() -> None:
    north, nowhere = places(Reconciliation("job", parts=(NORTH, NOWHERE)))
    assert len(north.shown) == len(nowhere.shown)


def test_a_day_shows_when_work_started_and_what_was_said() -> None:
    day = DayHours(MONDAY, time(7, 30), None, Fraction(30), None, Fraction(6), (1,))
    part = replace(NORTH, place=None, day=MONDAY)
    attended, row = days(Reconciliation("job", days=(day,), parts=(part,)))
    assert attended.shown.split() == "Mon, Oct 5, 2026 7:30 AM ? 30 ? 6".split()
    assert row.head.startswith("Mon, Oct 5, 2026")


def test_reasons_stand_in_the_words_of_the_person() -> None:
    reason = Reason("cracked [cold]", "soffit panel", "sheet", Fraction(2), Decimal("11.00"), (5,))
    [line] = why(Reconciliation("job", reasons=(reason,)))
    assert line.shown.split() == "soffit panel: cracked [cold] 2 panels $11.00".split()
    assert line.meaning.plain.startswith("cracked [cold]")
    assert line.entries == (5,)


# --- missing ----------------------------------------------------------------------------------

WRONG = Gap("fascia: 8 sticks gone, but only 6 ever came", "delivery", "fascia", "stick",
            Fraction(2), None, (3, 4), contradiction=True)  # fmt: skip


def test_the_count_that_settles_most_is_on_top_then_what_cannot_be_true() -> None:
    lines = missing(Reconciliation("job", gaps=(WRONG, COUNT)))
    assert [line.head.split()[0] for line in lines] == ["one", "cannot", "missing"]
    assert lines[0].shown.split()[-3:] == ["3", "panels", "$16.50"]


def test_what_settles_a_gap_is_said_in_words() -> None:
    [_, line] = missing(Reconciliation("job", gaps=(COUNT,)))
    assert "Settled by a count of what is left." in line.meaning.plain
    assert "3 panels open, worth $16.50." in line.meaning.plain


def test_a_contradiction_leads_to_its_entries() -> None:
    [line] = missing(Reconciliation("job", gaps=(WRONG,)))
    assert line.doubtful
    assert line.entries == (3, 4)
    assert "cannot all be true" in line.meaning.plain


@given(text=st.text(min_size=1, max_size=120))
def test_no_gap_is_wider_than_the_screen(text: str) -> None:
    lines = missing(Reconciliation("job", gaps=(replace(COUNT, text=text), replace(WRONG))))
    assert max(len(line.shown) for line in lines) <= 78


# --- since it was closed ----------------------------------------------------------------------

CLOSED = Closing("job", MONDAY, datetime(2026, 10, 6, tzinfo=UTC), JOB, changed=(2,))


def test_a_reopened_job_shows_what_changed_and_every_figure_that_differs() -> None:
    now = replace(JOB, stock=(replace(SOFFIT, spoiled=Fraction(4), unaccounted=Fraction(0)),))
    cause, spoiled, unexplained = since_closed(CLOSED, now)
    assert cause.shown == "1 entry new or changed since"
    assert cause.entries == (2,)
    assert spoiled.shown.split() == "soffit panel: wasted 3 4".split()
    assert unexplained.shown.split() == "soffit panel: unexplained 1 0".split()


def test_a_changed_plan_is_named() -> None:
    closing = replace(CLOSED, changed=(), plan_changed=True)
    [cause] = since_closed(closing, JOB)
    assert cause.shown == "another plan"


def test_an_item_that_came_after_closing_differs_in_all_its_figures() -> None:
    closing = replace(CLOSED, figures=Reconciliation("job", tasks=(HANGING,)))
    lines = since_closed(closing, JOB)
    assert "soffit panel: gone" in lines[2].shown
    assert lines[2].shown.split()[-2:] == ["-", "18"]


def test_only_a_reopened_job_has_a_page_of_changes() -> None:
    assert [page.name for page in pages(JOB, replace(CLOSED, changed=()))][-1] == "missing"
    assert [page.name for page in pages(JOB, CLOSED)][-1] == "changed"


def test_the_page_in_sight_is_in_brackets() -> None:
    assert "[money]" in page_names(pages(JOB), 1).plain


def test_extras_expenses_and_drives_have_a_page() -> None:
    lines = (
        BesideLine("extra", date(2026, 10, 5), "wrap the beam", Decimal("185.50"), entry=4),
        BesideLine("drive", date(2026, 10, 5), "to the yard", miles=Fraction(32), entry=5),
    )
    sums = Beside(lines, to_charge=Decimal("185.50"), miles=Fraction(32))
    [page] = [page for page in pages(replace(JOB, beside=sums)) if page.name == "beside"]
    assert [line.entries for line in page.lines] == [(4,), (5,)]
    assert "185.50" in page.lines[0].shown and "32" in page.lines[1].shown
    assert "driven: 32 miles" in page.lines[0].meaning.plain
