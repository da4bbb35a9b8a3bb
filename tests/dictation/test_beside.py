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
