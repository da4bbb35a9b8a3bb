"""Digits said one by one: a number with all of its zeros, or a question."""

from collections.abc import Iterator
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.dictation import read
from joblog.model import Entry, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave",)))
DIGITS = "zero one two three four five six seven eight nine".split()
FRAMES = (
    "{}", "north eave {}", "north eave {} inches", "north eave {} and a half",
    "used {} sheets of soffit", "{} degrees", "{} hours on soffit", "need {} screws",
)  # fmt: skip

rows = st.lists(st.integers(0, 9), min_size=2, max_size=5)


@given(row=rows, frame=st.sampled_from(FRAMES), oh=st.booleans())
def test_a_row_of_digits_is_read_with_exactly_these_digits_or_asked_about(
    row: list[int], frame: str, oh: bool
) -> None:
    said = " ".join("oh" if oh and digit == 0 else DIGITS[digit] for digit in row)
    reading = read(frame.format(said), WORDS)
    number = int("".join(map(str, row)))
    told = {value // 1 for entry in reading.entries for value in _numbers_of(entry)}
    assert reading.doubts or not told or (row[0] and told == {number})


def _numbers_of(entry: Entry) -> Iterator[Fraction]:
    for value in (entry.inches, entry.quantity, entry.hours, entry.fahrenheit, entry.square_inches):
        if value is not None:
            yield Fraction(value)


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("north eave two oh five", Fraction(205)),
        ("north eave one oh six and a half", Fraction(213, 2)),
        ("north eave one zero six", Fraction(106)),
        ("north eave two three eighths", Fraction(19, 8)),
        ("north eave twelve point oh six two five", Fraction(193, 16)),
    ],
)
def test_a_row_that_can_be_one_length_asks_nothing(said: str, inches: Fraction) -> None:
    reading = read(said, WORDS)
    assert [entry.inches for entry in reading.entries] == [inches]
    assert reading.doubts == ()


@pytest.mark.parametrize("said", ["one zero six seven", "one zero one eight"])
def test_a_length_too_long_to_be_believed_keeps_its_digits_and_is_asked_about(said: str) -> None:
    reading = read(f"north eave {said}", WORDS)
    digits = "".join(str(DIGITS.index(word)) for word in said.split())
    assert [str(entry.inches) for entry in reading.entries] == [digits]
    assert reading.doubts


@pytest.mark.parametrize("said", ["oh five sheets of soffit used", "used oh five sheets of soffit"])
def test_a_row_that_begins_with_a_zero_is_asked_about(said: str) -> None:
    assert read(said, WORDS).doubts


def test_a_count_and_a_length_may_be_one_digit() -> None:
    reading = read("used eight eight foot two by fours", WORDS)
    (entry,) = reading.entries
    assert (entry.quantity, entry.length, reading.doubts) == (8, 96, ())


def test_a_time_keeps_its_zero() -> None:
    (entry,) = read("started at seven oh five", WORDS).entries
    assert str(entry.time) == "07:05:00"


def test_cards_are_no_clock() -> None:
    assert [e.kind for e in read("started seven of clubs", WORDS).entries] == ["note"]


@pytest.mark.parametrize("said", ["thank you", "Thanks for watching.", "you", "Bye. Thank you."])
def test_thanks_and_goodbyes_are_no_entry(said: str) -> None:
    assert read(said, WORDS).entries == ()


def test_thanks_beside_something_said_are_left_out_of_nothing() -> None:
    (entry,) = read("thank you note from the owner", WORDS).entries
    assert "owner" in (entry.note or "")
