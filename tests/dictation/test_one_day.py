"""What was said a minute or an hour ago, and what words point at of it. Phrases are invented."""

from __future__ import annotations

from datetime import time
from fractions import Fraction

import pytest

from joblog.dictation import Context, after, read
from joblog.dictation.language import corrections, errands, fillers, labor, measures, places, stock
from joblog.dictation.language import talk as others
from joblog.dictation.pointing import Clue, aimed, same_item, standing_after
from joblog.model import Doubt, Entry, Reading
from tests.bench.corpus.site import words

FASCIA = Entry("used", item="fascia 1x8", quantity=Fraction(4), unit="stick", place="north eave")
PANELS = Entry("used", item="vented soffit panel", quantity=Fraction(6), unit="sheet")
NOTE = Entry("note", note="windy")
DROP = Entry("correction", action="drop")


def told(*lines: str) -> tuple[Entry, ...]:
    """What stands after these were said one after another."""
    context = Context()
    for line in lines:
        context = after(context, read(line, words(), context))
    return context.told


def last(*lines: str) -> Entry:
    return told(*lines)[-1]


def doubts(*lines: str) -> list[str]:
    """What is doubtful about the last of these."""
    context = Context()
    for line in lines[:-1]:
        context = after(context, read(line, words(), context))
    return [doubt.why for doubt in read(lines[-1], words(), context).doubts]


# --- what stands ------------------------------------------------------------------------------


def test_a_correction_is_done_to_the_entry_behind_which_so_many_stand() -> None:
    nine = Entry("correction", action="replace", replacement=PANELS, back=1)
    assert standing_after((FASCIA, NOTE), Reading((nine,))) == (PANELS, NOTE)
    assert standing_after((FASCIA, NOTE), Reading((DROP, DROP))) == ()


def test_what_is_only_perhaps_taken_back_still_stands() -> None:
    assert standing_after((FASCIA,), Reading((DROP,), (Doubt(0, "or not?"),))) == (FASCIA,)


def test_a_correction_of_more_than_there_is_changes_nothing() -> None:
    assert standing_after((FASCIA,), Reading((Entry("correction", action="drop", back=1),))) == (
        FASCIA,
    )


def test_the_day_is_remembered_as_far_back_as_words_can_point() -> None:
    context = Context()
    for _ in range(60):
        context = after(context, Reading((FASCIA,)))
    assert len(context.told) == 24


def test_taken_back_an_entry_is_no_longer_the_last_one() -> None:
    context = after(after(Context(), Reading((FASCIA, PANELS))), Reading((DROP,)))
    assert context.last == FASCIA


# --- which one is meant -----------------------------------------------------------------------


def test_without_a_clue_the_last_one_that_fits_is_meant() -> None:
    found = aimed((FASCIA, PANELS, NOTE), lambda one: one.quantity is not None)
    assert found is not None
    assert (found.entry, found.back, found.why) == (PANELS, 1, None)


def test_the_number_that_is_denied_tells_which() -> None:
    found = aimed((FASCIA, PANELS), lambda one: True, Clue(number=Fraction(4)))
    assert found is not None
    assert (found.back, found.why) == (1, None)


def test_a_denied_number_that_nothing_has_is_doubtful() -> None:
    found = aimed((FASCIA, PANELS), lambda one: True, Clue(number=Fraction(9)))
    assert found is not None and found.why is not None
    assert "nothing was said before as these words have it" in found.why


def test_two_that_fit_alike_are_asked_about_unless_the_last_one_is_of_them() -> None:
    two = aimed((FASCIA, FASCIA, PANELS), lambda one: True, Clue(item="fascia"))
    assert two is not None and two.why is not None and two.why.startswith("which one:")
    ending = aimed((FASCIA, FASCIA), lambda one: True, Clue(item="fascia"))
    assert ending is not None and ending.why is None


def test_an_item_is_also_called_by_what_its_variants_are_called() -> None:
    assert same_item("fascia", "fascia 1x8") and same_item("soffit panel", "vented soffit panel")
    assert not same_item("fascia", "sub fascia board") and not same_item("fascia", None)


# --- as it is said ----------------------------------------------------------------------------

USED = "used four sheets of vented on the north eave"


@pytest.mark.parametrize(
    ("said", "quantity", "place"),
    [
        ("same on the south eave", 4, "south eave"),
        ("south eave too", 4, "south eave"),
        ("same again but six", 6, "north eave"),
        ("same on the garage but six", 6, "garage"),
        ("six on the garage", 6, "garage"),
        ("and two more on the dormer", 2, "dormer"),
    ],
)
def test_the_same_goes_on_elsewhere(said: str, quantity: int, place: str) -> None:
    entry = last(USED, said)
    assert (entry.quantity, entry.place, entry.item, entry.profile) == (
        quantity, place, "vented soffit panel", "vented",
    )  # fmt: skip
    assert len(told(USED, said)) == 2


