"""A walk around a house as it is told: corners, what walls end in, openings, what interrupts."""

from fractions import Fraction

import pytest

from joblog.aloud import say_entry
from joblog.dictation import Context, after, fact_of, read
from joblog.form import describe, entry_from_json, entry_to_json
from joblog.model import Entry, Reading
from tests.bench.corpus import words
from tests.bench.walks import Found, found_of, is_right, read_there, walks

FRONT = "front eave forty two feet"


def heard(*lines: str) -> Reading:
    """The reading of the last line, after the others."""
    context = Context()
    *before, last = lines
    for line in before:
        context = after(context, read(line, words(), context))
    return read(last, words(), context)


def lines(*said: str) -> list[str]:
    return [describe(entry) for entry in heard(*said).entries]


def test_every_walk_that_may_be_looked_at_is_read_as_it_was_meant() -> None:
    assert [told.text for told in walks("open") if not is_right(told, read_there(told))] == []
    assert found_of("open") == Found(30, 30, 0, 0)


def test_every_walk_for_practice_is_read_as_it_was_meant() -> None:
    assert [told.text for told in walks("practice") if not is_right(told, read_there(told))] == []


@pytest.mark.parametrize(
    "said",
    [
        "used two outside corners on the garage wall",
        "cut five outside corners to nine foot two",
        "outside corner post is ninety seven and a half",
        "ninety seven and nine sixteenths on the outside corner",
        "need four inside corners",
        "used eight sticks of fascia all the way around",
        "one outside corner left",
        "starts at the yard were late",
        "front door three quarters of an inch out of plumb",
    ],
)
def test_what_is_bought_or_measured_otherwise_is_no_walk(said: str) -> None:
    kinds = {entry.kind for entry in heard(FRONT, said).entries}
    assert kinds.isdisjoint(("corner", "wall_opening", "interruption"))


def test_a_number_alone_is_feet_where_the_walk_is_told_in_feet() -> None:
    found = heard(FRONT, "outside corner", "left side twenty eight")
    assert (found.entries[0].inches, found.doubts) == (336, ())


def test_a_side_may_be_told_as_the_next_one() -> None:
    found = heard(FRONT, "outside corner", "next side fourteen")
    assert (found.entries[0].inches, found.doubts) == (168, ())


def test_a_number_behind_a_corner_that_names_no_side_is_asked_about() -> None:
    found = heard(FRONT, "outside corner", "next one thirty eight")
    assert found.entries[0].inches == 38
    assert "inches, or feet?" in [doubt.why for doubt in found.doubts]


def test_a_number_alone_is_asked_about_where_nobody_said_feet() -> None:
    found = heard("front eave forty two, outside corner")
    assert found.entries[0].inches == 504
    assert "inches, or feet?" in [doubt.why for doubt in found.doubts]


def test_a_small_number_alone_is_asked_about() -> None:
    found = heard(FRONT, "outside corner", "left side six")
    assert [doubt.why for doubt in found.doubts] == ["inches, or feet?"]


def test_a_number_alone_is_inches_where_nobody_walks() -> None:
    assert heard("left side twenty eight").entries[0].inches == 28


@pytest.mark.parametrize(
    ("said", "width", "height"),
    [
        ("window three by four", 36, 48),
        ("window thirty six by forty eight", 36, 48),
        ("door three by six eight", 36, 80),
        ("door two eight by six eight", 32, 80),
        ("window three foot by four foot six", 36, 54),
        ("window thirty two inches by fifty four inches", 32, 54),
        ("window thirty five and a half by fifty nine and a quarter inches", "71/2", "237/4"),
        ("garage door sixteen by seven", 192, 84),
        ("two by three window", 24, 36),
        ("thirty six by forty eight window", 36, 48),
    ],
)
def test_an_opening_is_as_wide_and_as_high_as_it_is_said(
    said: str, width: int | str, height: int | str
) -> None:
    [entry] = heard(FRONT, "outside corner", said).entries
    assert (entry.width, entry.height) == (Fraction(width), Fraction(height))


def test_a_window_is_no_opening_where_nobody_walks() -> None:
    assert [entry.kind for entry in heard("window thirty six by forty eight").entries] == [
        "measure"
    ]


@pytest.mark.parametrize("said", ["vent eight by eight", "window eleven by thirty"])
def test_an_opening_that_may_be_of_inches_or_feet_is_asked_about(said: str) -> None:
    assert [doubt.why for doubt in heard(FRONT, said).doubts] == ["inches, or feet?"]


def test_a_length_ends_where_the_next_thing_is_counted() -> None:
    assert lines("front eave forty feet, two windows three by five") == [
        "measure: 480 in = 40', front eave",
        "opening: 2 windows 36 in x 60 in, front eave",
    ]


def test_a_wall_is_the_wall_of_the_side_under_way() -> None:
    [entry] = heard(FRONT, "wall nine feet high").entries
    assert (entry.place, entry.dimension, entry.inches) == ("front eave", "height", 108)


def test_the_window_keeps_what_it_is_called() -> None:
    [entry] = heard(FRONT, "bedroom window three by four").entries
    assert entry.note == "bedroom window"


@pytest.mark.parametrize(
    "entry",
    [
        Entry("corner", corner="outside", place="front eave"),
        Entry("corner", corner="inside"),
        Entry("corner", corner="end"),
        Entry("corner", corner="around"),
        Entry("measure", inches=Fraction(336), top="gable", place="left side"),
        Entry("measure", top="open", place="left side"),
        Entry(
            "wall_opening", opening="window", width=Fraction(36), height=Fraction(48), pieces=2,
            at=Fraction(72),
        ),
        Entry("interruption", at=Fraction(120), length=Fraction(96), note="porch roof"),
    ],
)  # fmt: skip
def test_what_a_walk_tells_reads_back_from_its_json(entry: Entry) -> None:
    assert entry_from_json(entry_to_json(entry)) == entry


@pytest.mark.parametrize(
    ("said", "spoken"),
    [
        ("outside corner", "outside corner"),
        ("window three by four", "window three feet by four feet"),
        ("two windows three by five", "two windows three feet by five feet"),
        ("door three by six eight", "door three feet by six feet eight"),
        (
            "porch roof interrupts it from ten to eighteen feet",
            "porch roof interrupts from ten feet to eighteen feet",
        ),
        ("that's all the way around", "all the way around"),
    ],
)
def test_what_is_read_back_is_the_same_fact(said: str, spoken: str) -> None:
    [entry] = heard(FRONT, "inside corner", said).entries
    assert say_entry(entry, place_known=entry.place) == spoken
    [again] = heard(FRONT, "inside corner", spoken).entries
    assert fact_of(again) == fact_of(entry)
