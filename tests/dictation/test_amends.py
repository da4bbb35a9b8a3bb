"""Half a sentence that goes on with what was said before it. Phrases and places are invented."""

from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.dictation import Context, read
from joblog.model import Entry, Reading
from tests.bench.corpus.site import words

START = Entry("start", time=time(7, 30))
VENTED = Entry(
    "used", item="vented soffit panel", quantity=Fraction(3), unit="sheet", profile="vented",
    place="dormer",
)  # fmt: skip
COIL = Entry("needed", item="trim coil", quantity=Fraction(1), unit="roll")
DOOR = Entry("measure", inches=Fraction(98), as_said="8 foot 2", place="porch", dimension="height")
GABLE = Entry("measure", inches=Fraction(441, 4), as_said="9 foot 2 1/4", place="west gable")


def after(said: str, *before: Entry) -> Reading:
    return read(said, words(), Context(at=datetime(2026, 10, 14, 9, 20), told=before))


def changed(said: str, *before: Entry) -> Entry:
    """What the words make of the entry that they mean; they raise no doubt."""
    reading = after(said, *before)
    assert not reading.doubts
    (correction,) = reading.entries
    assert correction.replacement is not None
    return correction.replacement


def test_a_time_alone_is_that_of_the_start_before_it() -> None:
    assert changed("nah dude it was seven", START).time == time(7)


@pytest.mark.parametrize("said", ["no they told me the garage", "no, the garage i mean"])
def test_another_place_alone_moves_the_entry_before_it(said: str) -> None:
    entry = changed(said, VENTED)
    assert (entry.place, entry.quantity, entry.item) == ("garage", 3, "vented soffit panel")


def test_a_colour_alone_is_that_of_the_item_before_it() -> None:
    entry = changed("brown", COIL)
    assert (entry.colour, entry.item, entry.quantity) == ("brown", "trim coil", 1)


def test_a_profile_instead_makes_it_the_line_of_that_profile() -> None:
    assert changed("oh snap, that was solid", VENTED).item == "solid soffit panel"


def test_a_number_of_them_changes_only_the_number() -> None:
    entry = changed("two of em actually", COIL)
    assert (entry.item, entry.quantity, entry.unit) == ("trim coil", 2, "roll")


def test_why_it_was_wrong_changes_nothing() -> None:
    assert changed("dang, five, there is one round back", VENTED).quantity == 5


def test_another_dimension_leaves_the_length() -> None:
    entry = changed("not the height, the width", DOOR)
    assert (entry.dimension, entry.inches) == ("width", 98)


def test_a_place_beside_a_number_points_at_what_was_said_of_it() -> None:
    east = Entry("measure", inches=Fraction(72), as_said="72", place="porch")
    reading = after("nah the porch was seventy three", east, VENTED)
    assert reading.entries[0].back == 1
    assert reading.entries[0].replacement is not None
    assert reading.entries[0].replacement.inches == 73


def test_a_bare_number_means_the_last_amount_and_not_the_start_before_it() -> None:
    reading = after("no, that was seven", START, VENTED)
    (correction,) = reading.entries
    assert correction.back == 0
    assert correction.replacement is not None
    assert correction.replacement.quantity == 7


def test_what_takes_back_and_is_not_understood_asks_about_what_was_said_before() -> None:
    correction, note = after("whoops i was wrong about the flashing", VENTED).entries
    assert correction.kind == "correction"
    assert correction.replacement is None
    assert note.note is not None
    assert after("whoops i was wrong about the flashing", VENTED).doubts[0].entry == 0


@pytest.mark.parametrize("said", ["no rain today", "the dog is not here", "at the primer"])
def test_talk_after_a_fact_leaves_it_as_it_was(said: str) -> None:
    assert all(entry.kind != "correction" for entry in after(said, VENTED).entries)


def test_a_price_alone_with_money_is_what_it_cost() -> None:
    came = Entry("delivered", item="elbow", quantity=Fraction(12), unit="each",
                 unit_cost=Decimal("4.10"))  # fmt: skip
    assert changed("they're four twenty, i read it wrong", came).unit_cost == Decimal("4.20")


def test_inches_said_anew_keep_the_feet_that_were_not() -> None:
    assert changed("make it two and three quarters", GABLE).inches == Fraction(443, 4)


def test_other_inches_than_those_before_are_asked_about() -> None:
    reading = after("make it seven and a half", GABLE)
    assert [doubt.why for doubt in reading.doubts] == ["7 1/2 inches, or 9 feet 7 1/2?"]


def test_a_name_beside_a_number_points_at_the_entry_of_that_name() -> None:
    caps = Entry("needed", item="end cap", quantity=Fraction(4), unit="each")
    reading = after("coil, make that three", COIL, caps)
    assert [(one.back, one.replacement and one.replacement.item) for one in reading.entries] == [
        (1, "trim coil")
    ]


def test_as_much_of_the_same_elsewhere_is_another_entry() -> None:
    (entry,) = after("for the porch it was two", VENTED).entries
    assert (entry.kind, entry.item, entry.quantity, entry.place) == (
        "used", "vented soffit panel", 2, "porch",
    )  # fmt: skip


def test_a_correction_with_a_fact_behind_it_is_both() -> None:
    correction, measure = after("wide i mean, and sixty one high", DOOR).entries
    assert correction.replacement is not None
    assert correction.replacement.dimension == "width"
    assert (measure.kind, measure.inches, measure.dimension) == ("measure", 61, "height")


def test_a_bare_number_of_a_place_of_which_an_amount_was_told_is_asked_about() -> None:
    reading = after("the dormer is four", VENTED)
    assert reading.entries[0].kind == "correction"
    assert reading.doubts


def test_where_he_is_now_is_no_matter_of_doubt() -> None:
    assert not after("on the porch now", START).doubts


def test_what_is_kept_does_not_go_back() -> None:
    back = Entry("returned", item="J channel", quantity=Fraction(6), unit="stick")
    (correction,) = after("keep the j", back).entries
    assert (correction.action, correction.back) == ("drop", 0)
    assert after("keep the j", VENTED).entries[0].kind != "correction"


def test_what_is_taken_off_a_length_makes_it_shorter_and_is_asked_about() -> None:
    reading = after("take an eighth off the porch", DOOR, VENTED)
    (correction,) = reading.entries
    assert correction.replacement is not None
    assert correction.replacement.inches == Fraction(783, 8)
    assert reading.doubts


@pytest.mark.parametrize("said", ["no that's not right", "wait hold on", "nope"])
def test_taking_back_alone_asks_about_what_was_said_before(said: str) -> None:
    reading = after(said, VENTED)
    assert reading.entries[0].kind == "correction"
    assert reading.doubts[0].entry == 0


def test_another_start_after_a_no_asks_about_the_first() -> None:
    correction, start = after("no, i started at seven", START, VENTED).entries
    assert (correction.kind, correction.back, start.kind) == ("correction", 1, "start")


def test_another_day_of_what_is_to_do_is_that_day() -> None:
    todo = Entry("todo", note="finish the dormer", day=date(2026, 10, 15))
    assert changed("not tomorrow, friday", todo).day == date(2026, 10, 16)
