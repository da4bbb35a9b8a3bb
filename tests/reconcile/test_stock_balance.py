"""The balance of one item, in worked examples: prices, counts, and pieces cut."""

from decimal import Decimal
from fractions import Fraction

import pytest

from joblog.model import (
    BookEntry,
    Catalog,
    Entry,
    Item,
    Plan,
    PlannedItem,
    QuantityVariance,
    StockLine,
)
from joblog.reconcile import reconcile
from tests.reconcile.told import JOB, PANEL, PLAN, book, cut, kept, stock

DAY = 24 * 60


def line(
    *entries: Entry | BookEntry, plan: Plan = PLAN, catalog: Catalog | None = None
) -> StockLine:
    numbered = [
        one if isinstance(one, BookEntry) else kept(number, one)
        for number, one in enumerate(entries, 1)
    ]
    [found] = reconcile(JOB, plan, numbered, catalog).stock
    return found


# --- prices


def test_what_is_gone_costs_what_its_own_deliveries_did() -> None:
    found = line(
        stock("delivered", 6, unit_cost=Decimal("20.00")),
        stock("delivered", 3, unit_cost=Decimal("26.00")),
        stock("on_hand", 0),
    )
    # 1 opening at the plan's 20, 6 x 20 and 3 x 26.
    assert found.actual_cost == Decimal("218.00")


def test_a_delivery_without_a_price_is_taken_at_the_price_of_the_others() -> None:
    found = line(
        stock("delivered", 6, unit_cost=Decimal("22.00")),
        stock("delivered", 3),
        stock("on_hand", 0),
    )
    assert found.actual_cost == Decimal("218.00")


def test_a_price_by_the_bundle_is_shared_by_what_is_in_it() -> None:
    panel = Item("panel", "sheet", also=(("bundle", Fraction(4)),))
    plan = Plan((PlannedItem(panel, Fraction(8), Decimal("20.00")),))
    found = line(
        stock("delivered", 2, "bundle", unit_cost=Decimal("88.00")), stock("on_hand", 1), plan=plan
    )
    # 88.00 for 4 is 22.00 each; 7 are gone.
    assert (found.consumed, found.actual_cost) == (7, Decimal("154.00"))


def test_a_delivery_of_nothing_has_no_price() -> None:
    found = line(
        stock("delivered", 0, unit_cost=Decimal("99.00")),
        stock("delivered", 9, unit_cost=Decimal("22.00")),
        stock("on_hand", 0),
    )
    assert found.actual_cost == Decimal("218.00")


def test_a_price_of_nothing_is_a_price() -> None:
    found = line(
        kept(1, stock("delivered", 9, unit_cost=Decimal(0)), standing="accepted"),
        stock("on_hand", 0),
    )
    assert (found.actual_cost, found.planned_cost) == (Decimal("20.00"), Decimal("200.00"))


def test_without_a_price_paid_the_planned_one_holds_and_without_both_none() -> None:
    entries = (stock("delivered", 9), stock("on_hand", 4))
    assert line(*entries).actual_cost == Decimal("120.00")  # 1 + 9 - 4 at 20.00
    unpriced = Plan((PlannedItem(PANEL, Fraction(10), None, Fraction(1)),))
    found = line(*entries, plan=unpriced)
    assert (found.actual_cost, found.planned_cost, found.money) == (None, None, None)


def test_an_item_nobody_planned_differs_by_all_that_was_used_at_the_price_paid() -> None:
    entries = (
        stock("delivered", 9, unit_cost=Decimal("22.00")),
        stock("used", 6),
        stock("spoiled", 1),
        stock("on_hand", 1),
    )
    found = line(*entries, plan=Plan(), catalog=Catalog((PANEL,)))
    assert found.variance == QuantityVariance(
        Fraction(6), Fraction(0), Fraction(1), Fraction(1), Fraction(8)
    )
    assert found.money is not None and found.planned is None
    parts = found.money
    # 6, 1 and 1 at 22.00, and nothing for a price that nobody planned.
    assert (parts.scope, parts.handling, parts.unaccounted) == (132, 22, 22)
    assert (parts.offcut, parts.price, parts.total) == (0, 0, 176)


