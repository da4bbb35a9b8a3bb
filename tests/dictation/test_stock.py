"""What became of material, told in the words around an amount. Phrases and places are invented."""

from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.dictation import read
from joblog.model import Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave", "east wall")))


Fact = tuple[str | None, Fraction | int | None, str | None]


def facts(said: str) -> list[Fact]:
    return [(entry.kind, entry.quantity, entry.item) for entry in read(said, WORDS).entries]


@pytest.mark.parametrize(
    ("said", "kind", "quantity", "item"),
    [
        ("kid sat on two sticks of gutter", "spoiled", 2, "gutter"),
        ("put a knee through a sheet of drywall", "spoiled", 1, "drywall"),
        ("gave the yard back three corner posts", "returned", 3, "corner post"),
        ("the truck is here finally, twelve sheets of soffit", "delivered", 12, "soffit panel"),
        ("there goes another tube of caulk", "used", 1, "caulk"),
        ("leaves us with seven sheets of plywood", "on_hand", 7, "plywood"),
        ("still owe me three sheets of soffit", "needed", 3, "soffit panel"),
        ("tell the yard i need seven sticks of j channel", "needed", 7, "J channel"),
    ],
)
def test_words_some_way_off_tell_what_became_of_an_amount(
    said: str, kind: str, quantity: int, item: str
) -> None:
    assert facts(said) == [(kind, quantity, item)]


def test_words_that_tell_it_only_in_part_leave_a_doubt() -> None:
    assert read("kid sat on two sticks of gutter", WORDS).doubts


def test_something_done_by_a_strange_verb_seems_used_and_is_asked_about() -> None:
    reading = read("toenailed six two by fours", WORDS)
    assert reading.entries[0].kind == "used"
    assert reading.doubts


def test_the_verb_that_closes_a_list_is_of_all_of_it() -> None:
    assert facts("two tubes of caulk and a gallon of paint used today") == [
        ("used", 2, "caulk"),
        ("used", 1, "paint"),
    ]


def test_an_item_named_last_is_what_the_amounts_were_of() -> None:
    assert facts("used ten and scrapped two, that's the starter strip") == [
        ("used", 10, "starter strip"),
        ("spoiled", 2, "starter strip"),
    ]


def test_a_place_behind_the_last_of_a_list_is_of_the_whole_list() -> None:
    reading = read("six sheets of soffit and four sticks of fascia used on the north eave", WORDS)
    assert [entry.place for entry in reading.entries] == ["north eave", "north eave"]


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("not a stick of drip edge left", "drip edge"),
        ("nothing left of the felt", "felt"),
        ("the last of the paint is gone", "paint"),
        ("that's the last of the insulation", "insulation"),
        ("no more caulk", "caulk"),
    ],
)
def test_none_left_is_a_count_of_zero(said: str, item: str) -> None:
    assert facts(said) == [("on_hand", 0, item)]


@pytest.mark.parametrize(
    ("said", "cost"),
    [
        ("paid a hundred and twenty for ten sticks of channel", "12.00"),
        ("$84 for 6 corner posts, delivered", "14.00"),
        ("bought two rolls of flashing cost me forty eight bucks for the two", "24.00"),
        ("six elbows at four twenty five apiece came in", "4.25"),
        ("delivered 20 sheets of soffit at $21.40", "21.40"),
    ],
)
def test_a_price_is_of_one_however_it_was_said(said: str, cost: str) -> None:
    assert read(said, WORDS).entries[0].unit_cost == Decimal(cost)


def test_a_fraction_of_an_inch_is_no_price() -> None:
    reading = read("j channel, a pair, thirty six and a quarter each", WORDS)
    assert all(entry.unit_cost is None for entry in reading.entries)
    assert reading.doubts


def test_thirty_two_by_fours_are_thirty() -> None:
    assert facts("used thirty two by fours") == [("used", 30, "two by four")]


def test_what_is_still_ahead_is_asked_about() -> None:
    assert read("taking back two rolls of felt tomorrow", WORDS).doubts


def test_of_so_many_means_none_of_them() -> None:
    said = "of the twelve panels of soffit, ten are up and two are scrap"
    assert facts(said)[1:] == [("used", 10, "soffit panel"), ("spoiled", 2, "soffit panel")]


def test_everything_but_is_not_delivered() -> None:
    reading = read("they delivered everything but the two rolls of coil", WORDS)
    assert [entry.kind for entry in reading.entries] == ["note"]


def test_two_items_in_a_row_are_the_last_of_them_with_a_doubt() -> None:
    reading = read("wrecked another downspout elbow", WORDS)
    assert reading.entries[0].item == "elbow"
    assert reading.doubts


def test_what_is_needed_without_a_count_asks_how_many() -> None:
    reading = read("block needed above the north window", WORDS)
    assert [entry.kind for entry in reading.entries] == ["needed"]
    assert reading.doubts
