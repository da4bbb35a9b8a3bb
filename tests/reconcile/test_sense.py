"""What does not fit the rest of the record is doubted, with the reason in words."""

from dataclasses import replace
from datetime import UTC, datetime, time
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import BookEntry, Catalog, Entry, Item, Job, Plan, PlannedItem
from joblog.reconcile import reconcile, sensed

JOB = Job("invented", "America/New_York")
PANEL = Item("panel", "sheet", also=(("bundle", Fraction(4)),))
PLAN = Plan(items=(PlannedItem(PANEL, Fraction(10), Decimal("13.50"), Fraction(1)),))


def kept(number: int, entry: Entry, *doubts: str, standing: str = "heard") -> BookEntry:
    at = datetime(2026, 10, 5, 12, number % 60, tzinfo=UTC)
    return BookEntry(number, 1, at, entry, doubts, standing, "heard", at, "")  # type: ignore[arg-type]


def book(*entries: Entry) -> list[BookEntry]:
    return [kept(number, entry) for number, entry in enumerate(entries)]


def doubts(entries: list[BookEntry]) -> dict[int, str]:
    """Why entries are doubted, by their place in the book."""
    return {one.id: "; ".join(one.doubts) for one in sensed(JOB, PLAN, entries) if one.doubts}


def depth(inches: str, place: str = "north eave", said: str = "", **more: object) -> Entry:
    return Entry("measure", place=place, inches=Fraction(inches), as_said=said or inches, **more)  # type: ignore[arg-type]


def stock(kind: str, quantity: int, unit: str = "sheet", **more: object) -> Entry:
    return Entry(kind, item="panel", quantity=Fraction(quantity), unit=unit, **more)  # type: ignore[arg-type]


def turn(kind: str, clock: str, workers: int | None = None) -> Entry:
    return Entry(kind, time=time.fromisoformat(clock), workers=workers)  # type: ignore[arg-type]


# --- measurements


def test_a_depth_far_from_the_others_on_its_eave_is_doubted() -> None:
    found = doubts(book(depth("95/8"), depth("12"), depth("47/4"), depth("63/8")))
    assert found == {3: "far from the others on north eave, which are 11 3/4, 11 7/8, 12 in"}


def test_depths_that_vary_as_houses_do_are_not_doubted() -> None:
    assert doubts(book(depth("95/8"), depth("12"), depth("47/4"), depth("49/4"))) == {}


def test_two_fellows_are_too_few_to_say_what_is_far() -> None:
    assert doubts(book(depth("12"), depth("12"), depth("71/8"))) == {}


def test_fellows_that_do_not_agree_among_themselves_cast_no_doubt() -> None:
    assert doubts(book(depth("12"), depth("34"), depth("51"), depth("96"), depth("20"))) == {}


def test_the_steps_of_a_gable_are_not_doubted() -> None:
    steps = [depth(str(inches)) for inches in (12, 18, 24, 30, 36, 42, 48)]
    assert doubts(book(*steps)) == {}


def test_another_dimension_measured_twice_is_not_doubted() -> None:
    eave = [depth("12"), depth("12"), depth("47/4"), depth("95/8")]
    assert doubts(book(*eave, depth("22"), depth("89/4"))) == {}


def test_a_run_in_feet_is_not_held_against_depths_in_inches() -> None:
    run = depth("486", said="40 feet 6 inches")
    assert doubts(book(depth("12"), depth("12"), depth("47/4"), run)) == {}


def test_cut_pieces_are_not_held_against_measures() -> None:
    assert doubts(book(depth("12"), depth("12"), depth("47/4"), depth("30", pieces=6))) == {}


def test_other_eaves_are_no_fellows() -> None:
    assert doubts(book(depth("12"), depth("12"), depth("12"), depth("22", "south eave"))) == {}


def test_a_doubtful_measure_is_no_evidence_against_others() -> None:
    entries = [*book(depth("12"), depth("12")), kept(8, depth("12"), "?"), kept(9, depth("22"))]
    assert 9 not in doubts(entries)


# --- material


def test_more_used_than_ever_came_is_doubted() -> None:
    found = doubts(book(stock("delivered", 16), stock("used", 6), stock("used", 40)))
    assert found == {2: "with it 46 panels would be gone, and only 17 ever came"}


