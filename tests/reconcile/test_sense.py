"""What does not fit the rest of the record is doubted, with the reason in words."""

from dataclasses import replace
from datetime import UTC, datetime, time
from decimal import Decimal
from fractions import Fraction

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
    assert found == {2: "with it 46 sheets would be gone, and only 17 ever came"}


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
    assert found == {0: "30.50 a sheet is far from the planned 13.50"}


def test_a_price_that_went_up_is_not_doubted() -> None:
    assert doubts(book(stock("delivered", 4, unit_cost=Decimal("16.00")))) == {}


def test_a_price_by_the_bundle_is_compared_by_the_sheet() -> None:
    assert doubts(book(stock("delivered", 4, "bundle", unit_cost=Decimal("54.00")))) == {}


# --- hours


def test_a_stop_before_the_start_is_doubted() -> None:
    found = doubts(book(turn("start", "07:30"), turn("stop", "04:15")))
    assert found == {1: "stops at 04:15, before the start at 07:30"}


def test_of_two_that_contradict_the_one_nobody_looked_at_is_doubted() -> None:
    stop = kept(1, turn("stop", "04:15"), standing="accepted")
    assert list(doubts([kept(0, turn("start", "07:30")), stop])) == [0]


def test_a_second_start_without_a_stop_is_doubted() -> None:
    found = doubts(book(turn("start", "07:30"), turn("start", "13:00"), turn("stop", "16:00")))
    assert found == {1: "a start at 13:00, and no stop since the one at 07:30"}


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
    assert found == {1: "a break at 17:00, after the stop at 16:00"}


def test_more_hours_on_tasks_than_were_worked_are_doubted() -> None:
    hung = Entry("labor", hours=Fraction(6), task="hang")
    wrapped = Entry("labor", hours=Fraction(5), task="wrap")
    found = doubts(book(turn("start", "08:00"), turn("stop", "16:00"), hung, wrapped))
    assert found == {3: "with it 11 crew hours would be on tasks, and only 8 were worked that day"}


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
