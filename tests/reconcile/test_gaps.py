"""What the record lacks or contradicts: in which words, how wide, worth how much, in what order."""

from datetime import time
from decimal import Decimal
from fractions import Fraction

from joblog.model import BookEntry, Entry, Gap, Item, Plan, PlannedItem, PlannedTask, Task
from joblog.reconcile import reconcile
from tests.reconcile.told import JOB, PANEL, PLAN, cut, kept, stock

DAY = 24 * 60
CLIP = Item("clip", "box")


def gaps(*entries: Entry | BookEntry, plan: Plan = PLAN, name: str = "panel") -> list[Gap]:
    numbered = [
        one if isinstance(one, BookEntry) else kept(number, one)
        for number, one in enumerate(entries, 1)
    ]
    return [gap for gap in reconcile(JOB, plan, numbered).gaps if gap.name == name]


def sure(number: int, entry: Entry) -> BookEntry:
    """An entry that a person let stand, so that no sense is asked of it."""
    return kept(number, entry, standing="accepted")


# --- contradictions


def test_more_gone_than_ever_came() -> None:
    [gap] = gaps(
        sure(1, stock("delivered", 9)), sure(2, stock("used", 11)), sure(3, stock("spoiled", 1))
    )
    assert gap.text == (
        "panel: 12 panels gone, installed, wasted or counted out, but only 10 ever came"
    )
    assert (gap.settled_by, gap.width, gap.money) == ("delivery", 2, Decimal("40.00"))
    assert (gap.entries, gap.contradiction) == ((1, 2, 3), True)


def test_more_returned_than_ever_came() -> None:
    [gap] = gaps(sure(1, stock("delivered", 3)), sure(2, stock("returned", 6)))
    assert gap.text == "panel: 6 panels returned, but only 4 ever came"
    assert (gap.width, gap.money, gap.settled_by) == (2, Decimal("40.00"), "delivery")


def test_all_that_came_returned_is_no_contradiction() -> None:
    assert not any(
        gap.contradiction for gap in gaps(stock("delivered", 3), sure(2, stock("returned", 4)))
    )


def test_more_left_than_ever_came() -> None:
    [gap] = gaps(sure(1, stock("delivered", 9)), sure(2, stock("on_hand", 12)))
    assert gap.text == "panel: 12 panels counted as left, but only 10 ever came"
    assert (gap.settled_by, gap.width, gap.entries) == ("count", 2, (1, 2))
    assert (gap.contradiction, gap.money) == (True, Decimal("40.00"))


def test_all_that_came_left_is_no_contradiction() -> None:
    assert not any(
        gap.contradiction for gap in gaps(stock("delivered", 9), sure(2, stock("on_hand", 10)))
    )


def test_a_count_that_leaves_less_than_was_told_used_and_spoiled() -> None:
    [gap] = gaps(stock("delivered", 9), stock("used", 5), stock("spoiled", 1), stock("on_hand", 7))
    assert gap.text == (
        "panel: 6 panels installed and wasted as told, but by the count of what is left only 3"
        " can be"
    )
    assert (gap.settled_by, gap.width, gap.entries) == ("count", 3, (2, 3, 4))
    assert (gap.contradiction, gap.money) == (True, Decimal("60.00"))


def test_a_count_that_leaves_what_was_told_used_is_no_contradiction() -> None:
    assert gaps(stock("delivered", 14), stock("used", 10), stock("on_hand", 5)) == []


def test_used_up_to_the_last_sheet_is_told_once_where_a_count_contradicts_it() -> None:
    [gap] = gaps(sure(1, stock("delivered", 9)), sure(2, stock("used", 10)), stock("on_hand", 2))
    assert (gap.settled_by, gap.width) == ("count", 2)


def test_nothing_is_missing_where_something_contradicts() -> None:
    found = gaps(
        sure(1, stock("delivered", 9)),
        sure(2, stock("on_hand", 2)),
        kept(3, stock("on_hand", 5), standing="accepted", minutes=DAY),
        kept(4, stock("delivered", 1), minutes=3 * DAY),
    )
    [gap] = found
    assert gap.text == "panel: 5 left, where 2 were left before and none came since"
    assert (gap.settled_by, gap.width, gap.money) == ("count", 3, Decimal("60.00"))


# --- what is missing


def test_used_without_any_delivery() -> None:
    [gap] = gaps(stock("used", 4), stock("spoiled", 2))
    assert gap.text == "panel: 6 panels gone, and only 1 ever came; no delivery was told"
    assert (gap.settled_by, gap.width, gap.entries) == ("delivery", 5, (1, 2))
    assert (gap.contradiction, gap.money) == (False, Decimal("100.00"))


