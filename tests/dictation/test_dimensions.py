"""Every measure keeps what it is of. Phrases and places are invented."""

from fractions import Fraction

import pytest

from joblog.dictation import Context, read
from joblog.model import Entry, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "east wall")))


def dimensions(text: str, context: Context | None = None) -> list[tuple[str, str | None]]:
    reading = read(text, WORDS, context)
    assert reading.doubts == ()
    standing = [entry.replacement or entry for entry in reading.entries]
    return [(str(entry.inches), entry.dimension) for entry in standing]


@pytest.mark.parametrize(
    ("said", "inches", "dimension"),
    [
        ("depth twelve and three eighths", "99/8", "depth"),
        ("twelve and three eighths deep", "99/8", "depth"),
        ("reveal one and an eighth", "9/8", "reveal"),
        ("fascia reveal is one and an eighth", "9/8", "reveal"),
        ("one and an eighth for the reveal", "9/8", "reveal"),
        ("sixteen on center", "16", "spacing"),
        ("sixteen inches oc", "16", "spacing"),
        ("forty one long", "41", "length"),
        ("north eave run forty one feet", "492", "length"),
        ("a quarter inch gap", "1/4", "gap"),
        ("the gap over the door is six and a quarter", "25/4", "gap"),
        ("rise is seven and a quarter", "29/4", "rise"),
        ("a twelve inch overhang", "12", "overhang"),
        ("the overhang on the north eave is sixteen and a quarter", "65/4", "overhang"),
        ("overhang, north eave, twelve and five eighths", "101/8", "overhang"),
        ("thirty six and a half wide", "73/2", "width"),
        ("eighty and a quarter tall", "321/4", "height"),
        ("height eighty and a quarter", "321/4", "height"),
        ("north eave fourteen and a half", "29/2", None),
        ("opening thirty eight and a half", "77/2", None),
    ],
)
def test_what_a_length_is_of(said: str, inches: str, dimension: str | None) -> None:
    assert dimensions(said) == [(inches, dimension)]


@pytest.mark.parametrize(
    "said",
    [
        "north eave forty one foot two, depth fourteen and a half, reveal one and an eighth",
        "north eave forty one foot two depth fourteen and a half reveal one and an eighth",
    ],
)
def test_measures_that_share_a_sentence_keep_their_own(said: str) -> None:
    assert dimensions(said) == [("494", None), ("29/2", "depth"), ("9/8", "reveal")]


def test_a_word_behind_its_length_is_not_the_next_ones() -> None:
    assert dimensions("fourteen and a half deep forty one and a quarter long") == [
        ("29/2", "depth"),
        ("165/4", "length"),
    ]
    assert dimensions("a quarter inch gap and a one inch reveal") == [
        ("1/4", "gap"),
        ("1", "reveal"),
    ]


def test_wide_by_tall_are_two_measures_and_numbers_by_numbers_an_area() -> None:
    assert dimensions("thirty six and a half wide by eighty and a quarter tall") == [
        ("73/2", "width"),
        ("321/4", "height"),
    ]
    [area] = read("thirty six and a half by eighty and a quarter", WORDS).entries
    assert (area.square_inches, area.dimension) == (Fraction(73 * 321, 8), None)


def test_the_dimension_holds_through_a_correction_and_the_same_again() -> None:
    last = Entry("measure", inches=Fraction(12), dimension="depth", place="north eave")
    context = Context(last=last, place="north eave")
    assert dimensions("make that fourteen and a half", context) == [("29/2", "depth")]
    assert dimensions("no, thirteen", context) == [("13", "depth")]
    assert dimensions("same again on the east wall", context) == [("12", "depth")]


def test_another_measure_after_it_does_not_take_it_over() -> None:
    last = Entry("measure", inches=Fraction(12), dimension="depth", place="north eave")
    context = Context(last=last, place="north eave")
    assert dimensions("fourteen and a half", context) == [("29/2", None)]
