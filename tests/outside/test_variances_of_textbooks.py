"""Variances against the worked exercises of accounting textbooks."""

from decimal import Decimal
from fractions import Fraction

from joblog.model import (
    Catalog,
    Item,
    LaborVariance,
    MoneyVariance,
    Plan,
    PlannedItem,
    PlannedTask,
    Task,
)
from joblog.reconcile import reconcile
from tests.reconcile.told import JOB, book, hours, stock

PANEL = Item("panel", "sheet")


def squared(standard: int, at: str, bought: int, paid: str) -> MoneyVariance:
    """The variances where all that was bought was used, as in the exercises."""
    plan = Plan((PlannedItem(PANEL, Fraction(standard), Decimal(at), net=Fraction(standard)),))
    entries = book(
        stock("delivered", bought, unit_cost=Decimal(paid)),
        stock("used", bought),
        stock("on_hand", 0),
    )
    [line] = reconcile(JOB, plan, entries, Catalog((PANEL,))).stock
    assert line.money is not None
    return line.money


def test_direct_materials_of_the_small_exercise() -> None:
    # Warren, Accounting, ex. 23-5: standard 430 at 6.90; 450 bought and used for 2,925.
    found = squared(430, "6.90", 450, "6.50")
    assert found.price == Decimal("-180.00")
    assert found.scope + found.offcut + found.handling == Decimal("138.00")
    assert found.total == Decimal("-42.00")


def test_direct_materials_of_the_larger_exercise() -> None:
    # The same chapter: standard 185,000 at 6.00; 183,200 at 5.80.
    found = squared(185_000, "6.00", 183_200, "5.80")
    assert found.price == Decimal("-36640.00")
    assert found.scope + found.offcut + found.handling == Decimal("-10800.00")
    assert found.total == Decimal("-47440.00")


def labor(standard_hours: int, rate: str, actual_hours: str, paid: str) -> LaborVariance:
    plan = Plan(tasks=(PlannedTask(Task("hang"), Fraction(standard_hours), Decimal(rate)),))
    told = book(hours(actual_hours, unit_cost=Decimal(paid)))
    [task] = reconcile(JOB, plan, told).tasks
    assert task.variance is not None
    return task.variance


def test_rate_and_efficiency_follow_their_formulas() -> None:
    # Any managerial accounting text: rate (AR - SR) x AH, efficiency (AH - SH) x SR; the figures
    # are our own.
    found = labor(120, "24.00", "130.5", "25.50")
    assert found.rate == (Decimal("25.50") - Decimal("24.00")) * Decimal("130.5")
    assert found.efficiency == (Decimal("130.5") - 120) * Decimal("24.00")
    assert found.total == Decimal("130.5") * Decimal("25.50") - 120 * Decimal("24.00")
