"""Weather, covered work, problems, photo cues and mere talk. All sentences are invented."""

from fractions import Fraction

import pytest

from joblog.dictation import read
from joblog.model import Entry, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "garage wall")))


def only(said: str) -> Entry:
    (entry,) = read(said, WORDS).entries
    return entry


@pytest.mark.parametrize(
    ("said", "fahrenheit"),
    [
        ("dry, calm, sixty two", 62),
        ("temp dropped to nineteen", 19),
        ("minus three degrees", -3),
        ("sixty four and sunny", 64),
        ("gusting to thirty mile an hour", None),
        ("high forties and drizzling", None),
        ("finally stopped raining", None),
    ],
)
def test_weather_and_its_degrees(said: str, fahrenheit: int | None) -> None:
    entry = only(said)
    assert (entry.kind, entry.fahrenheit) == ("weather", fahrenheit)


@pytest.mark.parametrize(
    "said",
    [
        "wall's out three quarters in eight feet",
        "rafter tails are two inches out of line",
        "the frieze is split from end to end",
        "stud's missing left of the back door",
        "compressor quit on me",
        "half the shingles are lifting",
        "there's a hump in the wall, better than an inch",
    ],
)
def test_a_fault_with_numbers_is_one_problem(said: str) -> None:
    assert only(said).kind == "problem"


def test_what_was_said_before_a_fault_stays_in_its_note() -> None:
    assert "frieze" in (only("behind the frieze it's all mush").note or "")


def test_work_about_to_be_hidden_is_covered_though_a_tool_is_named() -> None:
    assert only("the hose is strapped before i close the soffit").kind == "covered"


@pytest.mark.parametrize(
    "said",
    [
        "grab the other end",
        "send up that short piece",
        "lower, lower, stop right there",
        "one two three lift",
        "quitting at two tomorrow",
        "no rain today",
    ],
)
def test_talk_and_plans_are_notes(said: str) -> None:
    assert only(said).kind == "note"


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("that's gonna be nine and a quarter", Fraction(37, 4)),
        ("if you want it exact fourteen and thirty one sixty fourths", Fraction(927, 64)),
        ("hold the end for me will ya, okay forty one and a half", Fraction(83, 2)),
    ],
)
def test_talk_beside_a_length_leaves_the_length(said: str, inches: Fraction) -> None:
    assert inches in {entry.inches for entry in read(said, WORDS).entries}


def test_a_length_behind_a_warning_is_doubted() -> None:
    assert read("heads up the garage wall is nine and a half", WORDS).doubts


def test_a_word_that_no_recognizer_knew_leaves_a_doubt_and_is_shown_as_a_gap() -> None:
    found = read("the ladder … in the wind", vocabulary(Plan()))
    assert [entry.note for entry in found.entries] == ["the ladder … in the wind"]
    assert found.doubts


def test_a_gap_beside_a_number_is_never_passed_over() -> None:
    found = read("fascia … seven and three eighths", vocabulary(Plan()))
    assert [entry.kind for entry in found.entries] == ["measure"]
    assert "…" in found.doubts[0].why


@pytest.mark.parametrize(
    "said",
    [
        "tape was hooked wrong, my bad",
        "ordered six sheets, should be here thursday",
        "wrong pocket",
    ],
)
def test_a_slip_of_his_own_and_what_is_ordered_are_no_fault_of_the_work(said: str) -> None:
    assert only(said).kind == "note"


def test_a_tarp_over_a_place_covers_it() -> None:
    assert only("threw a tarp over the west gable before the rain").kind == "covered"
    assert only("tarped the saw and left at four forty five").kind != "covered"