@pytest.mark.parametrize(
    ("said", "quantity", "place", "profile"),
    [
        ("no, that was seven", 7, "north eave", "vented"),
        ("make it nine", 9, "north eave", "vented"),
        ("one less", 3, "north eave", "vented"),
        ("not the north eave, the garage", 4, "garage", "vented"),
        ("i said north eave, i meant garage", 4, "garage", "vented"),
        ("naw that's the garage", 4, "garage", "vented"),
        ("no the garage", 4, "garage", "vented"),
        ("that was solid", 4, "north eave", "solid"),
        ("the solid, not the vented", 4, "north eave", "solid"),
    ],
)
def test_the_last_one_is_put_right(said: str, quantity: int, place: str, profile: str) -> None:
    [entry] = told(USED, said)
    assert (entry.quantity, entry.place, entry.profile) == (quantity, place, profile)
    assert entry.item == f"{profile} soffit panel"
    assert not doubts(USED, said)


@pytest.mark.parametrize(
    "said",
    [
        "the j channel was five not four",
        "make the j channel five",
        "the j channel should be five",
        "the porch was five not four",
        "change the porch to five",
        "five, not four",
    ],
)
def test_an_earlier_one_is_put_right_by_what_is_told_of_it(said: str) -> None:
    before = "used four sticks of j channel on the porch", "used six rolls of coil on the dormer"
    channel, coil = told(*before, said)
    assert (channel.item, channel.quantity, channel.place) == ("J channel", 5, "porch")
    assert (coil.quantity, coil.place) == (6, "dormer")


def test_sheets_are_not_minutes() -> None:
    panels, lunch = told(USED, "lunch was thirty minutes", "no, six sheets")
    assert (panels.quantity, lunch.minutes, lunch.time) == (6, 30, None)


def test_eighths_are_of_an_inch() -> None:
    depth, channel = told(
        "north eave fourteen and a half", "used three sticks of j", "no, fourteen and five eighths"
    )
    assert (depth.inches, channel.quantity) == (Fraction(117, 8), 3)


def test_scratch_that_may_name_what_it_takes_back() -> None:
    before = "used two tubes of caulk", "used one roll of coil"
    [left] = told(*before, "scratch the caulk")
    assert left.item == "trim coil"
    assert told(*before, "scratch the last two") == ()
    assert len(told(*before, "scratch the siding")) != 1


def test_a_start_is_put_right_after_other_things_were_said() -> None:
    start, _ = told("started at seven", USED, "start was seven fifteen, not seven")
    assert start.time == time(7, 15)


def test_who_was_at_it_may_be_said_afterwards() -> None:
    assert last("four hours framing at the dormer", "by myself").workers == 1
    assert last("started at eight with one helper", "no, two helpers").workers == 3


def test_hours_are_put_right_by_a_number_alone() -> None:
    assert last("hung soffit three hours", "that was four").hours == 4
    assert last("four hours framing", "no, three and a half").hours == Fraction(7, 2)


def test_a_number_alone_after_a_count_is_asked_about() -> None:
    assert last("used two tubes of caulk", "three").quantity == 3
    assert "so many instead, or a measure?" in doubts("used two tubes of caulk", "three")


def test_a_measure_after_a_count_stays_a_measure() -> None:
    assert last("used three rolls of coil", "south eave ten and a half").kind == "measure"
    assert last("used three rolls of coil", "south eave fourteen").kind == "measure"


def test_weather_without_a_temperature_has_no_number_to_put_right() -> None:
    panels, weather = told(USED, "it's raining", "make that six")
    assert (panels.quantity, weather.fahrenheit) == (6, None)


def test_what_something_costs_is_put_right() -> None:
    assert str(last("parking twelve dollars", "no, fourteen").price) == "14.00"


def test_no_class_of_words_stands_in_two_tables() -> None:
    rooms = (corrections, errands, fillers, labor, measures, places, stock, others)
    names = [name for room in rooms for table in _tables(room) for name in table]
    assert sorted(names) == sorted(set(names))


def _tables(room: object) -> list[dict[str, str]]:
    return [getattr(room, name) for name in ("WORDS", "SHAPES") if hasattr(room, name)]


def test_a_place_where_something_is_asked_for_is_not_where_he_is_at_work() -> None:
    lines = (
        "used six sheets of vented soffit on the north eave",
        "the owner wants a light block by the back door, told her sixty bucks",
        "put up four sticks of j",
    )
    assert last(*lines).place == "north eave"
