"""Variances against the worked exercises of accounting textbooks."""

from decimal import Decimal
from fractions import Fraction

from joblog.model import (
    Catalog,
    Entry,
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
    assert (found.scope, found.offcut, found.handling) == (0, 0, 0)
    assert found.usage == Decimal("138.00")
    assert found.total == Decimal("-42.00")


def test_direct_materials_of_the_larger_exercise() -> None:
    # The same chapter: standard 185,000 at 6.00; 183,200 at 5.80.
    found = squared(185_000, "6.00", 183_200, "5.80")
    assert found.price == Decimal("-36640.00")
    assert (found.scope, found.offcut, found.handling) == (0, 0, 0)
    assert found.usage == Decimal("-10800.00")
    assert found.total == Decimal("-47440.00")


def test_direct_materials_are_held_against_what_is_allowed_for_the_actual_output() -> None:
    # Warren and others, Accounting, chapter 23, the example that runs through it (from memory):
    # 1.5 square yards a pair at 5.00, 5,000 pairs made, so 7,500 are allowed; 7,300 used, at 5.50.
    # Price +3,650, quantity -1,000, together +2,650. That 4,000 pairs were planned is our own.
    sew = Task("sew", unit="pair")
    cloth = PlannedItem(Item("cloth", "yard"), Fraction(6_000), Decimal("5.00"), task="sew")
    plan = Plan((cloth,), (PlannedTask(sew, Fraction(3_200), Decimal("9.00"), Fraction(4_000)),))
    entries = book(
        Entry("delivered", item="cloth", quantity=Fraction(7_300), unit="yard",
              unit_cost=Decimal("5.50")),
        Entry("used", item="cloth", quantity=Fraction(7_300), unit="yard"),
        Entry("on_hand", item="cloth", quantity=Fraction(0), unit="yard"),
        Entry("labor", task="sew", hours=Fraction(3_850), quantity=Fraction(5_000), unit="pair"),
    )  # fmt: skip
    [line] = reconcile(JOB, plan, entries, Catalog()).stock
    assert (line.allowed, line.allowed_by) == (7_500, "5000 of 4000 pair done")
    assert line.money is not None and line.variance is not None
    assert (line.money.price, line.money.usage) == (Decimal("3650.00"), Decimal("-1000.00"))
    # 1,500 square yards more for a thousand pairs more than planned.
    assert (line.variance.scope, line.money.scope) == (1_500, Decimal("7500.00"))
    assert line.money.total == Decimal("2650.00") + Decimal("7500.00")


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