def test_what_came_in_another_unit_of_the_catalog_is_counted_as_having_come() -> None:
    board = Item("cedar board", "stick", also=(("bundle", Fraction(6)),))
    came = Entry("delivered", item="cedar board", quantity=Fraction(2), unit="bundle")
    used = Entry("used", item="cedar board", quantity=Fraction(12), unit="stick")
    one_more = Entry("used", item="cedar board", quantity=Fraction(1), unit="stick")
    found = sensed(JOB, PLAN, book(came, used, one_more), Catalog((board,)))
    assert [one.open for one in found] == [False, False, True]


def test_what_fits_again_after_one_slip_is_not_doubted() -> None:
    found = doubts(book(stock("delivered", 16), stock("used", 60), stock("used", 6)))
    assert list(found) == [1]


def test_spoiled_and_returned_count_as_gone_in_the_items_own_unit() -> None:
    ledger = book(stock("delivered", 4, "bundle"), stock("spoiled", 2), stock("returned", 16))
    assert list(doubts(ledger)) == [2]


def test_a_delivery_noted_later_takes_the_doubt_away() -> None:
    ledger = book(stock("delivered", 4), stock("used", 8))
    assert list(doubts(ledger)) == [1]
    assert doubts([*ledger, kept(5, stock("delivered", 4))]) == {}


def test_a_doubtful_delivery_is_given_the_benefit() -> None:
    ledger = [*book(stock("delivered", 4), stock("used", 8)), kept(5, stock("delivered", 9), "?")]
    assert list(doubts(ledger)) == [5]


def test_where_no_delivery_was_told_every_use_is_not_asked_about() -> None:
    assert doubts(book(stock("used", 6), stock("used", 8))) == {}


def test_a_price_far_from_the_planned_one_is_doubted() -> None:
    found = doubts(book(stock("delivered", 4, unit_cost=Decimal("30.50"))))
    assert found == {0: "$30.50 a panel is far from the planned $13.50"}


def test_a_price_that_went_up_is_not_doubted() -> None:
    assert doubts(book(stock("delivered", 4, unit_cost=Decimal("16.00")))) == {}


def test_a_price_by_the_bundle_is_compared_by_the_sheet() -> None:
    assert doubts(book(stock("delivered", 4, "bundle", unit_cost=Decimal("54.00")))) == {}


# --- hours


def test_a_stop_before_the_start_is_doubted() -> None:
    found = doubts(book(turn("start", "07:30"), turn("stop", "04:15")))
    assert found == {1: "stops at 4:15 AM, before the start at 7:30 AM"}


def test_of_two_that_contradict_the_one_nobody_looked_at_is_doubted() -> None:
    stop = kept(1, turn("stop", "04:15"), standing="accepted")
    assert list(doubts([kept(0, turn("start", "07:30")), stop])) == [0]


def test_a_second_start_without_a_stop_is_doubted() -> None:
    found = doubts(book(turn("start", "07:30"), turn("start", "13:00"), turn("stop", "16:00")))
    assert found == {1: "a start at 1:00 PM, and no stop since the one at 7:30 AM"}


def test_a_helper_who_joins_is_no_second_start() -> None:
    assert doubts(book(turn("start", "07:30"), turn("start", "09:00", 2))) == {}


def test_work_in_two_parts_is_not_doubted() -> None:
    day = [turn("start", "07:30"), turn("stop", "12:00"), turn("start", "13:00")]
    assert doubts(book(*day, turn("stop", "16:00"))) == {}


def test_a_break_as_long_as_the_day_is_doubted() -> None:
    pause = Entry("break", minutes=Fraction(300))
    found = doubts(book(turn("start", "08:00"), pause, turn("stop", "12:00")))
    assert found == {1: "the break is as long as the whole day's work"}


def test_a_break_outside_the_day_is_doubted() -> None:
    pause = Entry("break", minutes=Fraction(30), time=time(17, 0))
    found = doubts(book(turn("start", "08:00"), pause, turn("stop", "16:00")))
    assert found == {1: "a break at 5:00 PM, after the stop at 4:00 PM"}


def test_more_hours_on_tasks_than_were_worked_are_doubted() -> None:
    hung = Entry("labor", hours=Fraction(6), task="hang")
    wrapped = Entry("labor", hours=Fraction(5), task="wrap")
    found = doubts(book(turn("start", "08:00"), turn("stop", "16:00"), hung, wrapped))
    why = "with it 11 man-hours would be put to tasks, and only 8 were worked that day"
    assert found == {3: why}


