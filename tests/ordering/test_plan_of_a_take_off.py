"""A plan made of a take-off keeps apart what the work measures and what its cuts force."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog, with_item, with_task
from joblog.model import Amount, Item, Plan, Run, Task
from joblog.ordering.needs import cut_from, needs_of_plan, work_of
from joblog.ordering.order import order
from joblog.ordering.planned import planned
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import read_works

CATALOG = with_item(starter_catalog(), Item("fascia", "stick", stock_length=Fraction(144)))
NOTHING = Plan()


def eave(length: int, place: str = "north") -> Run:
    sizes = (("length", Amount(Fraction(length), "ft")), ("depth", Amount(Fraction(12), "in")))
    return Run("boxed eave", place, sizes)


@given(st.lists(st.integers(1, 200), min_size=1, max_size=4))
def test_every_quantity_is_net_and_offcut_exactly(lengths: list[int]) -> None:
    found, _ = take_off([eave(length) for length in lengths], CATALOG)
    plan = planned(found, CATALOG, NOTHING)
    assert [line.quantity for line in plan.items] == [
        (line.net or 0) + line.offcut for line in plan.items
    ]
    assert min(line.offcut for line in plan.items) >= 0


def test_a_cut_list_knows_the_offcuts_better_than_the_sum_of_the_runs() -> None:
    # Net 82 ft of 12 ft sticks is 6 5/6; laps make it 6 7/8; whole sticks are 7.
    found, _ = take_off([eave(41), eave(41, "south")], CATALOG)
    summed = planned(found, CATALOG, NOTHING)
    cut = planned(found, CATALOG, NOTHING, cut_from(found, CATALOG))
    fascia = [next(x for x in plan.items if x.item.name == "fascia") for plan in (summed, cut)]
    assert [line.net for line in fascia] == [Fraction(41, 6)] * 2
    assert [line.offcut for line in fascia] == [Fraction(1, 24), Fraction(1, 6)]


def test_the_quantity_of_a_task_is_summed_over_its_runs() -> None:
    # 82 ft at 8 ft an hour; the catalog's rate.
    found, _ = take_off([eave(41), eave(41, "south")], CATALOG)
    hang = planned(found, CATALOG, NOTHING).tasks[0]
    assert (hang.task.name, hang.quantity, hang.hours) == (
        "hang soffit",
        Fraction(82),
        Fraction(41, 4),
    )
    assert hang.source == "catalog: 8 ft an hour"


def test_a_task_measured_in_another_unit_is_converted_before_it_is_summed() -> None:
    catalog = with_task(CATALOG, Task("hang soffit", (), "in", Fraction(96)))
    found, _ = take_off([eave(41)], catalog)
    assert planned(found, catalog, NOTHING).tasks[0].quantity == 41 * 12


def test_a_task_without_a_rate_has_a_quantity_but_no_hours() -> None:
    works, _ = read_works(
        "[post.takes]\nposts = {}\n[[post.labor]]\ntask = 'set posts'\nquantity = 'posts'\n"
    )
    found, _ = take_off([Run("post", "yard", (("posts", Amount(Fraction(3))),))], CATALOG, works)
    assert work_of(found, CATALOG) == {Task("set posts"): 3}
    assert planned(found, CATALOG, NOTHING).tasks == ()


def test_an_order_for_such_a_plan_shows_its_net_and_offcuts() -> None:
    found, _ = take_off([eave(41), eave(41, "south")], CATALOG)
    plan = planned(found, CATALOG, NOTHING, cut_from(found, CATALOG))
    lines = {line.item: line for line in order(needs_of_plan(plan, CATALOG)).lines}
    fascia = lines["fascia"]
    assert (fascia.net, fascia.gross) == (Fraction(41, 6), Fraction(7))
    assert (fascia.rate, fascia.source) == (Fraction(1, 20), "5 % usual")
