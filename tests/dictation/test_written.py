"""What people type: whole paragraphs, and words in short. Phrases are invented."""

from __future__ import annotations

from datetime import datetime, time
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.dictation import Context, read, sentences
from joblog.dictation.words import words_of
from joblog.model import Entry
from tests.bench.corpus.site import words

EVENING = Context(at=datetime(2026, 10, 5, 18))


def only(text: str) -> Entry:
    [entry] = read(text, words(), EVENING).entries
    return entry


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Used 3 sheets. Lunch 12-12:30; quit at 4", 3),
        ("started at 7 a.m. with Ray", 1),
        ("started at 7 a.m. Used 3 sheets.", 2),
        ("N eave 41 ft. 6 in. long", 1),
        ("wrap 1.5 rolls", 1),
        ("used 3 sheets\n\n- lunch 30 min\n* quit at 4", 3),
        ("1. used 3 sheets\n2. quit at 4", 2),
        ("...\n\n!\n", 0),
    ],
)
def test_a_text_is_parted_into_sentences(text: str, found: int) -> None:
    assert len(sentences(text)) == found


def test_a_line_that_was_broken_to_fit_is_joined_again() -> None:
    long = "used three sheets of vented soffit panel on the north eave and then"
    assert sentences(f"{long}\ntwo more on the south eave") == (
        f"{long} two more on the south eave",
    )
    assert len(sentences("used three sheets\nand two sticks")) == 2


@given(st.text(max_size=200))
def test_no_word_is_lost_between_sentences(text: str) -> None:
    kept = "".join(sentences(text))
    letters = [one for one in text if one.isalpha()]
    assert [one for one in kept if one.isalpha()] == letters


@pytest.mark.parametrize(
    ("text", "spelled"),
    [
        ("N eave 41' 6\"", "north eave 41 feet 6 inches"),
        ("SW corner", "southwest corner"),
        ("41'-6 1/2\"", "41 feet 6 1/2 inches"),
        ("(3) 1x8x12", "3 pieces of 1 by 8 by 12"),
        ("(2) boxes", "2 boxes"),
        ("7:30-4:00", "7:30 to 4:00"),
        ("lunch 12-12:30", "lunch 12 to 12:30"),
        ("8d", "8 penny nails"),
        ("$14.90/stick", "14.90 dollars a stick"),
        ("$2/ea", "2 dollars each"),
        ("2pc", "2 piece"),
        ("3 pcs", "3 pieces"),
        ("2 @ 9 1/4", "2 at 9 1/4"),
        ("w/ Ray", "with ray"),
        ("w/o Ray", "without ray"),
        ("#8 x 1 5/8", "number 8 by 1 5/8"),
        ("1/2 box", "1/2 box"),
        ('16" o.c.', "16 inches on center"),
        ("16 oc", "16 inches on center"),
        ("3 & 4", "3 and 4"),
        ("41 ft. 6 in.", "41 ft 6 in"),
        ("~40", "about 40"),
    ],
)
def test_what_is_written_in_short_is_spelled_out(text: str, spelled: str) -> None:
    assert " ".join(words_of(text)) == spelled


def test_a_letter_is_a_point_of_the_compass_only_before_a_part_of_a_house() -> None:
    assert words_of("went n of town") == ["went", "n", "of", "town"]
    assert words_of("used n eave")[1] == "north"


@pytest.mark.parametrize("mark", ["'", "\u2019"])
def test_the_s_of_an_owner_is_no_point_of_the_compass(mark: str) -> None:
    said = words_of(f"the garage{mark}s eave, s. eave")
    assert [said[1], *said[3:]] == ["garage", "eave", "south", "eave"]


def test_a_length_in_short_is_read() -> None:
    entry = only("N eave 41' 6\"")
    assert (entry.place, entry.inches) == ("north eave", 498)


def test_a_day_in_short_ends_in_the_afternoon() -> None:
    start, stop = read("7:30-4:00", words(), EVENING).entries
    assert (start.time, stop.time) == (time(7, 30), time(16))


def test_a_break_in_short_is_read() -> None:
    entry = only("lunch 12-12:30")
    assert (entry.kind, entry.time, entry.minutes) == ("break", time(12), 30)


def test_half_a_box_in_short_is_read() -> None:
    entry = only("used 1/2 box staples")
    assert (entry.item, entry.quantity, entry.unit) == ("staples", Fraction(1, 2), "box")


def test_sticks_by_their_feet_are_no_area_and_are_asked_about() -> None:
    reading = read("J channel 3 x 12'", words(), EVENING)
    (entry,) = reading.entries
    assert (entry.item, entry.quantity, entry.length) == ("J channel", 3, 144)
    assert reading.doubts


def test_penny_in_short_is_the_size_of_a_nail() -> None:
    entry = only("8d 3 lb left")
    assert (entry.kind, entry.size, entry.quantity, entry.unit) == ("on_hand", "8d", 3, "lb")


def test_a_price_before_its_item_is_what_that_costs() -> None:
    entry = only("$14.90/stick fascia")
    assert (entry.kind, entry.item, entry.unit_cost) == ("price", "fascia", Decimal("14.90"))
