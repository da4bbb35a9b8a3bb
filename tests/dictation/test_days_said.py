"""The day that words mean. Dates are reckoned by hand: 14 October 2026 is a Wednesday."""

from datetime import date, datetime

import pytest

from joblog.dictation import Context, read
from joblog.model import Plan, Reading
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "porch")))
WEDNESDAY = datetime(2026, 10, 14, 16, 30)


def heard(said: str, at: datetime | None = WEDNESDAY) -> Reading:
    return read(said, WORDS, Context(at=at))


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("yesterday", date(2026, 10, 13)),
        ("the day before yesterday", date(2026, 10, 12)),
        ("on friday", date(2026, 10, 9)),
        ("friday", date(2026, 10, 9)),
        ("last thursday", date(2026, 10, 8)),
        ("monday morning", date(2026, 10, 12)),
        ("two days ago", date(2026, 10, 12)),
        ("today", None),
        ("this morning", None),
    ],
)
def test_what_is_done_was_done_on_the_last_such_day(said: str, day: date | None) -> None:
    reading = heard(f"{said} used two tubes of caulk on the porch")
    assert [entry.day for entry in reading.entries] == [day]
    assert reading.doubts == ()


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("tomorrow", date(2026, 10, 15)),
        ("day after tomorrow", date(2026, 10, 16)),
        ("by friday", date(2026, 10, 16)),
        ("on monday", date(2026, 10, 19)),
        ("first thing tomorrow", date(2026, 10, 15)),
        ("first thing monday", date(2026, 10, 19)),
        ("next tuesday", date(2026, 10, 20)),
    ],
)
def test_what_is_to_do_is_to_do_on_the_next_such_day(said: str, day: date) -> None:
    reading = heard(f"need to sweep the driveway {said}")
    assert [(entry.kind, entry.day) for entry in reading.entries] == [("todo", day)]
    assert reading.doubts == ()


def test_a_day_said_first_holds_for_all_that_follows() -> None:
    entries = heard("yesterday used two tubes of caulk and scrapped one gutter").entries
    assert [entry.day for entry in entries] == [date(2026, 10, 13)] * 2


def test_a_day_said_behind_a_fact_is_that_facts() -> None:
    entries = heard(
        "used two tubes of caulk yesterday, and today used three tubes of caulk"
    ).entries
    assert [entry.day for entry in entries] == [date(2026, 10, 13), None]


def test_a_day_said_last_is_not_the_day_of_a_measure_before_it() -> None:
    measure, used = heard("north eave forty one feet, used two gutters yesterday").entries
    assert (measure.day, used.day) == (None, date(2026, 10, 13))


def test_hours_of_yesterday_are_not_asked_about() -> None:
    start, stop = heard("yesterday worked seven to three thirty").entries
    assert (start.day, stop.day) == (date(2026, 10, 13), date(2026, 10, 13))
    assert heard("yesterday worked seven to three thirty").doubts == ()


def test_a_day_in_the_midst_of_a_fact_is_that_facts_and_no_note() -> None:
    start, stop = heard("started yesterday at seven, stopped at four").entries
    assert (start.day, stop.day) == (date(2026, 10, 13), date(2026, 10, 13))
    assert start.note is None


def test_a_stop_of_yesterday_without_a_time_does_not_take_todays() -> None:
    reading = heard("yesterday we stopped")
    assert {entry.time for entry in reading.entries} <= {None}


@pytest.mark.parametrize(
    "said",
    [
        "next friday",  # This week's, or the one after.
        "by wednesday",  # Today, or in a week.
    ],
)
def test_a_day_of_two_weeks_is_asked_about(said: str) -> None:
    assert heard(f"need to sweep the driveway {said}").doubts


def test_todays_weekday_is_asked_about() -> None:
    assert heard("on wednesday used two tubes of caulk").doubts


def test_a_stretch_of_days_is_asked_about_where_it_is_reckoned_with() -> None:
    assert heard("since monday used two tubes of caulk").doubts
    assert heard("rain since monday").doubts == ()


def test_a_day_without_a_moment_to_reckon_from_stays_in_the_note_and_is_asked_about() -> None:
    reading = heard("yesterday used two tubes of caulk", None)
    assert reading.entries[0].day is None
    assert "yesterday" in (reading.entries[0].note or "")
    assert reading.doubts
