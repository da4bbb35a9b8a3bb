"""The plan beside what was used of it so far."""

from __future__ import annotations

from fractions import Fraction

from joblog.book import decisions
from joblog.model import Entry, Item, Plan, PlannedItem, PlannedTask, Reading, Task
from joblog.service import Desk
from joblog.service.planned import plan_so_far
from tests.service.conftest import MORNING


def test_every_planned_line_has_what_is_used_and_left(desk: Desk) -> None:
    item = PlannedItem(Item("fascia", "stick"), Fraction(7), net=Fraction(5), offcut=Fraction(1))
    task = PlannedTask(Task("wrap fascia"), Fraction(6))
    desk.book.set_plan(desk.job.name, Plan((item,), (task,)))
    used = Entry("used", item="fascia", quantity=Fraction(6), unit="stick")
    broken = Entry("spoiled", item="fascia", quantity=Fraction(2), unit="stick")
    hours = Entry("labor", task="wrap fascia", hours=Fraction(4))
    reading = Reading((used, broken, hours))
    decisions.add_typed(desk.book, desk.job.name, reading, "told", MORNING)
    [fascia], [wrap] = plan_so_far(desk)
    # 7 planned less 6 used and 2 spoiled; 7 = 5 of work + 1 cut off + 1 extra; 6 hours less 4.
    assert (fascia.used, fascia.left, fascia.allowance) == (8, -1, 1)
    assert wrap.left == 2


def test_a_job_without_a_plan_has_no_line(desk: Desk) -> None:
    desk.book.set_plan(desk.job.name, Plan())
    assert plan_so_far(desk) == ((), ())
