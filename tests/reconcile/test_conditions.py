"""What a job was like, in means of what was told."""

from fractions import Fraction

from joblog.model import Conditions, Entry
from joblog.reconcile import reconcile
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
