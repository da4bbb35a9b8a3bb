"""Words that nobody understood, beside a fact that is. All sentences are invented."""

import pytest

from joblog.dictation import read
from joblog.model import Plan, Reading
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "west gable", "porch")))


def heard(said: str) -> Reading:
    return read(said, WORDS)


@pytest.mark.parametrize(
    ("said", "note"),
    [
        ("eleven foot six and a half diagonal on the west gable", "diagonal"),
        ("bird box is nine and a quarter", "bird box"),
        ("miter cut, eleven and three eighths", "miter"),
        ("used three gutters on the porch, mitered", "mitered"),
    ],
)
def test_words_that_cannot_change_a_fact_are_kept_in_its_note(said: str, note: str) -> None:
    reading = heard(said)
    assert note in (reading.entries[0].note or "")
    assert (reading.doubts, reading.unread) == ((), "")


@pytest.mark.parametrize(
    "said",
    [
        "I have used three gutters on the porch",
        "there were three gutters used on the porch",
        "forgot, three gutters used on the porch",
        "used three gutters up on the porch",
    ],
)
def test_words_that_only_help_are_neither_kept_nor_asked_about(said: str) -> None:
    reading = heard(said)
    (entry,) = reading.entries
    assert (entry.kind, entry.item, entry.quantity, entry.note) == ("used", "gutter", 3, None)
    assert reading.doubts == ()


def test_why_something_went_back_is_kept_with_it() -> None:
    reading = heard("returned three gutters because they were not straight")
    assert reading.entries[0].note == "because they were not straight"
    assert reading.doubts == ()


@pytest.mark.parametrize(
    "said",
    [
        "used three gutters on the breadboard",  # Where is that?
        "used six gutter zipperheads",  # Perhaps not gutters at all.
        "porch nine zipperheads",  # A count, or a length?
        "swapped six gutters used on the porch",  # What happened?
        "bird box not nine and a quarter",
        "nine and a quarter double on the porch",
        "used three gutters but another gutter",
        "used three gutters on the porch, except zipperheads",
        "used three gutters on the porch, wrong zipperheads",
        "zapped six gutters used on the porch",
        "used two tubes of caulk zipperhead",
        "zipperhead along nine and a quarter on the porch",
    ],
)
def test_words_that_may_change_a_fact_are_asked_about(said: str) -> None:
    assert heard(said).doubts


def test_words_behind_what_was_spoiled_say_why() -> None:
    (entry,) = heard("scrapped two gutters on the porch, wobbly").entries
    assert "wobbly" in (entry.reason or "")


def test_a_number_that_nobody_understood_is_never_kept_in_silence() -> None:
    assert heard("used three gutters on the porch, zipperhead nine").doubts


def test_what_told_what_happened_is_kept() -> None:
    (entry,) = heard("wrapped the gable with one roll of house wrap").entries
    assert "wrapped" in (entry.note or "")


def test_a_material_named_beside_what_was_used_is_kept() -> None:
    (entry,) = heard("used six gutters for blocking").entries
    assert "for blocking" in (entry.note or "")


@pytest.mark.parametrize(
    ("said", "note"),
    [
        ("hung two gutters on the porch this afternoon", "this afternoon"),
        ("used five sticks of fascia with the new brake", "with the new brake"),
        ("used three sticks of fascia when i got to the porch", "when"),
        ("picked up two gallons of paint for the trim", "for the trim"),
        ("eight fascia left on the rack", "rack"),
        ("first piece on the west gable sixteen and three quarters", "first piece"),
        ("by the meter on the west gable eight and seven eighths", "meter"),
        ("broke one gutter getting it off the truck", "getting"),
        ("started at seven it was still dark", "still dark"),
        ("took a ten minute break in the shade", "shade"),
    ],
)
def test_what_is_said_in_passing_is_kept_and_asks_nothing(said: str, note: str) -> None:
    reading = heard(said)
    assert reading.doubts == ()
    assert note in " ".join(f"{entry.note} {entry.reason}" for entry in reading.entries)


def test_the_back_by_itself_is_a_place_as_the_south_is() -> None:
    reading = heard("fifty two linear feet of gutter on the back")
    assert [entry.place for entry in reading.entries] == ["back"]
    assert reading.doubts == ()


@pytest.mark.parametrize(
    "said",
    [
        "used five gutters with two cracked",  # Two more numbers of gutters.
        "used five gutters that i took back",  # Used, or sent back?
        "used one gutter off the trailer",  # It may only have come.
        "used five gutters which broke",  # Spoiled?
        "started at seven with bob",  # How many are at work?
        "used five gutters without counting the other",  # How many?
    ],
)
def test_what_may_change_a_fact_asks_however_it_is_led_on(said: str) -> None:
    reading = heard(said)
    assert reading.doubts or len(reading.entries) > 1 or reading.entries[0].workers is not None