def test_hours_rounded_up_a_little_are_not_doubted() -> None:
    hung = Entry("labor", hours=Fraction(6), task="hang")
    wrapped = Entry("labor", hours=Fraction(5, 2), task="wrap")
    assert doubts(book(turn("start", "08:00"), turn("stop", "16:00"), hung, wrapped)) == {}


# --- what the doubts do


def test_an_accepted_entry_is_not_asked_about_again() -> None:
    ledger = book(stock("delivered", 16), stock("used", 40))
    settled = replace(ledger[1], standing="accepted", change="accepted")
    assert doubts([ledger[0], settled]) == {}


def test_what_was_put_right_by_a_person_is_not_asked_about_again() -> None:
    ledger = book(stock("delivered", 16), stock("used", 40))
    corrected = replace(ledger[1], standing="accepted", change="corrected")
    assert doubts([ledger[0], corrected]) == {}


def test_what_was_typed_in_and_makes_no_sense_waits_for_a_person() -> None:
    ledger = book(stock("delivered", 16), stock("used", 40))
    typed = replace(ledger[1], standing="accepted", change="typed")
    assert [one.open for one in sensed(JOB, PLAN, [ledger[0], typed])] == [False, True]


def test_what_makes_no_sense_is_left_out_until_settled() -> None:
    squared = reconcile(JOB, PLAN, book(stock("delivered", 16), stock("used", 40)))
    assert (squared.stock[0].placed, squared.stock[0].left_out, squared.open_doubts) == (0, (1,), 1)


def test_a_dropped_entry_neither_doubts_nor_is_doubted() -> None:
    ledger = [*book(stock("delivered", 16)), kept(1, stock("used", 40), standing="dropped")]
    assert doubts(ledger) == {}


KINDS = ("delivered", "returned", "used", "spoiled", "on_hand")
ENTRIES = st.one_of(
    st.builds(stock, st.sampled_from(KINDS), st.integers(0, 60)),
    st.builds(turn, st.sampled_from(("start", "stop")), st.times().map(str).map(lambda t: t[:5])),
    st.builds(depth, st.integers(0, 99).map(str)),
)


@given(st.lists(ENTRIES, max_size=20))
def test_entries_are_only_ever_given_doubts(entries: list[Entry]) -> None:
    before = book(*entries)
    after = sensed(JOB, PLAN, before)
    assert [replace(one, doubts=()) for one in after] == before


# --- at the edge of what is doubted


def seen(*entries: Entry | BookEntry, plan: Plan = PLAN) -> dict[int, tuple[str, ...]]:
    """Every doubt by the id of its entry, 0 for the first."""
    numbered = [
        one if isinstance(one, BookEntry) else kept(number, one)
        for number, one in enumerate(entries)
    ]
    return {one.id: one.doubts for one in sensed(JOB, plan, numbered) if one.doubts}


def accepted(number: int, entry: Entry) -> BookEntry:
    return kept(number, entry, standing="accepted")


@pytest.mark.parametrize(
    "inches, far", [("9", False), ("73/8", True), ("7", False), ("55/8", True)]
)
def test_an_inch_off_is_how_houses_are_however_well_the_others_agree(
    inches: str, far: bool
) -> None:
    # The others are 8 in each: an inch is let alone, an inch and an eighth is not.
    assert bool(seen(depth("8"), depth("8"), depth("8"), depth(inches))) == far


@pytest.mark.parametrize("inches, far", [("110", False), ("881/8", True), ("90", False)])
def test_a_tenth_off_is_how_houses_are_too(inches: str, far: bool) -> None:
    assert bool(seen(depth("100"), depth("100"), depth("100"), depth(inches))) == far


@pytest.mark.parametrize("inches, far", [("191891/10000", False), ("191892/10000", True)])
def test_fellows_that_scatter_allow_for_more(inches: str, far: bool) -> None:
    # 10, 11, 12, 13, 14: the middle is 12 and the median deviation 1, a standard deviation of
    # 1.4826 by it; 3.5 of these are 5.1891, and 14 and 5.1891 are 19.1891.
    fellows = [depth(str(each)) for each in (10, 11, 12, 13, 14)]
    assert bool(seen(*fellows, depth(inches))) == far


def test_a_second_group_of_places_is_looked_at_though_the_first_is_too_small() -> None:
    alone = depth("40", place="rake")
    eave = [depth("12"), depth("12"), depth("12"), depth("22")]
    assert list(seen(alone, *eave)) == [4]


