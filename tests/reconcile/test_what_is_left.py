"""Counts of what is left: which one holds, what a missing one leaves open, which contradict."""

from fractions import Fraction

from joblog.model import BookEntry, Gap, StockLine
from joblog.reconcile import reconcile, sensed
from tests.reconcile.told import JOB, PLAN, book, kept, stock


def line(*entries: BookEntry) -> StockLine:
    return reconcile(JOB, PLAN, entries).stock[0]


def gaps(*entries: BookEntry) -> tuple[Gap, ...]:
    return tuple(gap for gap in reconcile(JOB, PLAN, entries).gaps if gap.name == "panel")


DAY = 24 * 60


def test_what_is_used_on_a_later_day_leaves_only_a_range() -> None:
    one = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 6)),
        kept(3, stock("used", 2), minutes=DAY),
    )
    # 1 + 9 came, 6 were left, so 4 were gone; 2 more since: 6 to 10.
    assert (one.on_hand, one.consumed, one.at_least, one.at_most) == (None, None, 6, 10)


def test_what_is_told_in_one_go_with_the_count_was_in_it() -> None:
    one = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 6), minutes=600),
        kept(3, stock("used", 4), minutes=620),
    )
    assert (one.on_hand, one.consumed, one.unaccounted) == (6, 4, 0)


def test_what_is_typed_on_the_day_of_the_count_was_in_it() -> None:
    one = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 6), minutes=60),
        kept(3, stock("used", 4), minutes=600, typed=True),
    )
    assert (one.on_hand, one.unaccounted) == (6, 0)


def test_a_count_after_the_last_use_settles_it_again() -> None:
    one = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 6)),
        kept(3, stock("used", 2), minutes=DAY),
        kept(4, stock("on_hand", 3), minutes=DAY + 5),
    )
    assert (one.on_hand, one.consumed) == (3, 7)


def test_where_everything_that_came_was_used_nothing_can_be_left() -> None:
    one = line(kept(1, stock("delivered", 9)), kept(2, stock("used", 10)))
    assert (one.on_hand, one.consumed, one.unaccounted) == (0, 10, 0)


def test_a_missing_count_is_a_gap_with_its_width_and_its_worth() -> None:
    [gap] = gaps(kept(1, stock("delivered", 9)), kept(2, stock("used", 4)))
    assert (gap.settled_by, gap.width, str(gap.money)) == ("count", 6, "120.00")
    assert gap.text == "panel: nobody counted what is left; 4 to 10 panels may be gone"
    assert not gap.contradiction


def test_an_item_nobody_told_of_is_missing_not_nought() -> None:
    [gap] = gaps()
    assert (gap.settled_by, gap.text) == ("delivery", "panel: nothing was told of it")


def test_used_that_was_never_told_is_said_so() -> None:
    [gap] = gaps(kept(1, stock("delivered", 9)), kept(2, stock("on_hand", 2)))
    assert (gap.settled_by, gap.width) == ("use", 8)


def test_more_returned_than_ever_came_names_the_entries() -> None:
    entries = (
        kept(1, stock("delivered", 3), standing="accepted"),
        kept(2, stock("returned", 6), standing="accepted"),
    )
    [gap] = gaps(*entries)
    assert (gap.contradiction, gap.entries, gap.width) == (True, (1, 2), 2)


def test_more_returned_than_ever_came_is_doubted_before_anyone_accepts_it() -> None:
    found = sensed(JOB, PLAN, book(stock("delivered", 3), stock("returned", 6)))
    assert found[1].doubts == ("with it 6 panels would be gone, and only 4 ever came",)


def test_a_count_that_grew_by_itself_is_doubted_with_both_figures() -> None:
    entries = [
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 2), minutes=60),
        kept(3, stock("on_hand", 5), minutes=DAY),
    ]
    found = sensed(JOB, PLAN, entries)
    assert found[2].doubts == ("5 left, where 2 were left before and none came since",)


def test_two_accepted_counts_that_contradict_stay_a_contradiction() -> None:
    [gap] = gaps(
        kept(1, stock("delivered", 9), standing="accepted"),
        kept(2, stock("on_hand", 2), minutes=60, standing="accepted"),
        kept(3, stock("on_hand", 5), minutes=DAY, standing="accepted"),
        kept(4, stock("used", 5), minutes=DAY, standing="accepted"),
    )
    assert (gap.contradiction, gap.entries, gap.width) == (True, (2, 3), 3)


def test_a_count_that_a_delivery_explains_is_none() -> None:
    entries = [
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 2), minutes=60),
        kept(3, stock("delivered", 4), minutes=90),
        kept(4, stock("on_hand", 5), minutes=DAY),
    ]
    assert not any(one.doubts for one in sensed(JOB, PLAN, entries))


def test_more_left_than_ever_came_is_doubted() -> None:
    found = sensed(JOB, PLAN, book(stock("delivered", 3), stock("on_hand", 9)))
    assert found[1].doubts == ("9 panels left, and only 4 ever came",)


def test_an_amount_below_zero_is_doubted_and_counted_nowhere() -> None:
    [found] = sensed(JOB, PLAN, book(stock("on_hand", -2)))
    assert found.doubts == ("-2 is below zero",)
    assert line(found).on_hand is None


def test_an_accepted_amount_below_zero_is_counted_nowhere_either() -> None:
    one = line(kept(1, stock("on_hand", -2), standing="accepted"))
    assert (one.on_hand, one.left_out) == (None, (1,))


def test_doubtful_entries_are_a_gap_that_a_decision_settles() -> None:
    found = gaps(kept(1, stock("used", 4), "four or forty?"))
    [waits] = [gap for gap in found if gap.settled_by == "decision"]
    assert (waits.entries, waits.width) == ((1,), 4)


def test_contradictions_come_first_then_what_is_worth_most() -> None:
    entries = [
        kept(1, stock("delivered", 3), standing="accepted"),
        kept(2, stock("returned", 6), standing="accepted"),
    ]
    first, *others = reconcile(JOB, PLAN, entries).gaps
    assert first.contradiction
    assert not any(gap.contradiction for gap in others)


def test_the_record_says_how_much_of_it_is_settled() -> None:
    record = reconcile(JOB, PLAN, book(stock("delivered", 9), stock("on_hand", 0))).record
    assert record is not None
    assert (record.items, record.items_settled, record.tasks, record.tasks_settled) == (1, 1, 1, 0)
    assert record.cost_settled == Fraction(1)
