"""Hours on tasks against the plan, in worked examples."""

from decimal import Decimal
from fractions import Fraction

from joblog.model import (
    BookEntry,
    Catalog,
    Entry,
    Gap,
    LaborVariance,
    Plan,
    PlannedTask,
    Task,
    TaskLine,
)
from joblog.reconcile import reconcile
from joblog.reconcile.labor import task_lines
from joblog.reconcile.variances import labor_sum
from tests.reconcile.told import JOB, PLAN, book, hours, kept

WRAP = Task("wrap", unit="ft", per_hour=Fraction(12))


def line(
    *entries: Entry | BookEntry, plan: Plan = PLAN, catalog: Catalog | None = None
) -> TaskLine:
    numbered = [
        one if isinstance(one, BookEntry) else kept(number, one)
        for number, one in enumerate(entries, 1)
    ]
    [found] = task_lines(plan, numbered, catalog)
    return found


def planned(task: Task, worked: object, pay: str | None, quantity: object = None) -> Plan:
    amount = None if quantity is None else Fraction(str(quantity))
    cost = None if pay is None else Decimal(pay)
    return Plan(tasks=(PlannedTask(task, Fraction(str(worked)), cost, amount),))


def gaps(plan: Plan, *entries: BookEntry) -> list[Gap]:
    return [gap for gap in reconcile(JOB, plan, entries).gaps if gap.name]


# --- cost


def test_an_hour_costs_what_was_said_and_else_what_was_planned() -> None:
    found = line(hours(2, unit_cost=Decimal("40.00")), hours(3, workers=2))
    # 2 x 40 and 6 x 50.
    assert (found.actual, found.actual_cost) == (8, Decimal("380.00"))


def test_hours_of_unknown_pay_have_no_cost_at_all() -> None:
    plan = planned(WRAP, 8, None)
    wrapped = Entry("labor", task="wrap", hours=Fraction(3))
    paid = Entry("labor", task="wrap", hours=Fraction(2), unit_cost=Decimal("40.00"))
    found = line(paid, wrapped, plan=plan)
    assert (found.actual_cost, found.planned_cost) == (None, None)
    assert found.variance is not None
    # 8 h planned, all of it counts as done, 5 h worked.
    assert (found.variance.efficiency_hours, found.variance.total) == (-3, None)


def test_a_planned_task_nobody_worked_at_cost_nothing_yet() -> None:
    found = line()
    assert (found.actual, found.actual_cost, found.planned_cost) == (0, 0, Decimal("400.00"))
    assert (found.variance, found.actual_rate, found.done) == (None, None, None)


def test_a_task_nobody_planned_is_all_scope_at_the_pay_it_really_had() -> None:
    swept = Entry("labor", task="sweep", hours=Fraction(3), unit_cost=Decimal("20.00"))
    again = Entry("labor", task="sweep", hours=Fraction(1), unit_cost=Decimal("30.00"))
    found = line(swept, again, plan=Plan())
    # Planned as nothing: 4 h more, for 3 x 20 and 1 x 30, all of it because there was more to do.
    assert found.variance == LaborVariance(
        Fraction(4), Fraction(0), Fraction(4),
        Decimal("90.00"), Decimal("0.00"), Decimal("0.00"), Decimal("90.00"),
    )  # fmt: skip
    assert (found.planned, found.planned_cost) == (None, None)


def test_a_task_nobody_planned_without_pay_has_hours_only() -> None:
    found = line(Entry("labor", task="sweep", hours=Fraction(3)), plan=Plan())
    assert found.variance == LaborVariance(Fraction(3), Fraction(0), Fraction(3))
    assert found.actual_cost is None


def test_no_hours_at_some_pay_cost_nothing() -> None:
    swept = Entry("labor", task="sweep", hours=Fraction(0), unit_cost=Decimal("20.00"))
    found = line(swept, plan=Plan())
    assert (found.actual_cost, found.actual_rate) == (Decimal("0.00"), None)
    assert found.variance == LaborVariance(Fraction(0), Fraction(0), Fraction(0))


# --- how much was done, and how fast


def test_what_was_done_is_turned_into_the_unit_of_the_task() -> None:
    found = line(
        hours(4, quantity=Fraction(480), unit="in"), hours(2, quantity=Fraction(20), unit="ft")
    )
    # 480 in are 40 ft; 60 ft in 6 h.
    assert (found.done, found.actual_rate) == (60, 10)


def test_what_was_done_in_a_unit_that_does_not_fit_is_no_amount() -> None:
    found = line(hours(4, quantity=Fraction(3), unit="lb"))
    assert (found.done, found.actual_rate, found.without_amount) == (None, None, (1,))


def test_an_amount_without_a_unit_is_no_amount() -> None:
    assert line(hours(4, quantity=Fraction(30))).done is None


def test_a_unit_without_an_amount_is_no_amount() -> None:
    assert line(hours(4, unit="in")).done is None


def test_of_a_task_without_a_unit_nothing_is_known_to_be_done() -> None:
    swept = Entry("labor", task="sweep", hours=Fraction(3), quantity=Fraction(30), unit="ft")
    assert line(swept, plan=Plan()).done is None