def test_at_most_four_of_the_others_are_shown() -> None:
    eave = [depth(f"{120 + step}/10") for step in range(6)]
    [why] = seen(*eave, depth("30"))[6]
    assert why == "far from the others on north eave, which are 12, 12 1/10, 12 1/5, 12 3/10 in"


def test_other_days_and_other_items_are_no_fellows() -> None:
    eave = [depth("12"), depth("12"), depth("12")]
    tomorrow = replace(kept(3, depth("22")), at=datetime(2026, 10, 6, 12, tzinfo=UTC))
    assert seen(*eave, tomorrow) == {}
    assert seen(*eave, depth("22", item="panel")) == {}


def test_the_day_is_that_of_the_job_not_of_utc() -> None:
    eave = [depth("12"), depth("12"), depth("12")]
    # 02:00 UTC on the 6th is 22:00 on the 5th in New York.
    evening = replace(kept(3, depth("22")), at=datetime(2026, 10, 6, 2, tzinfo=UTC))
    assert list(seen(*eave, evening)) == [3]


def test_measures_of_no_place_or_no_length_are_no_fellows() -> None:
    eave = [depth("12"), depth("12"), depth("12")]
    assert seen(*eave, replace(depth("22"), place=None)) == {}
    assert seen(*eave[:2], Entry("measure", place="north eave"), depth("22")) == {}


def test_what_is_just_all_that_came_may_be_gone() -> None:
    # 1 on hand at the beginning and 16 came.
    assert seen(stock("delivered", 16), stock("used", 17)) == {}
    assert list(seen(stock("delivered", 16), stock("used", 18))) == [1]


def test_what_nobody_planned_has_nothing_on_hand_at_the_beginning() -> None:
    came, gone = stock("delivered", 16, "each"), stock("used", 17, "each")
    assert seen(came, gone, plan=Plan()) == {
        1: ("with it 17 pieces would be gone, and only 16 ever came",)
    }


def test_what_a_person_let_stand_is_counted_first() -> None:
    found = seen(stock("delivered", 9), stock("used", 4), accepted(2, stock("used", 8)))
    assert found == {1: ("with it 12 panels would be gone, and only 10 ever came",)}


def test_a_use_that_waits_already_is_neither_asked_again_nor_counted() -> None:
    found = seen(stock("delivered", 9), kept(1, stock("used", 40), "?"), stock("used", 10))
    assert found == {1: ("?",)}


def test_the_earliest_uses_are_believed_first() -> None:
    late = replace(kept(1, stock("used", 8)), at=datetime(2026, 10, 5, 13, tzinfo=UTC))
    assert list(seen(stock("delivered", 9), late, stock("used", 4))) == [1]


def test_every_item_is_looked_at_though_an_earlier_one_never_came() -> None:
    clip = Entry("used", item="clip", quantity=Fraction(3), unit="box")
    assert list(seen(clip, stock("delivered", 9), stock("used", 40))) == [2]
    counted = Entry("delivered", item="clip", quantity=Fraction(3), unit="box")
    only_counted = Entry("on_hand", item="nail", quantity=Fraction(3), unit="lb")
    entries = (counted, only_counted, stock("delivered", 9), stock("on_hand", 40))
    assert list(seen(*entries)) == [3]


def test_a_use_in_a_unit_that_does_not_fit_takes_nothing() -> None:
    assert seen(stock("delivered", 9), stock("used", 40, "gal"), stock("used", 10)) == {}


def test_nothing_is_not_below_zero_and_measures_may_be() -> None:
    assert seen(stock("used", 0)) == {}
    assert seen(Entry("used", item="panel")) == {}
    assert seen(Entry("labor", quantity=Fraction(-3), task="hang")) == {}


def test_all_that_ever_came_may_be_left() -> None:
    assert seen(stock("delivered", 9), stock("on_hand", 10)) == {}
    assert seen(stock("delivered", 9), stock("on_hand", 11)) == {
        1: ("11 panels left, and only 10 ever came",)
    }


def test_where_no_delivery_was_told_a_count_is_not_asked_about() -> None:
    assert seen(stock("on_hand", 11)) == {}


