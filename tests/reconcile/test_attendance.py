"""Who was at work how long: starts, stops, breaks, and people who join or go."""

from datetime import date, time
from fractions import Fraction

from joblog.model import BookEntry, DayHours, Entry
from joblog.reconcile.hours import attendance
from joblog.reconcile.labor import hours_of_no_task
from tests.reconcile.told import JOB, hours, kept

MIDNIGHT = -8 * 60
"""Minutes from the first entry, at 12:00 UTC, back to midnight in New York in October."""


def start(clock: str, workers: int | None = None) -> Entry:
    return Entry("start", time=time.fromisoformat(clock), workers=workers)


def stop(clock: str) -> Entry:
    return Entry("stop", time=time.fromisoformat(clock))


def pause(minutes: object) -> Entry:
    return Entry("break", minutes=Fraction(str(minutes)))


def told_at(clock: str, entry: Entry, number: int = 50) -> BookEntry:
    """An entry told at this time of the job's day."""
    at = time.fromisoformat(clock)
    return kept(number, entry, minutes=MIDNIGHT + at.hour * 60 + at.minute)


def day(*entries: Entry | BookEntry) -> DayHours:
    numbered = [
        one if isinstance(one, BookEntry) else kept(number, one)
        for number, one in enumerate(entries, 1)
    ]
    [found] = attendance(JOB, numbered)
    return found


def test_a_crew_stays_the_same_after_lunch_when_nobody_says_otherwise() -> None:
    found = day(start("07:00", 3), stop("12:00"), start("13:00"), stop("15:00"))
    assert found.crew_hours == 5 * 3 + 2 * 3


def test_a_later_start_says_how_many_are_at_work_from_then_on() -> None:
    found = day(start("07:00", 3), stop("12:00"), start("13:00", 2), stop("15:00"))
    assert found.crew_hours == 5 * 3 + 2 * 2


def test_a_later_start_without_a_number_leaves_the_crew_as_it_is() -> None:
    assert day(start("07:00", 2), start("09:00"), stop("12:00")).crew_hours == 5 * 2


def test_quarter_hours_are_exact() -> None:
    assert day(start("07:45"), stop("08:30")).crew_hours == Fraction(3, 4)


def test_a_stop_after_a_stop_puts_off_the_first_one() -> None:
    found = day(start("07:00", 2), stop("11:00"), stop("12:30"))
    assert (found.crew_hours, found.stopped) == (Fraction(11, 2) * 2, time(12, 30))


def test_a_stop_that_no_start_goes_before_leaves_the_hours_unknown() -> None:
    found = day(stop("06:00"), start("07:00"), stop("11:00"))
    assert (found.crew_hours, found.started, found.stopped) == (None, time(7), time(11))


def test_a_start_and_a_stop_at_one_time_are_a_change_of_the_crew() -> None:
    # The start comes first, whatever the order they were told in: 3 h alone, then 2 h of two.
    found = day(start("07:00"), stop("12:00"), start("10:00", 2))
    assert found.crew_hours == 3 * 1 + 2 * 2


def test_a_day_that_starts_and_stops_at_once_took_no_hours() -> None:
    assert day(stop("07:00"), start("07:00")).crew_hours == 0


def test_a_break_counts_for_everybody_at_work_when_it_was_told() -> None:
    crew = (start("07:00"), start("10:00", 4), stop("12:00"))
    # 3 h alone and 2 h of four are 11; half an hour of one, or of four.
    assert day(*crew, told_at("09:00", pause(30))).crew_hours == 11 - Fraction(1, 2)
    assert day(*crew, told_at("11:00", pause(30))).crew_hours == 11 - Fraction(4, 2)


def test_a_break_told_in_the_evening_counts_for_those_who_stayed_to_the_last() -> None:
    found = day(start("07:00", 4), start("10:00", 2), stop("12:00"), told_at("18:00", pause(30)))
    assert found.crew_hours == 3 * 4 + 2 * 2 - Fraction(2, 2)


def test_a_break_told_at_the_very_start_or_stop_is_of_that_shift() -> None:
    shifts = (start("07:00", 3), stop("12:00"), start("13:00", 1), stop("15:00"))
    for clock in ("07:00", "12:00"):
        # 5 h of three and 2 h of one are 17, less half an hour of three.
        assert day(*shifts, told_at(clock, pause(30))).crew_hours == 17 - Fraction(3, 2)
    assert day(*shifts, told_at("13:00", pause(30))).crew_hours == 17 - Fraction(1, 2)


def test_breaks_add_up() -> None:
    found = day(start("07:00", 2), stop("12:00"), pause(20), pause("7.5"))
    assert found.break_minutes == Fraction(55, 2)
    assert found.crew_hours == 10 - 2 * Fraction(55, 2) / 60


def test_a_break_as_long_as_the_work_leaves_nothing_and_a_longer_one_is_not_known() -> None:
    assert day(start("11:00"), stop("12:00"), pause(60)).crew_hours == 0
    assert day(start("11:00"), stop("12:00"), pause(61)).crew_hours is None


def test_a_break_of_nobody_knows_how_long_takes_nothing_away() -> None:
    found = day(start("07:00"), stop("12:00"), Entry("break"))
    assert (found.crew_hours, found.break_minutes) == (5, 0)


def test_a_turn_without_a_time_says_nothing() -> None:
    assert day(start("07:00"), Entry("stop"), stop("12:00")).crew_hours == 5


def test_hours_on_tasks_are_people_times_hours() -> None:
    found = day(hours(3, workers=2), hours("1.5"), Entry("labor", task="hang"))
    assert (found.on_tasks, found.crew_hours, found.entries) == (Fraction(15, 2), None, (1, 2, 3))


def test_what_is_told_after_midnight_in_utc_belongs_to_the_evening_at_the_job() -> None:
    # 22:00 in New York is 02:00 of the next day in UTC.
    found = attendance(JOB, [told_at("07:00", start("07:00"), 1), told_at("22:00", stop("21:00"))])
    assert [(one.day, one.crew_hours) for one in found] == [(date(2026, 10, 5), 14)]


def test_days_come_in_order_and_only_where_hours_were_said() -> None:
    later = kept(2, start("07:00"), minutes=24 * 60)
    weather = kept(3, Entry("weather", fahrenheit=Fraction(40)), minutes=48 * 60)
    found = attendance(JOB, [later, kept(1, stop("16:00")), weather])
    assert [one.day for one in found] == [date(2026, 10, 5), date(2026, 10, 6)]


def test_a_doubtful_start_is_no_start() -> None:
    found = day(kept(1, start("04:00"), "four or fourteen?"), start("07:00"), stop("12:00"))
    assert (found.started, found.crew_hours, found.entries) == (time(7), 5, (2, 3))


def test_hours_of_no_task_add_up_over_the_days() -> None:
    first = day(start("07:00"), stop("12:00"), hours(3))
    second = day(start("07:00", 2), stop("11:00"), hours(7))
    # 5 less 3, and 8 less 7.
    assert hours_of_no_task([first, second]) == 2 + 1


def test_hours_of_no_task_are_not_known_where_a_days_hours_are_not() -> None:
    known, unknown = day(start("07:00"), stop("12:00")), day(start("07:00"))
    assert hours_of_no_task([known, unknown]) is None
    assert hours_of_no_task([]) is None