# --- counts


@pytest.mark.parametrize("later, left", [(30, 6), (31, None)])
def test_half_an_hour_after_a_count_is_still_in_one_go_and_a_minute_more_is_not(
    later: int, left: int | None
) -> None:
    found = line(
        stock("delivered", 9),
        kept(2, stock("on_hand", 6), minutes=60),
        kept(3, stock("used", 4), minutes=60 + later),
    )
    assert found.on_hand == left


def test_what_comes_and_goes_in_one_go_with_a_count_is_in_what_was_gone_by_then() -> None:
    found = line(
        kept(1, stock("delivered", 3)),
        kept(2, stock("on_hand", 6), minutes=60),
        kept(3, stock("delivered", 6), minutes=70),
        kept(4, stock("returned", 1), minutes=75),
        kept(5, stock("used", 1), minutes=80),
        kept(6, stock("used", 2), minutes=DAY),
        kept(7, stock("spoiled", 1), minutes=DAY + 1),
        kept(8, stock("delivered", 4), minutes=DAY + 2),
    )
    # 1 + 3 + 6 - 1 came and 6 were left: 3 gone. Then 2 used and 1 spoiled more: 6 at least.
    # All that came: 1 + 3 + 6 - 1 + 4.
    assert (found.on_hand, found.at_least, found.at_most) == (None, 6, 13)


def test_what_was_used_before_a_count_is_not_gone_twice() -> None:
    found = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("used", 4), minutes=30),
        kept(3, stock("on_hand", 6), minutes=60),
        kept(4, stock("used", 2), minutes=DAY),
    )
    assert (found.at_least, found.at_most) == (6, 10)


def test_of_what_nobody_planned_nothing_was_there_before_the_first_delivery() -> None:
    found = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 6), minutes=60),
        kept(3, stock("delivered", 2), minutes=DAY),
        plan=Plan(),
        catalog=Catalog((PANEL,)),
    )
    assert (found.at_least, found.at_most) == (3, 11)


def test_used_as_told_is_gone_even_where_the_count_knew_of_less() -> None:
    found = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("used", 5), minutes=30, standing="accepted"),
        kept(3, stock("on_hand", 8), minutes=60),
        kept(4, stock("delivered", 2), minutes=DAY),
    )
    # By the count 2 of 10 were gone; 5 were told used.
    assert (found.at_least, found.at_most) == (5, 12)


def test_what_is_typed_on_the_evening_of_a_count_was_in_it_whatever_the_day_in_utc() -> None:
    found = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 6), minutes=60),
        # 14 hours after 12:00 UTC it is 22:00 in New York, and the next day in UTC.
        kept(3, stock("used", 4), minutes=14 * 60, typed=True),
    )
    assert found.on_hand == 6


def test_what_is_typed_on_a_later_day_came_after_the_count() -> None:
    found = line(
        kept(1, stock("delivered", 9)),
        kept(2, stock("on_hand", 6), minutes=60),
        kept(3, stock("used", 4), minutes=DAY, typed=True),
    )
    assert found.on_hand is None


def test_entries_count_in_order_of_time_whatever_their_order_in_the_book() -> None:
    found = line(
        kept(1, stock("on_hand", 3), minutes=DAY),
        kept(2, stock("on_hand", 6), minutes=60),
        kept(3, stock("delivered", 9), minutes=0),
    )
    assert (found.on_hand, found.consumed) == (3, 7)


def test_where_nothing_came_and_nothing_went_nothing_is_settled() -> None:
    plan = Plan((PlannedItem(PANEL, Fraction(10)),))
    found = line(plan=plan)
    assert (found.on_hand, found.consumed, found.at_least, found.at_most) == (None, None, 0, 0)