def test_of_two_counts_that_contradict_the_one_nobody_looked_at_is_doubted() -> None:
    why = "5 left, where 2 were left before and none came since"
    counts = stock("on_hand", 2), stock("on_hand", 5)
    assert seen(stock("delivered", 9), counts[0], accepted(2, counts[1])) == {1: (why,)}
    assert seen(stock("delivered", 9), accepted(1, counts[0]), counts[1]) == {2: (why,)}
    assert seen(stock("delivered", 9), accepted(1, counts[0]), accepted(2, counts[1])) == {}


def test_a_doubtful_count_is_not_held_against_another() -> None:
    entries = (stock("delivered", 9), kept(1, stock("on_hand", 2), "?"), stock("on_hand", 5))
    assert list(seen(*entries)) == [1]


@pytest.mark.parametrize(
    "paid, far", [("20.25", False), ("20.26", True), ("9", False), ("8.99", True)]
)
def test_a_price_half_as_much_again_or_a_third_less_is_not_far(paid: str, far: bool) -> None:
    # Planned 13.50: 20.25 is half as much again, and 9.00 is 13.50 over one and a half.
    assert bool(seen(stock("delivered", 4, unit_cost=Decimal(paid)))) == far


def test_a_price_by_the_bundle_is_shown_by_the_sheet() -> None:
    found = seen(stock("delivered", 4, "bundle", unit_cost=Decimal("20.00")))
    assert found == {0: ("$5.00 a panel is far from the planned $13.50",)}


def test_a_price_of_one_unit_of_something_small_is_looked_at_too() -> None:
    assert list(seen(stock("delivered", 1, unit_cost=Decimal("135.00")))) == [0]


def test_prices_that_cannot_be_compared_are_passed_over_and_the_next_one_looked_at() -> None:
    free = stock("delivered", 4, unit_cost=Decimal(0))
    odd = stock("delivered", 4, "gal", unit_cost=Decimal(99))
    none = stock("delivered", 0, unit_cost=Decimal(99))
    far = stock("delivered", 4, unit_cost=Decimal(99))
    assert list(seen(free, odd, none, stock("delivered", 4), far)) == [4]
    unpriced = Plan((PlannedItem(PANEL, Fraction(10)),))
    assert seen(far, plan=unpriced) == {}
    assert seen(far, plan=Plan()) == {}


def test_the_price_of_an_amount_below_zero_is_not_looked_at() -> None:
    less = replace(stock("delivered", 1, unit_cost=Decimal(99)), quantity=Fraction(-1, 2))
    assert seen(less) == {0: ("-1/2 is below zero",)}


def test_a_stop_at_the_very_start_is_not_before_it() -> None:
    assert seen(turn("start", "07:30"), turn("stop", "07:30")) == {}


def test_a_start_told_twice_with_the_same_time_is_no_second_start() -> None:
    assert seen(turn("start", "07:30"), turn("start", "07:30")) == {}


def test_a_second_start_of_as_many_people_says_no_more_than_the_first() -> None:
    found = seen(turn("start", "07:30", 2), turn("start", "09:00", 2))
    assert found == {1: ("a start at 9:00 AM, and no stop since the one at 7:30 AM",)}


def test_a_third_start_is_held_against_the_second() -> None:
    found = seen(turn("start", "07:30"), turn("start", "09:00", 2), turn("start", "10:00", 2))
    assert found == {2: ("a start at 10:00 AM, and no stop since the one at 9:00 AM",)}


def test_of_two_starts_the_one_nobody_looked_at_is_doubted() -> None:
    found = seen(turn("start", "07:30"), accepted(1, turn("start", "09:00")))
    assert list(found) == [0]


def test_turns_of_another_day_are_no_contradiction() -> None:
    tomorrow = replace(kept(1, turn("start", "07:00")), at=datetime(2026, 10, 6, 12, tzinfo=UTC))
    assert seen(turn("start", "07:30"), tomorrow) == {}


def test_a_stop_before_a_later_start_of_the_day_is_none_before_the_first() -> None:
    day = [turn("start", "07:00"), turn("stop", "11:00"), turn("start", "12:00")]
    assert seen(*day) == {}


def pause(minutes: int, clock: str | None = None) -> Entry:
    at = None if clock is None else time.fromisoformat(clock)
    return Entry("break", minutes=Fraction(minutes), time=at)


DAY = (turn("start", "08:15"), turn("stop", "12:30"))