def test_a_count_that_was_overtaken() -> None:
    [gap] = gaps(stock("delivered", 9), stock("on_hand", 6), kept(3, stock("used", 2), minutes=DAY))
    assert gap.text == (
        "panel: 6 counted as left, and more came or was used since; 6 to 10 panels may be gone"
    )
    assert (gap.settled_by, gap.width, gap.entries) == ("count", 4, (1, 2, 3))


def test_nobody_said_how_much_was_used() -> None:
    [gap] = gaps(stock("delivered", 9), stock("spoiled", 1), stock("on_hand", 2))
    assert gap.text == (
        "panel: nobody said how much was installed; until then it stands as work not done and "
        "material unexplained"
    )
    # 8 are gone, 1 of them spoiled.
    assert (gap.settled_by, gap.width, gap.money) == ("use", 7, Decimal("140.00"))


def test_nothing_is_missing_where_all_that_is_gone_was_spoiled() -> None:
    assert gaps(stock("delivered", 9), stock("spoiled", 3), stock("on_hand", 7)) == []


def test_a_use_that_waits_for_a_decision_is_not_missing_as_well() -> None:
    found = gaps(stock("delivered", 9), kept(2, stock("used", 4), "?"), stock("on_hand", 2))
    assert [gap.settled_by for gap in found] == ["decision"]


def test_a_spoilage_that_waits_says_nothing_of_the_use() -> None:
    found = gaps(stock("delivered", 9), kept(2, stock("spoiled", 4), "?"), stock("on_hand", 2))
    assert {gap.settled_by for gap in found} == {"decision", "use"}


def test_an_item_whose_only_entry_waits_was_told_of() -> None:
    found = gaps(kept(1, stock("used", 4), "four or forty?"))
    assert [gap.settled_by for gap in found] == ["decision", "count"]


# --- what is left out


def test_entries_that_wait_are_told_with_the_largest_of_them() -> None:
    found = gaps(
        kept(1, stock("used", 4), "?"), kept(2, stock("spoiled", 7), "?"), stock("delivered", 9)
    )
    [waits] = [gap for gap in found if gap.settled_by == "decision"]
    assert waits.text == "panel: 2 entries wait for a decision and are not counted"
    assert (waits.width, waits.money, waits.entries) == (7, Decimal("140.00"), (1, 2))


def test_one_entry_that_waits_is_told_in_the_singular() -> None:
    [waits] = [gap for gap in gaps(kept(1, stock("used", 4), "?")) if gap.width == 4]
    assert waits.text == "panel: 1 entry waits for a decision and is not counted"


def test_entries_that_wait_without_an_amount_have_no_width() -> None:
    waits, _ = gaps(kept(1, Entry("used", item="panel"), "?"), stock("delivered", 9))[::-1]
    assert (waits.settled_by, waits.width, waits.money) == ("decision", None, None)


def test_units_that_cannot_be_counted_are_named_once_each() -> None:
    found = gaps(
        stock("used", 2, "gal"), stock("used", 3, "gal"), stock("used", 1, "lb"),
        Entry("used", item="panel"), stock("delivered", 2),
    )  # fmt: skip
    [foreign] = [gap for gap in found if gap.settled_by == "decision"]
    assert foreign.text == "panel: told in gal, lb, no unit, which cannot be counted in sheet"
    assert (foreign.width, foreign.entries) == (None, (1, 2, 3, 4))


def test_pieces_longer_than_the_stock() -> None:
    found = gaps(cut(2, 145), cut(1, 144), stock("used", 10), stock("delivered", 9))
    assert found[0].text == "panel: pieces were cut that are longer than its stock"
    assert (found[0].entries, found[0].settled_by, found[0].width) == ((1,), "decision", None)


def test_far_less_gone_than_the_plan_takes_and_nobody_said_how_much_was_done() -> None:
    [gap] = gaps(stock("delivered", 9), stock("used", 5), stock("on_hand", 5))
    assert gap.text == (
        "panel: 5 panels gone, where the plan takes 10: nobody said how much of the work was done, "
        "so it may be less work, or less used on it"
    )
    assert (gap.settled_by, gap.width, gap.money) == ("done", 5, Decimal("100.00"))
    # Nine of ten are as good as what was planned.
    assert gaps(stock("delivered", 10), stock("used", 9), stock("on_hand", 2)) == []


