"""Words that change what was said before them. Phrases and places are invented."""

from datetime import time
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.dictation import Context, read
from joblog.model import Entry, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "east wall")))
LENGTH = Entry(
    "measure", inches=Fraction(53, 2), item="fascia", place="east wall", as_said="26 1/2"
)
USED = Entry("used", item="soffit panel", quantity=Fraction(5), unit="sheet", place="north eave")


def changed(said: str, last: Entry) -> Entry:
    (entry,) = read(said, WORDS, Context(last=last, item=last.item, place=last.place)).entries
    assert entry.kind == "correction" and entry.replacement is not None
    return entry.replacement


@pytest.mark.parametrize(
    "said",
    ["put that on the north eave", "no, that's the north eave", "that was for the north eave"],
)
def test_a_place_said_alone_with_that_moves_the_last_entry(said: str) -> None:
    assert changed(said, LENGTH).place == "north eave"
    assert changed(said, LENGTH).inches == Fraction(53, 2)


def test_a_place_said_with_the_new_number_holds_for_it() -> None:
    entry = changed("scratch that, north eave fourteen and a half", LENGTH)
    assert (entry.place, entry.inches) == ("north eave", Fraction(29, 2))


@pytest.mark.parametrize("said", ["that fascia was actually frieze", "it was frieze not fascia"])
def test_an_item_is_changed_by_naming_the_right_one(said: str) -> None:
    assert changed(said, LENGTH).item == "frieze board"


def test_a_verb_is_changed_by_denying_the_wrong_one() -> None:
    assert changed("those were delivered, not used", USED).kind == "delivered"


@pytest.mark.parametrize("said", ["six, not five", "it was six sheets", "no, six"])
def test_a_count_is_changed(said: str) -> None:
    assert changed(said, USED).quantity == 6


def test_light_becomes_heavy_by_two_sixteenths() -> None:
    light = Entry("measure", inches=Fraction(227, 16), as_said="14 1/4 light")
    assert changed("not light, heavy", light).inches == Fraction(229, 16)


def test_a_start_is_moved_by_a_clock() -> None:
    assert changed("actually it was 7:45", Entry("start", time=time(7, 30))).time == time(7, 45)


def test_a_price_said_after_a_delivery_is_that_deliverys() -> None:
    came = Entry("delivered", item="fascia", quantity=Fraction(8), unit="stick")
    assert changed("at fourteen fifty each", came).unit_cost == Decimal("14.50")


def test_a_new_number_for_counted_pieces_asks_which_number() -> None:
    pieces = Entry("measure", inches=Fraction(29, 2), pieces=6)
    assert read("make it eight", WORDS, Context(last=pieces)).doubts


def test_another_two_is_more_of_the_same_and_no_length() -> None:
    reading = read("and another two on the east wall", WORDS, Context(last=USED, item=USED.item))
    (entry,) = reading.entries
    assert (entry.kind, entry.quantity, entry.place) == ("used", 2, "east wall")


def test_a_number_begun_and_said_again_counts_once() -> None:
    (entry,) = read("twenty two and, twenty two and five eighths", WORDS).entries
    assert entry.inches == Fraction(181, 8)
