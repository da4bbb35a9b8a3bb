"""The order: what is needed and not there, with an allowance, in whole packs, at its cost."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog, with_item, with_task
from joblog.model import (
    Amount,
    Item,
    Plan,
    PlannedItem,
    PlannedTask,
    Reconciliation,
    Run,
    StockLine,
    Task,
)
from joblog.ordering.foresee import Need
from joblog.ordering.needs import cut_from, needs_of, needs_of_plan, still_needed
from joblog.ordering.order import order
from joblog.ordering.planned import planned
from joblog.ordering.wishes import counts_of, shares_of
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import read_works

FASCIA = Item("fascia", "stick", pack=Fraction(10), pack_name="box", unit_cost=Decimal("14.90"))
CATALOG = with_item(starter_catalog(), Item("fascia", "stick", stock_length=Fraction(144)))
SIZES = (("length", Amount(Fraction(41), "ft")), ("depth", Amount(Fraction(12), "in")))
TWO_EAVES, _ = take_off([Run("boxed eave", place, SIZES) for place in ("north", "south")], CATALOG)


def stock(item: str, **more: object) -> StockLine:
    zero = Fraction(0)
    numbers = dict.fromkeys(
        ("opening", "delivered", "returned", "placed", "spoiled", "offcut", "at_least", "at_most"),
        zero,
    )
    unknown = dict.fromkeys(("planned", "on_hand", "consumed", "unaccounted"))
    return StockLine(item, "stick", **{**numbers, **unknown, **more})  # type: ignore[arg-type]


def test_an_order_adds_the_allowance_deducts_what_is_there_and_rounds_up_to_packs_last() -> None:
    # Gross 12 + 5 % is 12.6; 2 are there; 10.6 take two boxes of ten: 20 at 14.90.
    [line] = order([Need(FASCIA, Fraction(11), Fraction(12))], {"fascia": Fraction(2)}).lines
    assert (line.allowance, line.needed) == (Fraction(3, 5), Fraction(63, 5))
    assert (line.packs, line.bought, line.cost) == (2, 20, Decimal("298.00"))
    assert (line.net, line.gross) == (11, 12)


def test_an_allowance_may_be_given_for_one_item() -> None:
    lines = order(
        [Need(FASCIA, None, Fraction(10)), Need(Item("felt", "roll"), None, Fraction(10))],
        allowance={"fascia": Fraction(1, 10)},
        usual_allowance=Fraction(0),
    ).lines
    assert [line.needed for line in lines] == [11, 10]


def test_no_allowance_buys_a_fifth_end_cap() -> None:
    caps = Need(Item("end cap", "each", counted=True), Fraction(4), Fraction(4), counted=True)
    lines = order([caps], usual_allowance=Fraction(1, 10)).lines
    assert (lines[0].bought, lines[0].source) == (4, "counted one by one, so no extra")
    assert order([caps], allowance={"end cap": Fraction(1, 4)}).lines[0].bought == 5


def test_enough_on_hand_buys_nothing() -> None:
    [line] = order([Need(FASCIA, None, Fraction(3))], {"fascia": Fraction(30)}).lines
    assert (line.packs, line.bought, line.cost) == (0, 0, Decimal("0.00"))


def test_without_a_price_the_cost_is_not_known() -> None:
    [line] = order([Need(Item("felt", "roll"), None, Fraction(1))]).lines
    assert line.cost is None


@pytest.mark.parametrize(
    ("on_hand", "allowance"), [({"fascia": Fraction(-1)}, {}), ({}, {"fascia": Fraction(-1)})]
)
def test_less_than_nothing_is_refused(
    on_hand: dict[str, Fraction], allowance: dict[str, Fraction]
) -> None:
    with pytest.raises(ValueError, match="below zero"):
        order([Need(FASCIA, None, Fraction(3))], on_hand, allowance)


def test_needs_are_summed_by_item_before_anything_is_rounded() -> None:
    # Each eave takes 3 7/16 sticks of fascia; together 6 7/8, not twice 4.
    needs = {need.item.name: need for need in needs_of(TWO_EAVES, CATALOG)}
    assert needs["fascia"].gross == Fraction(55, 8)
    assert order([needs["fascia"]], usual_allowance=Fraction(0)).lines[0].bought == 7


def test_pieces_are_counted_by_the_stock_that_they_are_cut_from() -> None:
    # Two posts of 64 in do not come out of one 96 in stick: three of them take three sticks, though
    # together they are as long as two.
    works, _ = read_works(
        "[post.takes]\nposts = {}\n[[post.uses]]\nitem = 'two by four'\n"
        "pieces = 'posts'\npiece = '64 * inch'\n"
    )
    found, _ = take_off([Run("post", "porch", (("posts", Amount(Fraction(3))),))], CATALOG, works)
    assert cut_from(found, CATALOG) == {"two by four": 3}
    [need] = needs_of(found, CATALOG, cut_from(found, CATALOG))
    assert (need.net, need.gross) == (2, 3)


def test_an_item_that_is_used_without_pieces_too_is_not_counted_by_its_pieces() -> None:
    found, _ = take_off([Run("boxed eave", "north", SIZES)], CATALOG)
    loose = replace(found.lines[2], net=Fraction(9), gross=Fraction(9))
    assert "fascia" not in cut_from(replace(found, lines=(*found.lines, loose)), CATALOG)


def test_a_plan_is_ordered_with_the_packs_of_the_catalog_and_its_own_prices() -> None:
    plan = Plan((PlannedItem(Item("fascia", "stick"), Fraction(7), Decimal("15.00")),))
    [line] = order(
        needs_of_plan(plan, with_item(CATALOG, FASCIA)), usual_allowance=Fraction(0)
    ).lines
    assert (line.net, line.packs, line.cost) == (None, 1, Decimal("150.00"))


def test_a_take_off_becomes_the_plan_and_leaves_what_it_does_not_speak_of() -> None:
    wrap = PlannedItem(Item("house wrap", "roll"), Fraction(1), Decimal("118.00"))
    old = PlannedItem(Item("fascia", "stick", ("board",)), Fraction(7), Decimal("15"), Fraction(2))
    dig = PlannedTask(Task("dig"), Fraction(3))
    plan = planned(TWO_EAVES, CATALOG, Plan((wrap, old), (dig,), ("yard",)))
    assert plan.items[0] == wrap
    assert plan.items[1] == PlannedItem(
        Item("fascia", "stick", ("board",)), Fraction(55, 8), Decimal("15"), Fraction(2),
        net=Fraction(82, 12), offcut=Fraction(1, 24), task="wrap fascia",
    )  # fmt: skip
    assert plan.tasks[0] == dig
    assert [(line.task.name, line.hours) for line in plan.tasks[1:]] == [
        ("hang soffit", Fraction(82, 8)),
        ("wrap fascia", Fraction(82, 15)),
    ]
    assert plan.places == ("yard", "north", "south")


def test_an_item_of_two_kinds_of_work_goes_up_with_neither() -> None:
    ceiling = (("length", Amount(Fraction(20), "ft")), ("width", Amount(Fraction(6), "ft")))
    found, problems = take_off(
        [Run("boxed eave", "north", SIZES), Run("porch ceiling", "porch", ceiling)], CATALOG
    )
    assert problems == ()
    plan = planned(found, CATALOG, Plan())
    tasks = {line.item.name: line.task for line in plan.items}
    assert (tasks["soffit panel"], tasks["fascia"]) == ("", "wrap fascia")


def test_a_task_that_a_person_named_stays_where_the_kind_of_work_names_none() -> None:
    bare = replace(TWO_EAVES, lines=tuple(replace(line, task="") for line in TWO_EAVES.lines))
    before = PlannedItem(Item("fascia", "stick"), Fraction(7), task="wrap fascia")
    plan = planned(bare, CATALOG, Plan((before,)))
    tasks = {line.item.name: line.task for line in plan.items}
    assert (tasks["fascia"], tasks["soffit panel"]) == ("wrap fascia", "")


def test_hours_of_a_take_off_cost_what_the_catalog_says_an_hour_costs() -> None:
    task = Task("wrap fascia", (), "ft", Fraction(10), 1, Decimal("48.00"))
    catalog = with_task(CATALOG, task)
    found, _ = take_off([Run("boxed eave", "north", SIZES)], catalog)
    plan = planned(found, catalog, Plan())
    assert plan.tasks[1] == PlannedTask(
        task, Fraction(41, 10), Decimal("48.00"), Fraction(41), "catalog: 10 ft an hour"
    )


def test_an_item_that_the_plan_counts_otherwise_is_refused() -> None:
    before = Plan((PlannedItem(Item("fascia", "ft"), Fraction(41)),))
    with pytest.raises(ValueError, match="fascia is planned in ft, but the catalog counts it in"):
        planned(TWO_EAVES, CATALOG, before)


def test_what_is_still_needed_is_what_is_not_installed_yet_less_what_is_on_hand() -> None:
    # Ten planned for eight of work: a quarter of the work is left, so a quarter of all of it.
    plan = Plan(
        tuple(
            PlannedItem(Item(name, "stick"), Fraction(10), None, opening, Fraction(8), Fraction(1))
            for name, opening in (("counted", Fraction(0)), ("untouched", Fraction(2)))
        )
    )
    counted = stock(
        "counted", on_hand=Fraction(1), placed=Fraction(6), delivered=Fraction(8), entries=(1,)
    )
    untouched = stock("untouched", opening=Fraction(2), at_most=Fraction(2))
    still = still_needed(plan, CATALOG, Reconciliation("porch", (counted, untouched)))
    assert [(need.net, need.gross, need.allowance) for need in still.needs] == [
        (2, Fraction(9, 4), Fraction(1, 4)),
        (8, 9, 1),
    ]
    assert still.on_hand == {"counted": 1, "untouched": 2}
    assert still.why["counted"] == ("the plan of porch: 10 sticks planned, 6 installed, 1 on hand")
    assert (still.why["untouched"], still.notes) == ("the plan of porch", ())


def test_work_that_took_more_than_planned_is_not_further_for_it() -> None:
    # Half of the work is done, with seven of the ten that all of it should take.
    plan = Plan((PlannedItem(Item("fascia", "stick"), Fraction(10)),))
    told = stock(
        "fascia", delivered=Fraction(10), placed=Fraction(7), on_hand=Fraction(3),
        allowed=Fraction(5), allowed_by="20 of 40 ft done", entries=(1,),
    )  # fmt: skip
    still = still_needed(plan, CATALOG, Reconciliation("porch", (told,)))
    assert (still.needs[0].gross, still.on_hand["fascia"]) == (5, 3)


def test_what_was_used_and_not_told_changes_nothing_of_what_is_still_needed() -> None:
    # Seven planned and nine came, of which two were spoiled: nothing is short, told or not.
    plan = Plan((PlannedItem(Item("fascia", "stick"), Fraction(7)),))
    for installed in (0, 3, 7):
        told = stock(
            "fascia", delivered=Fraction(9), at_most=Fraction(9), spoiled=Fraction(2),
            placed=Fraction(installed), entries=(1,),
        )  # fmt: skip
        still = still_needed(plan, CATALOG, Reconciliation("porch", (told,)))
        assert still.needs[0].gross - still.on_hand["fascia"] == 0
        assert still.notes[0].startswith("fascia: nobody counted what is left; by what was told")


def test_allowances_are_said_in_percent() -> None:
    shares = shares_of(["7%", "Fascia = 10"])
    assert (shares.usual, shares.items) == (Fraction(7, 100), {"fascia": Fraction(1, 10)})


@pytest.mark.parametrize("text", ["much", "-5%", "fascia=500%"])
def test_what_is_no_percentage_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"not a number|between 0 and 100%"):
        shares_of([text])


def test_counts_are_said_by_item() -> None:
    assert counts_of(["Soffit Panel=3 1/2"]) == {"soffit panel": Fraction(7, 2)}


@pytest.mark.parametrize("text", ["3", "fascia=-1", "fascia=some"])
def test_what_is_no_count_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"written like|below zero|not a number"):
        counts_of([text])


NUMBERS = st.fractions(0, 1000, max_denominator=144)


@given(
    NUMBERS,
    NUMBERS,
    st.fractions(0, 1, max_denominator=100),
    st.fractions(Fraction(1, 4), 50, max_denominator=4),
)
def test_what_is_bought_covers_what_is_missing_and_no_pack_too_many(
    gross: Fraction, on_hand: Fraction, rate: Fraction, pack: Fraction
) -> None:
    item = Item("x", "each", pack=pack)
    [line] = order([Need(item, None, gross)], {"x": on_hand}, {"x": rate}).lines
    missing = max(Fraction(0), gross + gross * rate - on_hand)
    assert line.bought >= missing
    assert line.packs == 0 or line.bought - pack < missing
