"""How far taking in is, and how long it still takes, follows from the sound that is heard."""

from __future__ import annotations

import pytest

from joblog.book.progress import ENOUGH, PHOTO, Far, Gauge, time_left


class Clock:
    """Stands still until it is put on."""

    def __init__(self) -> None:
        self.at = 100.0

    def __call__(self) -> float:
        return self.at


@pytest.fixture
def told() -> list[Far]:
    return []


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def gauge(told: list[Far], clock: Clock) -> Gauge:
    return Gauge(told.append, clock, files=4)


def test_nothing_is_said_of_the_time_before_something_is_heard() -> None:
    assert time_left(0, 100, 60) is None
    assert time_left(10, 100, ENOUGH / 2) is None


def test_as_fast_as_so_far_it_goes_on() -> None:
    assert time_left(30, 120, 10) == 30
    assert time_left(120, 120, 10) == 0


def test_loading_counts_in_no_speed(gauge: Gauge, told: list[Far], clock: Clock) -> None:
    gauge.expect({"a": 60.0, "b": 140.0}, photos=0)
    assert (told[-1].doing, told[-1].to_hear, told[-1].left) == ("getting ready", 200, None)
    clock.at += 500
    gauge.hears("a", "a.wav", 10)
    assert (told[-1].doing, told[-1].name, told[-1].left) == ("hearing", "a.wav", None)
    clock.at += 20
    gauge.hears("a", "a.wav")
    assert (told[-1].heard, told[-1].left) == (60, 140 * 20 / 50)


def test_photos_to_come_take_their_time_too(gauge: Gauge, told: list[Far], clock: Clock) -> None:
    gauge.expect({"a": 60.0}, photos=10)
    gauge.hears("a", "a.wav", 0)
    clock.at += 30
    gauge.hears("a", "a.wav")
    assert (told[-1].doing, told[-1].left) == ("photos", 10 * PHOTO / 2)


def test_photos_that_the_book_has_take_none(gauge: Gauge, told: list[Far], clock: Clock) -> None:
    gauge.expect({"a": 60.0}, photos=1)
    gauge.passed()
    gauge.hears("a", "a.wav", 0)
    clock.at += 30
    gauge.hears("a", "a.wav")
    assert (told[-1].doing, told[-1].left) == ("hearing", 0)


def test_a_recording_of_unknown_length_is_still_to_be_heard(
    gauge: Gauge, told: list[Far], clock: Clock
) -> None:
    gauge.expect({"a": 60.0, "unknown": 0.0}, photos=1)
    gauge.hears("a", "a.wav")
    assert told[-1].doing == "hearing"
    gauge.hears("unknown", "b.wav")
    assert told[-1].doing == "photos"


def test_what_the_book_had_is_told_beside_what_is_done(gauge: Gauge, told: list[Far]) -> None:
    gauge.finished("a.wav", already=True)
    gauge.finished("b.wav")
    assert (told[-1].done, told[-1].already, told[-1].files) == (2, 1, 4)


def test_every_step_is_told_in_its_turn(gauge: Gauge, told: list[Far]) -> None:
    gauge.at("looking round")
    gauge.copying("a.wav")
    gauge.expect({"a": 1.0}, photos=1)
    gauge.saw("p.jpg")
    gauge.finished("p.jpg")
    gauge.hears("a", "a.wav", 0.5)
    gauge.hears("a", "a.wav")
    gauge.at("tying")
    assert [far.doing for far in told] == [
        "looking round", "copying", "photos", "getting ready", "getting ready", "hearing",
        "hearing", "tying",
    ]  # fmt: skip
