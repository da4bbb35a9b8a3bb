"""The words of a number are read as that very number."""

from dataclasses import replace
from datetime import time
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.aloud import say_entry
from joblog.aloud.numbers import in_words, length_in_words, money_in_words, size_in_words
from joblog.dictation import Context, fact_of, read
from joblog.model import Entry
from joblog.quantity import tape
from tests.bench.corpus import words

PLACE = "north eave"
CONTEXT = Context(place=PLACE)

sixty_fourths = st.integers(1, 64 * 400).map(lambda n: Fraction(n, 64))
inches_below_a_foot = st.integers(0, 16 * 12 - 1).map(lambda n: Fraction(n, 16))
amounts = st.integers(1, 99_999).map(Fraction) | st.integers(1, 400).map(lambda n: Fraction(n, 4))
cents = st.integers(1, 99_999).map(lambda n: Decimal(n) / 100)
clocks = st.times().map(lambda clock: clock.replace(second=0, microsecond=0))


def read_back(entry: Entry) -> Entry:
    [back] = read(say_entry(entry, seconds=60.0), words(), CONTEXT).entries
    return back


@given(sixty_fourths)
def test_a_length_in_inches_is_read_as_it_was(inches: Fraction) -> None:
    said = Entry("measure", place=PLACE, inches=inches, as_said=tape(inches))
    assert read_back(said).inches == inches


@given(st.integers(1, 400), inches_below_a_foot)
def test_a_length_in_feet_is_read_as_it_was(feet: int, rest: Fraction) -> None:
    length = 12 * feet + rest
    as_said = f"{feet} feet {tape(rest)}" if rest else f"{feet} feet"
    said = Entry("measure", place=PLACE, inches=length, as_said=as_said)
    assert read_back(said).inches == length


@given(sixty_fourths, st.sampled_from([("heavy", 1), ("light", -1)]))
def test_heavy_and_light_are_read_as_they_were(inches: Fraction, shade: tuple[str, int]) -> None:
    word, sign = shade
    length = inches + Fraction(sign, 16)
    said = Entry("measure", place=PLACE, inches=length, as_said=f"{tape(inches)} {word}")
    back = read_back(said)
    assert (back.inches or 0) == length or length <= 0


@given(amounts, st.sampled_from(["used", "spoiled", "delivered", "returned", "on_hand", "needed"]))
def test_an_amount_is_read_as_it_was(quantity: Fraction, kind: str) -> None:
    said = Entry(kind, item="soffit panel", quantity=quantity, unit="sheet")  # type: ignore[arg-type]
    assert replace(read_back(said), reason=None, place=None, carried=()) == said


@given(st.integers(1, 999).map(Fraction))
def test_pieces_by_themselves_are_read_as_they_were(quantity: Fraction) -> None:
    said = Entry("used", item="gutter hanger", quantity=quantity, unit="each")
    assert fact_of(read_back(said)) == fact_of(said)


@given(cents)
def test_a_price_is_read_as_it_was(price: Decimal) -> None:
    said = Entry(
        "delivered", item="soffit panel", quantity=Fraction(3), unit="sheet", unit_cost=price
    )
    assert read_back(said).unit_cost == price


@given(clocks, st.sampled_from(["start", "stop"]), st.none() | st.integers(1, 9))
def test_a_time_is_read_as_it_was(clock: time, kind: str, workers: int | None) -> None:
    said = Entry(kind, time=clock, workers=workers)  # type: ignore[arg-type]
    assert fact_of(read_back(said)) == fact_of(said)


@given(st.integers(1, 600).map(Fraction))
def test_a_break_is_read_as_it_was(minutes: Fraction) -> None:
    said = Entry("break", minutes=minutes)
    assert fact_of(read_back(said)) == fact_of(said)


@given(st.integers(1, 12 * 60).map(lambda minutes: Fraction(minutes, 60)), st.integers(2, 9))
def test_hours_are_read_as_they_were(hours: Fraction, workers: int) -> None:
    said = Entry("labor", hours=hours, workers=workers, task="hang soffit")
    assert fact_of(read_back(said)) == fact_of(said)


@given(st.integers(-20, 120).map(Fraction))
def test_a_temperature_is_read_as_it_was(fahrenheit: Fraction) -> None:
    said = Entry("weather", fahrenheit=fahrenheit)
    assert read_back(said).fahrenheit == fahrenheit


@given(st.integers(1, 24).map(Fraction))
def test_a_pitch_is_read_as_it_was(rise: Fraction) -> None:
    said = Entry("measure", place=PLACE, pitch=rise)
    assert read_back(said).pitch == rise


@pytest.mark.parametrize(
    ("inches", "as_said", "words_said"),
    [
        ("117/8", "14 5/8", "fourteen and five eighths"),
        ("997/2", "41 feet 6 1/2", "forty one feet six and a half"),
        ("489/16", "30 1/2 heavy", "thirty and a half heavy"),
        ("289/2", "1 44 1/2", "one hundred forty four and a half"),
        ("97/2", "4 feet 1/2 inches", "four feet a half of an inch"),
        ("510", "42 1/2 feet", "forty two and a half feet"),
        ("1500/127", "300 mm", "three hundred mm"),
    ],
)
def test_a_length_is_said_as_it_was_measured(inches: str, as_said: str, words_said: str) -> None:
    assert length_in_words(Fraction(inches), as_said) == words_said


def test_what_was_said_is_never_repeated_where_it_is_another_length() -> None:
    assert length_in_words(Fraction(20), "14 feet heavy") == "twenty"


def test_what_no_words_are_exact_for_is_only_about() -> None:
    assert in_words(Fraction(3, 7)) == "about zero point four two eight six"


def test_money_is_said_in_as_few_words_as_there_are() -> None:
    said = [money_in_words(Decimal(price)) for price in ("14.90", "12", "0.85", "118.05", "1.00")]
    assert said == [
        "fourteen ninety",
        "twelve dollars",
        "eighty five cents",
        "one hundred eighteen dollars five cents",
        "one dollar",
    ]


@pytest.mark.parametrize(
    ("size", "said"),
    [
        ("1x8", "one by eight"),
        ("5/4x6", "five quarter by six"),
        ("1 1/2 in", "one and a half inch"),
        ("1/2 in", "half inch"),
        ("3/4 in", "three quarter inch"),
        ("3/8 in", "three eighths inch"),
        ("8d", "eight penny"),
        ("#8", "number eight"),
        ("29 ga", "twenty nine gauge"),
    ],
)
def test_a_size_is_said_as_in_the_trade(size: str, said: str) -> None:
    assert size_in_words(size) == said
