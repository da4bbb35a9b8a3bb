"""What a job was like, in means of what was told."""

from fractions import Fraction

from joblog.model import Conditions, Entry
from joblog.reconcile import reconcile
from joblog.reconcile.conditions import conditions_of
from tests.reconcile.told import JOB, PLAN, book, hours, kept


def test_temperature_depth_and_crew_are_means_of_what_was_told() -> None:
    entries = book(
        Entry("weather", fahrenheit=Fraction(40)),
        Entry("weather", fahrenheit=Fraction(50)),
        Entry("measure", inches=Fraction(12)),
        Entry("measure", inches=Fraction(13)),
        Entry("measure", inches=Fraction(480)),
        hours(6, workers=2),
        hours(1),
    )
    found = reconcile(JOB, PLAN, entries).conditions
    assert found == Conditions(Fraction(45), Fraction(25, 2), 2)


def test_nothing_told_is_nothing_known() -> None:
    assert reconcile(JOB, PLAN, []).conditions == Conditions()


def test_a_doubtful_temperature_is_not_counted() -> None:
    doubted = kept(1, Entry("weather", fahrenheit=Fraction(14)), "fourteen or forty?")
    assert reconcile(JOB, PLAN, [doubted]).conditions.fahrenheit is None


def depth(inches: int, pieces: int | None = None) -> Entry:
    return Entry("measure", inches=Fraction(inches), pieces=pieces)


def test_the_depth_leaves_out_lengths_of_runs_and_of_pieces() -> None:
    # From 4 ft on it is the length of a run, as the take-off has it (common practice).
    entries = book(depth(1), depth(47), depth(48), depth(0), depth(20, pieces=6))
    assert conditions_of(entries).depth == 24


def test_only_measurements_are_depths() -> None:
    assert conditions_of(book(Entry("used", inches=Fraction(12)))).depth is None


def test_the_crew_is_the_mean_of_the_hours_not_of_the_entries() -> None:
    # 8 h of three and 2 h alone: 26 hours of people in 10 on the clock.
    assert conditions_of(book(hours(8, workers=3), hours(2))).crew == 3


def test_without_hours_the_crew_is_who_started() -> None:
    entries = book(Entry("start", workers=2), Entry("start", workers=3), Entry("start"))
    assert conditions_of(entries).crew == 2
    assert conditions_of(book(Entry("start"))).crew == 1
    assert conditions_of(book(Entry("stop", workers=3))).crew is None


def test_hours_go_before_starts() -> None:
    assert conditions_of(book(hours(2, workers=3), Entry("start", workers=1))).crew == 3


def test_hours_of_no_length_say_nothing_of_the_crew() -> None:
    assert conditions_of(book(hours(0, workers=3))).crew is None
