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
        "yesterday started at seven",
        "siding came at nine thirty",
        "seven to eight feet",
        "had everybody swinging by five ten",
    ],
)
def test_a_time_that_may_be_something_else_is_doubted(said: str) -> None:
    assert heard(said).doubts


def test_a_stop_that_is_still_to_come_is_doubted() -> None:
    assert heard("stopped at four", 14, 30).doubts


@pytest.mark.parametrize(
    "said", ["give me two minutes", "ray's coming thursday for two hours", "break time in an hour"]
)
def test_time_that_is_only_spoken_of_is_a_note(said: str) -> None:
    assert {entry.kind for entry in heard(said).entries} == {"note"}