def test_more_went_back_than_was_counted_as_left() -> None:
    [gap] = gaps(
        sure(1, stock("delivered", 9)),
        sure(2, stock("on_hand", 2)),
        kept(3, stock("returned", 5), standing="accepted", minutes=DAY),
    )
    assert gap.text == "panel: 5 panels returned, where 2 were counted as left"
    assert (gap.contradiction, gap.entries, gap.width) == (True, (2, 3), 3)


def test_pieces_that_need_more_than_was_told_used() -> None:
    found = gaps(cut(3, 100), stock("used", 1), stock("delivered", 9), stock("on_hand", 7))
    [use] = [gap for gap in found if gap.settled_by == "use"]
    # One piece of 100 in to a stick of 144.
    assert use.text == "panel: the pieces cut need 3 panels, and only 1 were told installed"
    assert (use.width, use.money, use.entries) == (2, Decimal("40.00"), (1,))


def test_pieces_that_need_just_what_was_told_used_are_no_gap() -> None:
    found = gaps(cut(3, 100), stock("used", 3), stock("delivered", 9), stock("on_hand", 7))
    assert found == []


# --- of nothing in particular


def test_what_names_no_item_is_in_no_balance() -> None:
    bare = Entry("used", quantity=Fraction(2), unit="sheet")
    [gap] = gaps(bare, Entry("note", note="x"), bare, name="", plan=Plan())
    assert (gap.text, gap.settled_by) == ("in no balance, because they name no item", "decision")
    assert gap.entries == (1, 3)


def test_pieces_said_of_nothing_are_named_and_bare_measures_are_not() -> None:
    measured = Entry("measure", inches=Fraction(12))
    bare = Entry("measure", inches=Fraction(12), pieces=6)
    [gap] = gaps(measured, bare, name="", plan=Plan())
    assert gap.text == "pieces were cut, but not said of what; they are in no cut list"
    assert (gap.entries, gap.settled_by) == ((2,), "decision")


def test_items_without_a_price_are_named_where_others_have_one() -> None:
    plan = Plan(
        (
            *PLAN.items,
            PlannedItem(CLIP, Fraction(2)),
            PlannedItem(Item("tape", "roll"), Fraction(1)),
        )
    )
    [gap] = gaps(plan=plan, name="")
    assert gap.text == "no price is known, so they are in no cost: clip, tape"
    assert gap.settled_by == "plan"


def test_where_no_item_has_a_price_nobody_looks_at_costs() -> None:
    assert gaps(plan=Plan((PlannedItem(CLIP, Fraction(2)),)), name="") == []


def test_a_day_without_a_stop_is_named_by_its_date() -> None:
    whole = [
        kept(2, Entry("start", time=time(7)), minutes=DAY),
        kept(3, Entry("stop", time=time(12)), minutes=DAY),
    ]
    found = gaps(kept(1, Entry("start", time=time(7))), *whole, plan=Plan(), name="")
    [gap] = found
    assert gap.text == (
        "Mon, Oct 5, 2026: a start or a stop is missing, so its hours are not known"
    )
    assert (gap.settled_by, gap.entries) == ("hours", (1,))


# --- in order


def test_contradictions_stand_before_dearer_gaps_dear_before_wide_and_wide_before_bare() -> None:
    cheap = PlannedItem(Item("nails", "lb"), Fraction(3), Decimal("2.00"))
    unpriced = PlannedItem(CLIP, Fraction(2))
    wider = PlannedItem(Item("tape", "roll"), Fraction(1))
    plan = Plan((unpriced, wider, cheap, *PLAN.items), (PlannedTask(Task("hang"), Fraction(8)),))
    found = reconcile(JOB, plan, [
        sure(1, Entry("delivered", item="nails", quantity=Fraction(1), unit="lb")),
        sure(2, Entry("used", item="nails", quantity=Fraction(2), unit="lb")),
        sure(3, Entry("delivered", item="clip", quantity=Fraction(2), unit="box")),
        sure(4, Entry("delivered", item="tape", quantity=Fraction(3), unit="roll")),
        sure(5, stock("delivered", 9)),
    ]).gaps  # fmt: skip
    # 1 lb at 2.00 contradicts; 10 panels at 20.00, then 3 rolls and 2 boxes of unknown price; then
    # what has neither a price nor a width.
    assert [gap.name for gap in found] == ["nails", "panel", "tape", "clip", "hang", ""]