@pytest.mark.parametrize(
    "clock, why",
    [
        ("08:14", ("a break at 8:14 AM, before the start at 8:15 AM",)),
        ("08:15", ()),
        ("12:29", ()),
        ("12:30", ("a break at 12:30 PM, after the stop at 12:30 PM",)),
    ],
)
def test_a_break_lies_between_start_and_stop(clock: str, why: tuple[str, ...]) -> None:
    assert seen(*DAY, pause(10, clock)).get(2, ()) == why


@pytest.mark.parametrize("minutes, long", [(254, False), (255, True)])
def test_a_break_is_shorter_than_the_day(minutes: int, long: bool) -> None:
    # From 8:15 to 12:30 are 4 hours and a quarter, 255 minutes.
    assert bool(seen(*DAY, pause(minutes))) == long


def test_a_break_before_the_start_is_seen_without_a_stop_and_the_next_one_looked_at() -> None:
    assert list(seen(DAY[0], pause(300), pause(10, "07:00"))) == [2]
    assert seen(turn("stop", "12:30"), pause(300)) == {}


def labor(hours: str, workers: int | None = None) -> Entry:
    return Entry("labor", hours=Fraction(hours), workers=workers, task="hang")


@pytest.mark.parametrize("hours, far", [("18/4", False), ("19/4", True)])
def test_each_of_a_days_tasks_may_be_rounded_up_by_a_quarter_hour(hours: str, far: bool) -> None:
    # From 8:15 to 12:30 one person works 4 1/4 h; with one task told, 4 1/2 h are let alone.
    assert bool(seen(*DAY, labor(hours))) == far


def test_hours_of_two_people_count_twice() -> None:
    found = seen(*DAY, labor("3", 2))
    assert found == {
        2: ("with it 6 man-hours would be put to tasks, and only 4 1/4 were worked that day",)
    }


def test_hours_that_fit_again_after_one_slip_are_not_doubted() -> None:
    assert list(seen(*DAY, labor("2"), labor("20"), labor("2"))) == [3]


def test_hours_that_a_person_let_stand_are_counted_first_and_doubtful_ones_not() -> None:
    assert list(seen(*DAY, labor("2"), accepted(3, labor("4")))) == [2]
    assert list(seen(*DAY, kept(2, labor("4"), "?"), labor("4"))) == [2]


def test_hours_of_a_day_without_a_stop_are_not_asked_about_and_those_of_the_next_are() -> None:
    def on_the_6th(number: int, entry: Entry) -> BookEntry:
        return replace(kept(number, entry), at=datetime(2026, 10, 6, 12, number, tzinfo=UTC))

    today = (turn("start", "08:00"), labor("20"))
    tomorrow = (on_the_6th(2, DAY[0]), on_the_6th(3, DAY[1]), on_the_6th(4, labor("20")))
    assert list(seen(*today, *tomorrow)) == [4]


def test_an_entry_that_fits_in_two_ways_not_is_told_of_both() -> None:
    found = seen(*DAY, pause(300, "07:00"))
    assert found == {
        2: (
            "a break at 7:00 AM, before the start at 8:15 AM",
            "the break is as long as the whole day's work",
        )
    }


def test_a_doubtful_measure_is_held_against_the_others_though_they_are_too_few_for_each_other() -> (
    None
):
    found = seen(depth("12"), depth("12"), depth("12"), kept(3, depth("22"), "?"))
    assert found == {3: ("?", "far from the others on north eave, which are 12 in")}


def test_what_came_in_a_unit_that_does_not_fit_has_not_come() -> None:
    found = seen(stock("delivered", 9), stock("delivered", 5, "gal"), stock("used", 11))
    assert found == {2: ("with it 11 panels would be gone, and only 10 ever came",)}


def test_a_second_start_is_seen_after_lunch_too() -> None:
    day = [turn("start", "07:00"), turn("stop", "11:00"), turn("start", "12:00")]
    found = seen(*day, turn("start", "13:00"))
    assert found == {3: ("a start at 1:00 PM, and no stop since the one at 12:00 PM",)}


def test_hours_are_asked_about_after_some_that_stand_or_wait() -> None:
    assert list(seen(*DAY, accepted(2, labor("4")), labor("2"))) == [3]
    assert list(seen(*DAY, kept(2, labor("4"), "?"), labor("5"))) == [2, 3]


def test_two_counts_contradict_each_other_where_no_delivery_was_told_too() -> None:
    assert seen(stock("on_hand", 2), stock("on_hand", 5)) == {
        1: ("5 left, where 2 were left before and none came since",)
    }
