"""What is told of another day counts on that day."""

from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction

from joblog.model import Entry
from joblog.reconcile import reconcile
from tests.reconcile.told import BEGIN, JOB, PLAN, book, hours, kept, stock

MONDAY = BEGIN.date()
TUESDAY = MONDAY + timedelta(days=1)


def test_hours_of_yesterday_are_hours_of_yesterday() -> None:
    morning_after = kept(1, replace(hours(6), day=MONDAY), minutes=24 * 60)
    [day] = reconcile(JOB, PLAN, [morning_after]).days
    assert (day.day, day.on_tasks) == (MONDAY, Fraction(6))


def test_a_start_and_a_stop_of_yesterday_make_one_day() -> None:
    told = [
        kept(1, Entry("start", time=time(7, 30))),
        kept(2, Entry("stop", time=time(16), day=MONDAY), minutes=24 * 60),
        kept(3, Entry("start", time=time(8)), minutes=24 * 60 + 1),
    ]
    days = {day.day: day for day in reconcile(JOB, PLAN, told).days}
    assert days[MONDAY].crew_hours == Fraction(17, 2)
    assert days[TUESDAY].started == time(8) and days[TUESDAY].stopped is None


def test_what_was_used_yesterday_was_used_before_this_mornings_count() -> None:
    told = [
        kept(1, stock("delivered", 20)),
        kept(2, stock("on_hand", 12), minutes=24 * 60),
        kept(3, replace(stock("used", 9), day=MONDAY), minutes=25 * 60),
    ]
    parts = reconcile(JOB, PLAN, told).parts
    assert {(part.day, part.used) for part in parts if part.used and part.day} == {(MONDAY, 9)}
    [line] = reconcile(JOB, PLAN, told).stock
    late = [*told[:2], kept(3, stock("used", 9), minutes=25 * 60)]
    [told_of_today] = reconcile(JOB, PLAN, late).stock
    assert (line.consumed, line.unaccounted) == (9, 0)
    assert told_of_today.consumed is None  # Used after the count, so the count is out of date.


def test_a_day_to_come_leaves_an_entry_where_it_was_told() -> None:
    friday = date(2026, 10, 9)
    [day] = reconcile(JOB, PLAN, book(replace(hours(2), day=friday))).days
    assert day.day == MONDAY