def test_what_costs_half_a_dollar_stands_before_what_costs_nothing() -> None:
    free = PlannedItem(Item("plug", "each"), Fraction(9), Decimal(0), Fraction(9))
    cheap = PlannedItem(Item("shim", "each"), Fraction(9), Decimal("0.10"), Fraction(5))
    found = reconcile(JOB, Plan((free, cheap)), [
        kept(1, Entry("used", item="plug", quantity=Fraction(1), unit="each")),
        kept(2, Entry("used", item="shim", quantity=Fraction(1), unit="each")),
    ]).gaps  # fmt: skip
    assert [(gap.name, gap.money) for gap in found] == [
        ("shim", Decimal("0.40")),
        ("plug", Decimal("0.00")),
    ]


def test_what_waits_for_a_decision_about_nothing_stands_last() -> None:
    plan = Plan((PlannedItem(CLIP, Fraction(0)), PlannedItem(Item("tape", "roll"), Fraction(0))))
    found = reconcile(JOB, plan, [
        kept(1, Entry("used", item="clip", quantity=Fraction(0), unit="box"), "?"),
        kept(2, Entry("used", item="tape", quantity=Fraction(1, 2), unit="roll"), "?"),
    ]).gaps  # fmt: skip
    assert [(gap.name, gap.width) for gap in found] == [("tape", Fraction(1, 2)), ("clip", 0)]


# --- how complete the record is


def test_the_record_counts_what_is_settled() -> None:
    plan = Plan(
        (
            PlannedItem(PANEL, Fraction(10), Decimal("20.00")),
            PlannedItem(CLIP, Fraction(5), Decimal("10.00")),
            PlannedItem(Item("tape", "roll"), Fraction(5), Decimal("30.00")),
            PlannedItem(Item("nails", "lb"), Fraction(1)),
        ),
        (PlannedTask(Task("hang"), Fraction(8)), PlannedTask(Task("wrap"), Fraction(8))),
    )
    record = reconcile(JOB, plan, [
        sure(1, stock("delivered", 9)),
        sure(2, stock("used", 9)),
        sure(3, Entry("delivered", item="clip", quantity=Fraction(2), unit="box")),
        sure(4, Entry("delivered", item="tape", quantity=Fraction(2), unit="roll")),
        sure(5, Entry("on_hand", item="tape", quantity=Fraction(3), unit="roll")),
        worked(6, "hang"),
        worked(7, "wrap", "?"),
        kept(8, Entry("start", time=time(7))),
        kept(9, Entry("stop", time=time(12))),
        kept(10, Entry("start", time=time(7)), minutes=DAY),
        kept(11, Entry("start", time=time(7)), minutes=2 * DAY),
        kept(12, Entry("stop", time=time(12)), minutes=2 * DAY),
    ]).record  # fmt: skip
    assert record is not None
    # Of the panels everything is known; nobody counted the clips, the rolls contradict, and of
    # the nails nobody said a word. 200 of 400 in planned cost.
    assert (record.items, record.items_settled) == (4, 1)
    assert record.cost_settled == Fraction(200, 400)
    assert (record.tasks, record.tasks_settled) == (2, 1)
    assert (record.days, record.days_settled) == (3, 2)


def worked(number: int, task: str, *doubts: str) -> BookEntry:
    return kept(number, Entry("labor", task=task, hours=Fraction(2)), *doubts)


def test_without_any_price_no_share_of_the_cost_is_settled() -> None:
    record = reconcile(JOB, Plan((PlannedItem(CLIP, Fraction(5)),)), []).record
    assert record is not None and record.cost_settled is None


# --- sizes


def together(*entries: Entry) -> list[Gap]:
    return [gap for gap in gaps(*entries) if "together" in gap.text]


def test_two_sizes_counted_as_one_item_are_told() -> None:
    [gap] = together(
        stock("delivered", 9, size="1x8"), stock("used", 3, size="1x6"), stock("used", 2)
    )
    assert gap.text == "panel: sizes 1x6 and 1x8 are counted together"
    assert (gap.settled_by, gap.entries, gap.contradiction) == ("decision", (1, 2), False)


def test_two_lengths_counted_as_one_item_are_told() -> None:
    [gap] = together(
        stock("delivered", 9, length=Fraction(144)), stock("used", 3, length=Fraction(120))
    )
    assert gap.text == "panel: lengths 10' and 12' are counted together"


def test_one_size_and_another_that_is_only_needed_are_no_gap() -> None:
    told = stock("delivered", 9, size="1x8"), stock("used", 3, size="1x8")
    assert together(*told, stock("needed", 2, size="1x6")) == []