def test_a_task_of_the_catalog_is_measured_in_its_unit_without_being_planned() -> None:
    wrapped = Entry("labor", task="wrap", hours=Fraction(3), quantity=Fraction(30), unit="ft")
    found = line(wrapped, plan=Plan(), catalog=Catalog(tasks=(WRAP,)))
    assert (found.unit, found.done, found.actual_rate, found.planned_rate) == ("ft", 30, 10, 12)


def test_a_planned_task_without_a_unit_takes_that_of_the_catalog() -> None:
    plan = planned(Task("wrap"), 8, "50.00")
    wrapped = Entry("labor", task="wrap", hours=Fraction(3), quantity=Fraction(30), unit="ft")
    found = line(wrapped, plan=plan, catalog=Catalog(tasks=(WRAP,)))
    # Only hours are planned: the catalog's rate stands beside them.
    assert (found.unit, found.done, found.planned_rate) == ("ft", 30, 12)


def test_the_plans_own_rate_goes_before_the_catalogs() -> None:
    found = line(plan=planned(WRAP, 8, "50.00", 80), catalog=Catalog(tasks=(WRAP,)))
    assert found.planned_rate == 10
    faster = Task("wrap", unit="ft", per_hour=Fraction(20))
    found = line(plan=planned(faster, 8, "50.00"), catalog=Catalog(tasks=(WRAP,)))
    assert found.planned_rate == 20


def test_without_any_rate_none_is_planned() -> None:
    assert line(plan=planned(Task("wrap"), 8, "50.00")).planned_rate is None
    assert line(plan=planned(WRAP, 0, "50.00", 80)).planned_rate is None


def test_the_plan_is_scaled_to_half_the_work() -> None:
    found = line(hours(5, quantity=Fraction(40), unit="ft"))
    assert found.variance is not None
    # 80 ft in 8 h planned; 40 ft done allow 4 h; 5 h worked at the planned 50.00.
    assert found.variance == LaborVariance(
        Fraction(-4), Fraction(1), Fraction(-3),
        Decimal("-200.00"), Decimal("50.00"), Decimal("0.00"), Decimal("-150.00"),
    )  # fmt: skip


def test_a_plan_of_no_amount_is_not_scaled() -> None:
    plan = planned(Task("hang", unit="ft"), 8, "50.00", 0)
    found = line(hours(5, quantity=Fraction(40), unit="ft"), plan=plan)
    assert found.variance is not None
    assert (found.variance.scope_hours, found.variance.efficiency_hours) == (0, -3)


# --- what is counted


def test_hours_of_no_task_stand_under_their_own_name() -> None:
    found = line(Entry("labor", hours=Fraction(3)), plan=Plan())
    assert (found.task, found.actual) == ("no task named", 3)


def test_doubtful_hours_and_work_without_hours_are_left_out() -> None:
    found = line(kept(1, hours(6), "six or sixteen?"), Entry("labor", task="hang"), hours(2))
    assert (found.actual, found.entries, found.left_out) == (2, (3,), (1, 2))


def test_planned_tasks_come_first() -> None:
    swept = Entry("labor", task="sweep", hours=Fraction(3))
    assert [one.task for one in task_lines(PLAN, book(swept, hours(2)), None)] == ["hang", "sweep"]


# --- what is missing


def test_a_planned_task_without_hours_is_a_gap() -> None:
    [gap] = gaps(planned(WRAP, 8, "50.00"))
    assert (gap.text, gap.settled_by, gap.unit) == ("wrap: no hours were said", "hours", "hours")


def test_doubtful_hours_are_a_gap_as_wide_as_the_most_of_them() -> None:
    plan = planned(Task("hang"), 8, "50.00")
    [gap] = gaps(plan, kept(1, hours(6), "?"), kept(2, hours(4, workers=2), "?"), kept(3, hours(9)))
    assert (gap.text, gap.settled_by) == ("hang: hours in doubt are not counted", "decision")
    assert (gap.width, gap.entries, gap.contradiction) == (8, (1, 2), False)


def test_hours_of_unknown_pay_are_a_gap_only_where_there_are_any() -> None:
    plan = planned(Task("hang"), 8, None)
    [gap] = gaps(plan, kept(1, hours(6)))
    assert gap.text == "hang: nobody said what an hour costs, so it is in no cost"
    assert (gap.settled_by, gap.name, gap.entries) == ("pay", "hang", (1,))
    assert gaps(planned(Task("hang"), 8, "50.00"), kept(1, hours(6))) == []


# --- all tasks together


def test_a_job_adds_up_the_hours_of_all_its_tasks_and_the_money_of_those_that_have_it() -> None:
    priced = LaborVariance(
        Fraction(2),
        Fraction(2),
        Fraction(4),
        Decimal(100),
        Decimal(100),
        Decimal(-60),
        Decimal(140),
    )
    again = LaborVariance(
        Fraction(1), Fraction(-3), Fraction(-2), Decimal(7), Decimal(-9), Decimal(3), Decimal(1)
    )
    bare = LaborVariance(Fraction(1), Fraction(5), Fraction(6))
    assert labor_sum([priced, again, bare]) == LaborVariance(
        Fraction(4), Fraction(4), Fraction(8), Decimal(107), Decimal(91), Decimal(-57), Decimal(141)
    )
    assert labor_sum([bare]) == bare
    assert labor_sum([]) is None