def test_what_went_back_is_not_there_to_be_used() -> None:
    found = line(stock("delivered", 9), stock("used", 5), stock("returned", 3), stock("on_hand", 1))
    # 1 + 9 - 3 came, 1 is left, so 6 are gone, and 5 were told.
    assert (found.at_most, found.consumed, found.unaccounted) == (7, 6, 1)
    assert found.variance is not None
    assert (found.variance.unaccounted, found.variance.total) == (1, -4)


def test_what_is_needed_is_in_no_balance() -> None:
    found = line(stock("needed", 4), stock("delivered", 2))
    assert (found.delivered, found.entries, found.left_out) == (2, (2,), ())


def test_an_item_that_is_only_needed_has_no_balance() -> None:
    assert reconcile(JOB, Plan(), book(stock("needed", 4))).stock == ()


def test_a_unit_nobody_said_is_the_items_own_and_an_amount_nobody_said_is_left_out() -> None:
    bare = Entry("delivered", item="panel", quantity=Fraction(2))
    found = line(bare, Entry("used", item="panel", unit="sheet"))
    assert (found.delivered, found.entries, found.left_out) == (2, (1,), (2,))


# --- pieces and reasons


def test_pieces_at_two_places_without_a_use_add_their_sticks_together() -> None:
    found = line(
        cut(1, 100, place="south eave"),
        cut(1, 40, place="rake"),
        stock("used", 5, place="north eave"),
    )
    # 100 and 40 and a saw cut fit into one stick of 144.
    assert found.placed + found.offcut == 6
    assert found.pieces == Fraction(140, 144)


def test_doubtful_pieces_are_in_no_cut_list() -> None:
    found = line(kept(1, cut(1, 100), "100 or 1 at a hundred?"))
    assert (found.pieces, found.offcut, found.left_out, found.entries) == (None, 0, (1,), ())


def test_spoiled_without_a_reason_says_so() -> None:
    found = line(stock("delivered", 9), stock("spoiled", 1), stock("spoiled", 2, reason="cracked"))
    assert found.reasons == (("no reason said", 1), ("cracked", 2))
    assert found.spoiled == 3


def test_the_plans_allowance_is_held_against_what_was_spoiled() -> None:
    split = PlannedItem(PANEL, Fraction(12), None, Fraction(0), Fraction(9), Fraction(2))
    found = line(
        cut(8, 100), stock("delivered", 12), stock("used", 9), stock("spoiled", 3),
        stock("on_hand", 0), plan=Plan((split,)),
    )  # fmt: skip
    # Planned: net 9, offcut 2, and 1 allowed. 8 pieces of 100 in measure 800/144 and take 8
    # sticks; 9 were told used, so one more than they need was placed.
    offcut = 8 - Fraction(800, 144)
    assert found.variance == QuantityVariance(
        Fraction(800, 144) - 9, offcut - 2, Fraction(3 - 1), Fraction(0), Fraction(0), Fraction(1)
    )


def test_a_plan_that_parts_only_its_offcut_has_the_rest_as_work() -> None:
    plan = Plan((PlannedItem(PANEL, Fraction(12), None, Fraction(0), None, Fraction(2)),))
    found = line(cut(8, 100), stock("delivered", 12), stock("used", 12), plan=plan)
    offcut = 8 - Fraction(800, 144)
    assert found.variance is not None
    # The pieces are the work: 800 in of 144 in sticks.
    assert (found.variance.scope, found.variance.offcut) == (Fraction(800, 144) - 10, offcut - 2)
    assert found.variance.usage == 12 - offcut - Fraction(800, 144)
    assert found.variance.handling == 0


# --- what is allowed for the work


