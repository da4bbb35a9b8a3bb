"""When work began and ended, who was there, and for how long. Names and places are invented."""

from datetime import datetime, time
from fractions import Fraction

import pytest

from joblog.dictation import Context, read
from joblog.model import Plan, PlannedTask, Reading, Task
from joblog.plan import vocabulary

TASKS = (
    PlannedTask(Task("hang soffit", ("hung soffit", "soffit")), 8),  # type: ignore[arg-type]
    PlannedTask(Task("hang gutter", ("gutter", "gutters")), 4),  # type: ignore[arg-type]
)
WORDS = vocabulary(Plan(tasks=TASKS, places=("north eave", "garage wall")))


def heard(said: str, hour: int = 17, minute: int = 30) -> Reading:
    return read(said, WORDS, Context(at=datetime(2026, 10, 6, hour, minute)))


@pytest.mark.parametrize(
    ("said", "workers"),
    [
        ("me and danny started at eight", 2),
        ("danny and me started at eight", 2),
        ("me, ray and the kid started at eight", 3),
        ("all three of us started at eight", 3),
        ("started at eight with my nephew", 2),
        ("two man crew started at eight", 2),
        ("started at eight, just me", 1),
    ],
)
def test_a_crew_is_counted_with_the_speaker(said: str, workers: int) -> None:
    (entry,) = heard(said, 8, 10).entries
    assert (entry.kind, entry.time, entry.workers) == ("start", time(8), workers)


@pytest.mark.parametrize(
    "said",
    [
        "left the site at four thirty",
        "shut her down at four thirty on account of rain",
        "heading home, it's four thirty",
        "four thirty, calling it",
    ],
)
def test_words_may_stand_between_a_stop_and_its_time(said: str) -> None:
    (entry,) = heard(said).entries
    assert (entry.kind, entry.time) == ("stop", time(16, 30))


def test_work_started_somewhere_is_started_there() -> None:
    (entry,) = heard("started hanging siding on the garage wall at one", 13, 5).entries
    assert (entry.time, entry.place) == (time(13), "garage wall")


@pytest.mark.parametrize(
    "said", ["7:30 to 4:00, half hour lunch", "in at seven thirty out at four, half hour lunch"]
)
def test_a_day_may_be_told_by_its_ends(said: str) -> None:
    start, stop, rest = heard(said).entries
    assert (start.time, stop.time, rest.minutes) == (time(7, 30), time(16), Fraction(30))


def test_eight_to_twelve_inches_is_no_working_day() -> None:
    (entry,) = heard("eight to twelve inches").entries
    assert entry.kind == "measure"


@pytest.mark.parametrize(
    ("said", "hours", "workers"),
    [
        ("soffit took the three of us seven hours", Fraction(7), 3),
        ("an hour and twenty minutes of soffit", Fraction(4, 3), None),
        ("half an hour on soffit with the kid", Fraction(1, 2), 2),
        ("twelve man hours on soffit, two of us", Fraction(6), 2),
    ],
)
def test_hours_and_hands_of_a_task(said: str, hours: Fraction, workers: int | None) -> None:
    entry = heard(said).entries[-1]
    assert (entry.task, entry.hours, entry.workers) == ("hang soffit", hours, workers)


def test_a_second_task_takes_over_the_hours() -> None:
    first, second = heard("six hours of soffit and one of gutter").entries
    assert (first.hours, second.hours) == (Fraction(6), Fraction(1))
    assert (first.task, second.task) == ("hang soffit", "hang gutter")


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("ten minutes for a smoke", 10),
        ("down forty five minutes while the compressor cooled off", 45),
        ("lost an hour to the rain", 60),
        ("took thirty for lunch", 30),
    ],
)
def test_time_without_work_is_a_break(said: str, minutes: int) -> None:
    (entry,) = heard(said).entries
    assert entry.kind == "break"
    assert entry.minutes == minutes


@pytest.mark.parametrize(
    "said",
    [
        "started the garage wall at nine and a half",
        "siding came at nine thirty",
        "seven to eight feet",
        "had everybody swinging by five ten",
    ],
)
def test_a_time_that_may_be_something_else_is_doubted(said: str) -> None:
    assert heard(said).doubts


@pytest.mark.parametrize(
    ("said", "hour", "minute", "clock"),
    [
        ("stopped at four", 12, 30, time(16)),
        ("stopped at four thirty", 7, 40, time(16, 30)),  # Of yesterday, perhaps.
        ("stopped at six", 14, 20, time(18)),
        ("started at one", 9, 20, time(13)),
        ("seven thirty to four", 9, 20, time(16)),
    ],
)
def test_a_time_at_which_that_is_done_is_taken_though_it_is_still_to_come_and_is_doubted(
    said: str, hour: int, minute: int, clock: time
) -> None:
    reading = heard(said, hour, minute)
    assert reading.entries[-1].time == clock
    assert reading.doubts


@pytest.mark.parametrize(
    ("said", "clock"),
    [
        ("knocked off at two", time(14)),
        ("everybody off at a quarter to five", time(16, 45)),
    ],
)
def test_a_time_a_little_ahead_is_no_question_where_the_day_is_told_at_its_end(
    said: str, clock: time
) -> None:
    reading = heard(said, 13, 50)
    assert reading.entries[-1].time == clock
    assert not reading.doubts


@pytest.mark.parametrize(
    ("said", "hour", "minute", "clock"),
    [
        ("stopped at nine thirty", 9, 40, time(9, 30)),  # Rained out.
        ("stopped at eleven", 13, 0, time(11)),
        ("stopped at six", 18, 5, time(18)),
        ("started at seven", 7, 40, time(7)),
        ("started at twelve", 12, 10, time(12)),
        ("lunch at twelve, half an hour", 12, 40, time(12)),
        ("put the tools down at five to four", 16, 20, time(15, 55)),
        ("cranked up at eight o'clock", 9, 0, time(8)),
    ],
)
def test_of_two_hours_the_one_at_which_that_is_done_is_meant(
    said: str, hour: int, minute: int, clock: time
) -> None:
    reading = heard(said, hour, minute)
    assert [entry.time for entry in reading.entries] == [clock]
    assert reading.doubts == ()


def test_a_day_from_seven_thirty_to_four_ends_in_the_afternoon() -> None:
    assert [entry.time for entry in heard("seven thirty to four").entries] == [
        time(7, 30),
        time(16),
    ]


def test_material_beside_work_names_its_task() -> None:
    (entry,) = heard("gutter work, four hours").entries
    assert (entry.task, entry.hours) == ("hang gutter", 4)


@pytest.mark.parametrize("said", ["ray quit playing with that", "stop blinking, red light"])
def test_what_stops_something_else_is_no_end_of_work(said: str) -> None:
    assert {entry.kind for entry in heard(said).entries} == {"note"}


def test_time_spent_eating_is_a_break_and_work_that_ate_hours_is_none() -> None:
    assert [entry.kind for entry in heard("ate, twenty minutes").entries] == ["break"]
    assert "break" not in {entry.kind for entry in heard("gutters ate two hours").entries}


@pytest.mark.parametrize(
    "said", ["give me two minutes", "ray's coming thursday for two hours", "break time in an hour"]
)
def test_time_that_is_only_spoken_of_is_a_note(said: str) -> None:
    assert {entry.kind for entry in heard(said).entries} == {"note"}
