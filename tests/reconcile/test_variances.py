"""The parts of every difference from the plan add up, exactly and to the cent."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.form import from_json, to_json
from joblog.model import (
    BookEntry,
    Catalog,
    Entry,
    Item,
    LaborVariance,
    MoneyVariance,
    Plan,
    PlannedItem,
    PlannedTask,
    Reconciliation,
    StockLine,
    Task,
)
from joblog.quantity import money
from joblog.reconcile import reconcile
from joblog.reconcile.variances import material_sum, shared_out
from tests.reconcile.told import HANG, JOB, PANEL, PLAN, book, cut, hours, kept, stock

KINDS = ("delivered", "returned", "used", "spoiled", "on_hand", "cut")
AMOUNTS = st.fractions(min_value=0, max_value=200, max_denominator=16)
PRICES = st.none() | st.decimals(min_value=0, max_value=90, places=3)
STEPS = st.tuples(
    st.sampled_from(KINDS),
    AMOUNTS,
    PRICES,
    st.sampled_from(["", "doubt"]),
    st.sampled_from(["heard", "accepted", "dropped"]),
    st.integers(0, 3000),
    st.sampled_from([None, "north eave", "south eave"]),
)
LEDGERS = st.lists(STEPS, max_size=20)
PLANS = st.none() | st.tuples(AMOUNTS, PRICES, AMOUNTS, st.none() | AMOUNTS, AMOUNTS)


def entries_of(ledger: list[tuple[str, Fraction, Decimal | None, str, str, int, str | None]]):  # type: ignore[no-untyped-def]
    return [
        kept(
            number,
            cut(int(amount), 30, place=place)
            if kind == "cut"
            else stock(kind, amount, place=place, unit_cost=price),
            *([doubt] if doubt else []),
            standing=standing,
            minutes=minutes,
        )
        for number, (kind, amount, price, doubt, standing, minutes, place) in enumerate(ledger, 1)
    ]


def plan_of(made: tuple[Fraction, Decimal | None, Fraction, Fraction | None, Fraction] | None):  # type: ignore[no-untyped-def]
    if made is None:
        return Plan()
    quantity, price, opening, net, offcut = made
    return Plan((PlannedItem(PANEL, quantity, price, opening, net, offcut if net else Fraction()),))


def panel(entries: list[BookEntry], plan: Plan = PLAN) -> StockLine | None:
    lines = reconcile(JOB, plan, entries, Catalog((PANEL,))).stock
    return next((line for line in lines if line.item == "panel"), None)


@given(LEDGERS, PLANS)
def test_every_balance_and_every_sum_of_variances_is_exact(ledger, made) -> None:  # type: ignore[no-untyped-def]
    line = panel(entries_of(ledger), plan_of(made))
    if line is None or line.variance is None:
        return
    moved = line.opening + line.delivered - line.returned
    parts = line.variance
    known = parts.scope + parts.usage + parts.offcut + parts.handling
    assert moved == line.at_most
    assert (line.on_hand is None) == (line.consumed is None) == (line.unaccounted is None)
    if line.on_hand is None or line.consumed is None or line.unaccounted is None:
        assert (parts.unaccounted, parts.total) == (None, None)
        return
    assert moved - line.on_hand == line.consumed
    assert line.placed + line.spoiled + line.offcut + line.unaccounted == line.consumed
    assert parts.total == known + line.unaccounted == line.consumed - (line.planned or 0)


@given(
    LEDGERS,
    AMOUNTS.filter(bool),
    AMOUNTS,
    st.lists(st.none() | AMOUNTS, max_size=3),
    st.fractions(min_value=1, max_value=200),
)
def test_however_much_of_the_work_was_done_the_parts_add_up(
    ledger, quantity, offcut, told, planned
) -> None:  # type: ignore[no-untyped-def]
    net = max(Fraction(0), quantity - offcut)
    line = PlannedItem(
        PANEL, quantity, Decimal("7.19"), net=net, offcut=quantity - net, task="hang"
    )
    plan = Plan((line,), (PlannedTask(Task("hang", unit="ft"), Fraction(8), None, planned),))
    work = [
        kept(800 + number, hours(1, quantity=done, unit="ft" if done is not None else None))
        for number, done in enumerate(told)
    ]
    found = panel([*entries_of(ledger), *work], plan)
    assert found is not None and found.variance is not None and found.money is not None
    parts, sums = found.variance, found.money
    if found.allowed_by.endswith("done"):
        share = sum((done for done in told if done is not None), Fraction(0)) / planned
        assert (found.allowed, found.allowed_offcut) == (net * share, line.offcut * share)
    else:
        assert found.allowed_by == "pieces cut" or (found.allowed, found.allowed_offcut) == (
            net, line.offcut,
        )  # fmt: skip
    if parts.unaccounted is None or sums.unaccounted is None or sums.price is None:
        return
    assert found.consumed is not None
    known = parts.scope + parts.usage + parts.offcut + parts.handling + parts.unaccounted
    assert known == parts.total == found.consumed - quantity
    dollars = sums.scope + sums.usage + sums.offcut + sums.handling + sums.unaccounted + sums.price
    assert dollars == sums.total == (found.actual_cost or 0) - (found.planned_cost or 0)


@given(LEDGERS, PLANS)
def test_the_parts_in_money_add_up_to_the_cent(ledger, made) -> None:  # type: ignore[no-untyped-def]
    line = panel(entries_of(ledger), plan_of(made))
    if line is None or line.money is None or line.money.total is None:
        return
    parts = line.money
    assert parts.unaccounted is not None and parts.price is not None
    known = parts.scope + parts.usage + parts.offcut + parts.handling
    known += parts.unaccounted + parts.price
    assert parts.total == known == (line.actual_cost or 0) - (line.planned_cost or 0)


@given(LEDGERS)
def test_a_correction_or_a_return_after_closing_leaves_an_exact_balance_too(ledger) -> None:  # type: ignore[no-untyped-def]
    entries = entries_of(ledger)
    late = kept(900, stock("returned", "3/8"), minutes=9000)
    changed = [
        replace(one, version=2, entry=replace(one.entry, quantity=Fraction(7, 3)))
        for one in entries[:1]
    ]
    line = panel([*changed, *entries[1:], late])
    assert line is not None
    accounted = line.placed + line.spoiled + line.offcut
    assert line.consumed is None or accounted + (line.unaccounted or 0) == line.consumed
    assert line.at_most == line.opening + line.delivered - line.returned


@given(
    st.lists(st.fractions(min_value=-500, max_value=500, max_denominator=64), min_size=1),
    st.integers(-2, 2),
)
def test_rounded_parts_add_up_to_the_total_and_stay_within_a_cent(
    parts: list[Fraction], off: int
) -> None:
    total = money(sum(parts, Fraction(0)))
    shared = shared_out(parts, total)
    assert sum(shared) == total
    assert all(
        abs(Fraction(one) - part) <= Fraction(1, 100)
        for one, part in zip(shared, parts, strict=True)
    )
    beyond = total + Decimal(off) / 100
    assert sum(shared_out(parts, beyond)) == beyond


def test_a_plan_that_parts_its_quantity_tells_scope_from_cutting_waste() -> None:
    split = Plan(
        (PlannedItem(PANEL, Fraction(12), Decimal("20.00"), Fraction(0), Fraction(9), Fraction(2)),)
    )
    entries = book(
        stock("delivered", 14, unit_cost=Decimal("21.00")),
        stock("used", 12),
        cut(8, 100),
        stock("spoiled", 1, reason="cracked"),
        stock("on_hand", 0),
    )
    line = panel(entries, split)
    # 8 pieces of 100 in come one from a stick of 144: 8 sticks for 800/144 of net.
    assert line is not None and line.variance is not None and line.money is not None
    assert line.offcut == 8 - Fraction(800, 144)
    assert line.placed == 12 - line.offcut
    assert line.variance.handling == 1 - 1
    assert line.variance.total == 14 - 12
    assert line.money.total == Decimal("54.00")  # 14 x 21 less 12 x 20
    assert line.money.price == Decimal("14.00")


def test_without_pieces_offcuts_are_in_what_was_used_as_they_are_in_the_plan() -> None:
    split = Plan((PlannedItem(PANEL, Fraction(12), None, Fraction(0), Fraction(9), Fraction(2)),))
    entries = book(stock("delivered", 12), stock("used", 11), stock("on_hand", 1))
    line = panel(entries, split)
    assert line is not None and line.variance is not None
    assert (line.variance.scope, line.variance.offcut, line.variance.handling) == (0, 0, -1)


def test_hours_part_into_scope_efficiency_and_rate() -> None:
    entries = book(
        hours(6, workers=2, quantity=Fraction(100), unit="ft", unit_cost=Decimal("45.00"))
    )
    [task] = reconcile(JOB, PLAN, entries).tasks
    assert task.variance is not None
    # 80 ft in 8 h planned; 100 ft done, so 10 h are allowed; 12 h worked at 45 instead of 50.
    assert (task.variance.scope_hours, task.variance.efficiency_hours) == (2, 2)
    assert (task.variance.scope, task.variance.efficiency) == (Decimal(100), Decimal(100))
    assert (task.variance.rate, task.variance.total) == (Decimal(-60), Decimal(140))
    assert (task.planned_rate, task.actual_rate) == (10, Fraction(100, 12))


def test_without_an_amount_done_nobody_knows_work_from_pace() -> None:
    [task] = reconcile(JOB, PLAN, book(hours(10))).tasks
    # 8 h planned at 50.00: two more were worked and paid, whatever was done in them.
    assert task.variance == LaborVariance(
        None, None, Fraction(2), None, None, Decimal("0.00"), Decimal("100.00")
    )
    assert (task.done, task.actual_rate) == (None, None)


def test_a_quarter_hour_alone_is_no_pace_and_all_together_none_either() -> None:
    result = reconcile(JOB, PLAN, book(hours("1/4")))
    assert (result.tasks[0].actual_rate, result.tasks[0].without_amount) == (None, (1,))
    assert result.labor is not None and result.labor.efficiency_hours is None
    [gap] = [gap for gap in result.gaps if gap.settled_by == "done"]
    assert (gap.name, gap.unit, gap.entries) == ("hang", "ft", (1,))


def test_an_amount_told_for_some_of_the_hours_is_that_of_those() -> None:
    some = book(hours(6, quantity=Fraction(60), unit="ft"), hours(4))
    [task] = reconcile(JOB, PLAN, some).tasks
    assert (task.done, task.done_hours, task.actual_rate, task.without_amount) == (60, 6, 10, (2,))
    assert task.variance is not None
    assert (task.variance.hours, task.variance.efficiency_hours) == (2, None)


def test_an_amount_told_by_itself_is_of_the_hours_before_it() -> None:
    done = Entry("labor", task="hang", quantity=Fraction(40), unit="ft")
    told = book(hours(3), hours(2, quantity=Fraction(30), unit="ft"), hours(1), done, hours(2))
    [task] = reconcile(JOB, PLAN, told).tasks
    assert (task.done, task.done_hours, task.actual) == (70, 6, 8)
    assert (task.without_amount, task.entries) == ((5,), (1, 2, 3, 4, 5))
    [task] = reconcile(JOB, PLAN, told[:4]).tasks
    assert task.variance is not None
    # 70 of 80 ft allow 7 of 8 h; 6 h were worked.
    assert (task.variance.scope_hours, task.variance.efficiency_hours) == (-1, -1)


def test_the_pay_of_the_helper_is_his_alone() -> None:
    paid = hours(6, workers=2, unit_cost=Decimal("18.00"), who="the helper")
    [task] = reconcile(JOB, PLAN, book(paid)).tasks
    # 6 h at 18.00 and 6 h at the planned 50.00.
    assert task.actual_cost == Decimal("408.00")
    alone = hours(6, unit_cost=Decimal("18.00"), who="the helper")
    assert reconcile(JOB, PLAN, book(alone)).tasks[0].actual_cost == Decimal("108.00")
    unplanned = Plan(tasks=(PlannedTask(HANG, Fraction(8)),))
    assert reconcile(JOB, unplanned, book(paid)).tasks[0].actual_cost is None


def test_hours_at_work_that_belong_to_no_task_are_shown() -> None:
    from datetime import time

    entries = book(
        Entry("start", time=time(7, 0)),
        Entry("break", minutes=Fraction(30)),
        Entry("stop", time=time(15, 0)),
        hours(6),
    )
    assert reconcile(JOB, PLAN, entries).untold_hours == Fraction(3, 2)


def test_a_job_adds_up_its_items_and_names_those_in_the_sum() -> None:
    entries = book(stock("delivered", 9, unit_cost=Decimal("22.00")), stock("on_hand", 0))
    result = reconcile(JOB, PLAN, entries)
    assert result.material_of == ("panel",)
    assert result.material is not None and result.material.total == Decimal("18.00")


@given(st.lists(st.tuples(AMOUNTS, st.integers(1, 3), PRICES, st.none() | AMOUNTS), max_size=6))
def test_every_sum_of_labor_variances_is_exact(worked) -> None:  # type: ignore[no-untyped-def]
    entries = book(
        *(
            hours(amount, workers=people, unit_cost=pay, quantity=done, unit="ft")
            for amount, people, pay, done in worked
        )
    )
    [task] = reconcile(JOB, PLAN, entries).tasks
    parts = task.variance
    if parts is None:
        assert not task.entries
        return
    if task.without_amount or task.done is None:
        assert (parts.hours, parts.scope_hours) == (task.actual - 8, None)
        return
    assert parts.hours == parts.scope_hours + parts.efficiency_hours == task.actual - 8
    assert parts.scope is not None and parts.efficiency is not None and parts.rate is not None
    assert parts.total == parts.scope + parts.efficiency + parts.rate
    assert parts.total == (task.actual_cost or 0) - (task.planned_cost or 0)


def test_the_cents_that_rounding_leaves_go_to_the_largest_remainders() -> None:
    thirds = [Fraction(1, 300), Fraction(2, 300), Fraction(1, 400)]
    # 1/3, 2/3 and 1/4 of a cent are 1 1/4 cents; the one cent goes to the 2/3.
    assert shared_out(thirds, Decimal("0.01")) == [0, Decimal("0.01"), 0]
    assert shared_out(thirds, Decimal("0.02")) == [Decimal("0.01"), Decimal("0.01"), 0]
    # Below zero too: -1/3 and -2/3 of a cent lie 2/3 and 1/3 above the cent below them.
    assert shared_out([-one for one in thirds[:2]], Decimal("-0.01")) == [0, Decimal("-0.01")]


def test_equal_remainders_are_served_in_order() -> None:
    halves = [Fraction(1, 200)] * 3
    assert shared_out(halves, Decimal("0.02")) == [Decimal("0.01"), Decimal("0.01"), 0]


def test_a_total_further_off_than_the_remainders_falls_to_the_largest_of_them() -> None:
    parts = [Fraction(1, 300), Fraction(2, 300)]
    # Both are rounded up, and the largest remainder takes what is still missing, or too much.
    assert shared_out(parts, Decimal("0.05")) == [Decimal("0.01"), Decimal("0.04")]
    assert shared_out(parts, Decimal("-0.03")) == [0, Decimal("-0.03")]


def test_what_nobody_counted_has_its_known_parts_in_money_and_no_total() -> None:
    entries = book(
        stock("delivered", 9, unit_cost=Decimal("21.00")), stock("used", 4), stock("spoiled", 2)
    )
    line = panel(entries)
    assert line is not None and line.money is not None
    # 10 planned at 20.00: 6 less put on the work as planned, and 2 spoiled where none was allowed.
    nought = Decimal(0)
    assert line.money == MoneyVariance(
        nought, nought, Decimal(40), None, None, None, usage=Decimal(-120)
    )


def test_a_planned_item_without_a_planned_price_has_no_variance_in_money() -> None:
    bare = Plan((PlannedItem(PANEL, Fraction(10)),))
    entries = book(stock("delivered", 10, unit_cost=Decimal("21.00")), stock("on_hand", 0))
    line = panel(entries, bare)
    assert line is not None
    assert (line.money, line.actual_cost) == (None, Decimal("210.00"))


def test_the_price_part_is_on_all_that_was_consumed() -> None:
    entries = book(
        stock("delivered", 9, unit_cost=Decimal("21.00")),
        stock("used", 5),
        stock("spoiled", 1),
        stock("on_hand", 2),
    )
    line = panel(entries)
    assert line is not None and line.money is not None
    # 8 of 10 planned are gone: 1 that was there at the plan's 20.00, 7 at 21.00; 5 less on the work
    # as planned, 1 spoiled, 2 unexplained.
    assert line.money == MoneyVariance(*map(Decimal, (0, 0, 20, 40, 7, -33)), usage=Decimal(-100))


def test_a_job_adds_up_every_part_of_its_items() -> None:
    one = MoneyVariance(*map(Decimal, (1, 2, 4, 8, 16, 63, 32)))
    other = MoneyVariance(*map(Decimal, (-10, 20, 30, -40, 50, 57, 7)))
    sums = MoneyVariance(*map(Decimal, (-9, 22, 34, -32, 66, 120, 39)))
    assert material_sum([one, other]) == sums
    assert material_sum([]) is None


def test_items_with_an_unknown_part_are_in_no_sum() -> None:
    clip = Item("clip", "box")
    plan = Plan((*PLAN.items, PlannedItem(clip, Fraction(2), Decimal("5.00"))))
    came = Entry("delivered", item="clip", quantity=Fraction(2), unit="box")
    entries = book(stock("delivered", 9), stock("on_hand", 1), came)
    result = reconcile(JOB, plan, entries)
    assert result.material_of == ("panel",)
    # 9 of 10 planned are gone, at the planned 20.00.
    assert result.material is not None and result.material.total == Decimal("-20.00")


def test_figures_that_an_older_joblog_froze_read_with_what_they_lacked() -> None:
    entries = book(stock("delivered", 9, unit_cost=Decimal("21.00")), stock("used", 9))
    shown = to_json(reconcile(JOB, PLAN, [*entries, kept(9, stock("on_hand", 1))]))
    [line] = shown["stock"]
    for name in ("allowed", "allowed_offcut", "allowed_by", "last_count", "kept"):
        del line[name]
    # What was used otherwise than planned stood in the work then.
    line["variance"] |= {"scope": line["variance"].pop("usage")}
    line["money"] |= {"scope": line["money"].pop("usage")}
    del shown["material"]["usage"]
    older = from_json(Reconciliation, shown)
    [read] = older.stock
    assert (read.allowed, read.allowed_by, read.kept) == (None, "", 0)
    assert read.variance is not None and read.money is not None and older.material is not None
    assert (read.variance.scope, read.variance.usage) == (-1, 0)
    assert (read.money.scope, read.money.usage, older.material.usage) == (Decimal("-20.00"), 0, 0)