@pytest.mark.parametrize("used, by", [(8, "pieces cut"), ("8.5", "as planned")])
def test_pieces_that_take_less_than_half_of_what_was_used_are_only_some_of_them(
    used: object, by: str
) -> None:
    # Four pieces of 100 in take four sheets of 144 in.
    found = line(stock("delivered", 9), cut(4, 100), stock("used", used), stock("on_hand", 1))
    assert found.allowed_by == by


def test_pieces_of_one_place_are_not_all_where_another_was_used_at_too() -> None:
    north, south = {"place": "north eave"}, {"place": "south eave"}
    told = (stock("delivered", 14), cut(4, 100, **north), stock("used", 4, **north))
    assert line(*told).allowed_by == "pieces cut"
    assert line(*told, stock("used", 4, **south)).allowed_by == "as planned"
    both = (stock("used", 4, **south), cut(4, 100, **south))
    assert line(*told, *both).allowed == 8 * Fraction(100, 144)


def test_pieces_in_doubt_or_too_long_leave_the_output_unknown() -> None:
    told = (stock("delivered", 9), stock("used", 4), cut(4, 100))
    assert line(*told, kept(9, cut(2, 100), "how long?")).allowed_by == "as planned"
    assert line(*told, cut(2, 150)).allowed_by == "as planned"


def test_what_is_neither_planned_nor_cut_in_pieces_has_nothing_allowed() -> None:
    told = (stock("delivered", 9), stock("used", 4), stock("on_hand", 5))
    found = line(*told, plan=Plan(), catalog=Catalog((PANEL,)))
    assert (found.allowed, found.allowed_by) == (None, "")
    found = line(*told, cut(4, 100), plan=Plan(), catalog=Catalog((PANEL,)))
    assert (found.allowed, found.allowed_by) == (4 * Fraction(100, 144), "pieces cut")


def test_hours_told_without_how_much_was_done_leave_the_work_as_planned() -> None:
    named = Plan((PlannedItem(PANEL, Fraction(10), task="hang"),), PLAN.tasks)
    told = (stock("delivered", 10), stock("used", 9))
    worked = Entry("labor", hours=Fraction(4), task="hang", quantity=Fraction(60), unit="ft")
    bare = Entry("labor", hours=Fraction(4), task="hang")
    assert line(*told, worked, plan=named).allowed_by == "60 of 80 ft done"
    assert line(*told, worked, plan=named).allowed == Fraction(15, 2)
    assert line(*told, worked, bare, plan=named).allowed_by == "as planned"
    assert line(*told, worked, kept(9, worked, "?"), plan=named).allowed_by == "as planned"


# --- offcuts that were kept


@pytest.mark.parametrize(
    "used, left, kept_ones",
    [
        (9, "1.5", Fraction(1, 2)),
        (9, "2.5", Fraction(0)),  # More is over than the part of a sheet that was counted.
        ("8.75", "1.5", Fraction(0)),  # He tells parts of sheets, so his words are no whole ones.
        (9, 2, Fraction(0)),
        (8, "1.5", Fraction(0)),  # More is gone than was told, and nothing to explain by offcuts.
    ],
)
def test_an_offcut_is_kept_only_where_it_explains_the_count(
    used: object, left: object, kept_ones: Fraction
) -> None:
    # One was there, and nine came.
    found = line(stock("delivered", 9), stock("used", used), stock("on_hand", left))
    assert found.kept == kept_ones
    assert found.consumed is not None and found.unaccounted is not None
    assert found.placed + found.spoiled + found.offcut + found.unaccounted == found.consumed


def test_no_more_is_kept_than_the_pieces_left_of_their_sheets() -> None:
    # Nine pieces of 130 in are 8 1/8 sheets of 144 in, so that 7/8 are left of nine.
    told = (stock("delivered", 9), cut(9, 130), stock("used", 9))
    assert line(*told, stock("on_hand", "1.75")).kept == Fraction(3, 4)
    assert line(*told, stock("on_hand", "1.9")).kept == 0
