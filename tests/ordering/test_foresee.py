"""Allowances and hours that earlier jobs teach, in an order and in a plan."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog, with_item, with_task
from joblog.form import to_json
from joblog.model import Amount, History, Item, OrderCosts, PastUse, PastWork, Plan, Run, Task
from joblog.ordering.foresee import Foreseen, Need, foresee
from joblog.ordering.needs import cut_from, needs_of, needs_of_plan, work_of
from joblog.ordering.order import order
from joblog.ordering.planned import planned
from joblog.ordering.wishes import stakes_in_words, stakes_of
from joblog.rates import learn
from joblog.takeoff.take_off import take_off

FASCIA = Item("fascia", "stick", pack=Fraction(10), pack_name="box", unit_cost=Decimal("14.90"))
CATALOG = with_item(starter_catalog(), Item("fascia", "stick", stock_length=Fraction(144)))
SIZES = (("length", Amount(Fraction(41), "ft")), ("depth", Amount(Fraction(12), "in")))
TWO_EAVES, _ = take_off([Run("boxed eave", place, SIZES) for place in ("north", "south")], CATALOG)
CUT = cut_from(TWO_EAVES, CATALOG)
NEEDS = needs_of(TWO_EAVES, CATALOG, CUT)
WORK = work_of(TWO_EAVES, CATALOG)

# Invented jobs, one a week: fascia wastes 6 to 10 %, hanging soffit takes a sixth of an hour a ft.
PAST = History(
    tuple(
        PastUse(
            f"job {n}", date(2026, 1, 5) + timedelta(weeks=n), "fascia", Fraction(38),
            40 * (1 + Fraction(6 + n % 5, 100)), Fraction(2),
        )
        for n in range(12)
    ),
    tuple(
        PastWork(
            f"job {n}", date(2026, 1, 5) + timedelta(weeks=n), "hang soffit", Fraction(120),
            Fraction(19 + n % 3),
        )
        for n in range(12)
    ),
)  # fmt: skip
LEARNED = learn(PAST)
NO_JOBS = learn(History())
FORESEEN = foresee(NEEDS, WORK, LEARNED)

NUMBERS = st.fractions(Fraction(1, 8), 400, max_denominator=16)
PACKS = st.fractions(Fraction(1, 4), 50, max_denominator=4)
RISKS = st.floats(0.01, 0.99)
ONE_TRIP = OrderCosts(Decimal(60), Decimal(8), once=True)


@settings(max_examples=60)
@given(NUMBERS, st.fractions(0, 20, max_denominator=16), PACKS, NUMBERS, RISKS)
def test_the_identities_of_a_learned_line_hold_exactly(
    net: Fraction, offcut: Fraction, pack: Fraction, on_hand: Fraction, risk: float
) -> None:
    need = Need(Item("fascia", "stick", pack=pack), net, net + offcut)
    foreseen = foresee([need], {}, LEARNED)
    [line] = order([need], {"fascia": on_hand}, foreseen=foreseen, risk=risk).lines
    assert line.net == net
    assert line.gross == net + offcut
    assert line.allowance == line.rate * line.gross
    assert line.needed == line.gross + line.allowance
    assert line.bought == line.packs * pack
    assert line.packs == max(0, ceil((line.needed - on_hand) / pack))
    assert line.allowance >= 0
    assert line.chance_short is not None
    assert line.chance_short <= risk


@settings(max_examples=40)
@given(NUMBERS, PACKS, NUMBERS)
def test_they_hold_too_where_one_trip_brings_what_is_missing(
    net: Fraction, pack: Fraction, on_hand: Fraction
) -> None:
    need = Need(Item("fascia", "stick", pack=pack), net, net)
    foreseen = foresee([need], {}, LEARNED)
    [line] = order([need], {"fascia": on_hand}, foreseen=foreseen, costs=ONE_TRIP).lines
    assert line.needed == line.gross + line.allowance
    assert line.packs == max(0, ceil((line.needed - on_hand) / pack))


def test_a_learned_line_says_where_its_allowance_came_from_and_what_it_risks() -> None:
    line = next(line for line in order(NEEDS, foreseen=FORESEEN).lines if line.item == "fascia")
    assert line.jobs == 12
    assert line.source.startswith("12 jobs; ")
    assert line.source.endswith("%")
    assert line.interval is not None
    assert line.interval.low < line.needed < line.bought + line.on_hand
    assert line.chance_short is not None
    assert line.left_over is not None
    assert 0 <= line.chance_short <= 0.10


def test_an_item_of_no_job_says_that_its_allowance_is_the_prior() -> None:
    [line] = order(NEEDS[:1], foreseen=foresee(NEEDS[:1], {}, NO_JOBS)).lines
    assert line.source.startswith("a rule of thumb; no job of it yet; ")
    assert line.jobs == 0


def test_without_learning_the_source_is_the_usual_allowance_or_what_was_said() -> None:
    usual, said = order(NEEDS[:2], allowance={NEEDS[1].item.name: Fraction(7, 100)}).lines
    assert (usual.source, said.source) == ("5 % usual", "7 % as said")
    assert (usual.jobs, usual.chance_short) == (None, None)


def test_what_a_person_says_of_one_item_goes_before_what_was_learned() -> None:
    lines = order(NEEDS, allowance={"fascia": Fraction(0)}, foreseen=FORESEEN).lines
    fascia = next(line for line in lines if line.item == "fascia")
    assert (fascia.needed, fascia.source) == (Fraction(7), "0 % as said")


def test_a_smaller_risk_asks_for_more() -> None:
    careful, bold = (order(NEEDS, foreseen=FORESEEN, risk=risk).lines for risk in (0.02, 0.4))
    assert [a.needed > b.needed for a, b in zip(careful, bold, strict=True)] == [True] * len(NEEDS)


def test_what_is_on_hand_is_not_bought_again() -> None:
    need = Need(FASCIA, Fraction(38), Fraction(40))
    foreseen = foresee([need], {}, LEARNED)
    [line] = order([need], {"fascia": Fraction(30)}, foreseen=foreseen).lines
    assert line.packs == 2
    assert line.cost == Decimal("298.00")


def test_offcuts_that_the_cut_list_forces_are_not_learned_as_waste() -> None:
    # The same 40 sticks, of which none, or 10, are offcuts: the allowance is the same.
    plain, forced = (
        Need(FASCIA, Fraction(40), Fraction(40)),
        Need(FASCIA, Fraction(30), Fraction(40)),
    )
    [one], [other] = (order([n], foreseen=foresee([n], {}, LEARNED)).lines for n in (plain, forced))
    assert one.allowance == other.allowance


def test_a_plan_that_does_not_part_its_quantity_gets_the_rate_that_stands_for_both() -> None:
    parted, whole = Need(FASCIA, Fraction(40), Fraction(40)), Need(FASCIA, None, Fraction(40))
    [one], [other] = (order([n], foreseen=foresee([n], {}, LEARNED)).lines for n in (parted, whole))
    assert other.allowance > one.allowance
    assert "cutoffs not told apart" in other.source


def test_a_need_of_nothing_stays_nothing() -> None:
    need = Need(FASCIA, Fraction(0), Fraction(0))
    foreseen = foresee([need], {}, LEARNED)
    [line] = order([need], foreseen=foreseen).lines
    assert not foreseen.items
    assert (line.needed, line.rate) == (Fraction(0), Fraction(0))
    assert line.packs == 0


# --- the plan ---------------------------------------------------------------------------------


def test_a_learned_plan_is_net_offcut_and_the_expected_allowance_exactly() -> None:
    plan = planned(TWO_EAVES, CATALOG, Plan(), CUT, FORESEEN)
    fascia = next(line for line in plan.items if line.item.name == "fascia")
    allowance = fascia.quantity - (fascia.net or 0) - fascia.offcut
    assert fascia.net == Fraction(41, 6)
    assert fascia.offcut == Fraction(1, 6)
    # Rounded up to a thousandth of the seven sticks.
    assert (allowance / Fraction(7, 1000)).denominator == 1
    assert float(7 + allowance) == pytest.approx(FORESEEN.items["fascia"].mean, abs=0.007)
    assert fascia.source.startswith("12 jobs; ")


def test_a_learned_plan_takes_the_expected_hours_and_shows_their_interval() -> None:
    hang = planned(TWO_EAVES, CATALOG, Plan(), CUT, FORESEEN).tasks[0]
    assert hang.quantity == 82
    # A sixth of an hour for each of 82 ft; invented above.
    assert float(hang.hours) == pytest.approx(82 / 6, rel=0.1)
    assert float(hang.hours) == pytest.approx(FORESEEN.tasks["hang soffit"].mean, abs=0.005)
    assert hang.source.startswith("12 jobs; ")
    assert hang.source.endswith(" man-hours")


def test_a_task_of_no_job_keeps_the_hours_of_the_catalog_and_says_so() -> None:
    wrap = planned(TWO_EAVES, CATALOG, Plan(), CUT, FORESEEN).tasks[1]
    assert wrap.hours == Fraction(82, 15)
    assert wrap.source.startswith("the plan's own hours; no job of this task yet; ")


def test_a_task_without_a_rate_is_planned_by_the_jobs_that_had_it() -> None:
    catalog = with_task(CATALOG, Task("hang soffit", (), "ft"))
    found, _ = take_off([Run("boxed eave", "north", SIZES)], catalog)
    foreseen = foresee((), work_of(found, catalog), LEARNED)
    told = planned(found, catalog, Plan(), None, foreseen).tasks
    silent = planned(found, catalog, Plan()).tasks
    assert [line.task.name for line in told] == ["hang soffit", "wrap fascia"]
    assert [line.task.name for line in silent] == ["wrap fascia"]


def test_an_order_for_a_learned_plan_does_not_allow_twice() -> None:
    plan = planned(TWO_EAVES, CATALOG, Plan(), CUT, FORESEEN)
    lines = order(needs_of_plan(plan, CATALOG)).lines
    assert [line.needed for line in lines] == [line.quantity for line in plan.items]
    assert lines[0].source.startswith("the plan: ")


def test_an_order_for_a_learned_plan_may_be_made_at_a_risk() -> None:
    plan = planned(TWO_EAVES, CATALOG, Plan(), CUT, FORESEEN)
    needs = needs_of_plan(plan, CATALOG)
    again = order(needs, foreseen=foresee(needs, {}, LEARNED), risk=0.05).lines
    assert again == order(NEEDS, foreseen=FORESEEN, risk=0.05).lines


def test_nothing_foreseen_changes_nothing() -> None:
    plain = planned(TWO_EAVES, CATALOG, Plan(), CUT)
    assert planned(TWO_EAVES, CATALOG, Plan(), CUT, Foreseen()) == plain


def test_every_order_line_goes_out_as_json() -> None:
    shown = json.loads(json.dumps(to_json(order(NEEDS, foreseen=FORESEEN).lines)))
    assert {"source", "jobs", "interval", "chance_short", "left_over"} <= set(shown[0])
    assert set(shown[0]["interval"]) == {"level", "low", "high"}


# --- the risk, as a person says it ------------------------------------------------------------


def test_a_risk_is_said_in_percent() -> None:
    assert stakes_of("5%", None, None, None) == (0.05, None)


def test_a_trip_brings_all_and_missing_packs_are_paid_one_by_one() -> None:
    assert stakes_of(None, "60", None, "8")[1] == ONE_TRIP
    assert stakes_of(None, None, "$60", "8")[1] == OrderCosts(Decimal(60), Decimal(8))


@pytest.mark.parametrize(
    ("said", "why"),
    [
        (("0%", None, None, None), "not between"),
        (("much", None, None, None), "not a number"),
        (("5%", "60", None, "8"), "say one of"),
        ((None, "60", None, None), "say what both cost"),
        ((None, None, None, "8"), "say what both cost"),
        ((None, "0", None, "8"), "must cost something"),
    ],
)
def test_stakes_that_cannot_be_are_refused(
    said: tuple[str | None, str | None, str | None, str | None], why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        stakes_of(*said)


def test_the_stakes_are_told_in_words() -> None:
    assert stakes_in_words(None, None, 0.083) == (
        "ordered so that anything at all is missing on at most 10 % of such jobs (usual; say "
        "--risk for another); with these packs something is on 8.3 %"
    )
    at_cost = stakes_in_words(None, ONE_TRIP, 0.25)
    assert "a trip for all that is missing 60, each pack left over 8; something is" in at_cost
    assert "something is missing on 25 % of such jobs" in at_cost


def test_a_search_that_stopped_early_says_how_far_it_may_be_from_the_best() -> None:
    assert "could save at most 1.2 %" in stakes_in_words(0.1, None, 0.1, 0.012)
    assert "could save" not in stakes_in_words(0.1, None, 0.1, 0.0)


def test_all_that_is_foreseen_is_chosen_together_and_says_the_chance_of_the_whole() -> None:
    made = order(NEEDS, foreseen=FORESEEN, risk=0.2)
    chances = {line.chance_any for line in made.lines}
    own = [line.chance_short or 0.0 for line in made.lines]
    [chance] = chances
    assert chance is not None and max(own) <= chance <= min(0.2, sum(own) + 1e-9)
    assert "anything at all is missing on at most 20 % of such jobs" in made.told[0]


def test_a_line_with_an_allowance_of_its_own_is_told_to_be_outside_of_that_chance() -> None:
    made = order(NEEDS, allowance={"fascia": Fraction(1, 10)}, foreseen=FORESEEN)
    fascia = next(line for line in made.lines if line.item == "fascia")
    assert fascia.chance_any is None
    assert "fascia: not in that chance, for no job taught the extra" in made.told


def test_what_is_counted_one_by_one_has_an_extra_only_where_its_own_jobs_taught_one() -> None:
    unknown = Need(Item("end cap", "each"), Fraction(4), Fraction(4), counted=True)
    known = replace(next(need for need in NEEDS if need.item.name == "fascia"), counted=True)
    caps, fascia = order(
        [unknown, known], foreseen=foresee([unknown, known], {}, LEARNED), risk=0.1
    ).lines
    assert (caps.bought, caps.chance_any) == (4, None)
    assert fascia.allowance > 0


def test_a_plan_of_what_is_counted_one_by_one_has_no_extra_either() -> None:
    sizes = (("length", Amount(Fraction(20), "ft")), ("drop", Amount(Fraction(9), "ft")))
    runs = [Run("gutter run", "north", sizes), Run("gutter run", "south", sizes)]
    found, _ = take_off(runs, starter_catalog())
    needs = needs_of(found, starter_catalog())
    plan = planned(found, starter_catalog(), Plan(), foreseen=foresee(needs, {}, LEARNED))
    caps = next(line for line in plan.items if line.item.name == "end cap")
    hangers = next(line for line in plan.items if line.item.name == "gutter hanger")
    assert (caps.quantity, caps.source) == (4, "")
    assert hangers.quantity > 22


def test_what_has_no_price_is_told_to_be_weighed_like_the_rest() -> None:
    dear = [replace(NEEDS[0], item=replace(NEEDS[0].item, unit_cost=Decimal(9))), *NEEDS[1:]]
    made = order(dear, foreseen=foresee(dear, {}, LEARNED))
    assert any(
        "without a price, a pack was weighed like those of the others" in x for x in made.told
    )
    assert len(order(NEEDS, foreseen=FORESEEN).told) == 1


def test_the_weather_and_the_crew_of_the_job_to_come_count_where_they_mattered() -> None:
    # Cold jobs waste three times as much, two people take half as long again in all; invented.
    told = History(
        tuple(
            replace(
                use,
                consumed=40 * (1 + Fraction(15 if n % 2 else 5, 100)),
                fahrenheit=Fraction(30 if n % 2 else 70),
            )
            for n, use in enumerate(PAST.uses)
        ),
        tuple(
            replace(work, crew_hours=Fraction(27 if n % 2 else 18), crew=2 if n % 2 else 1)
            for n, work in enumerate(PAST.work)
        ),
    )
    learned = learn(told)
    cold, warm = (
        foresee(NEEDS, WORK, learned, fahrenheit=Fraction(at)).items["fascia"] for at in (30, 70)
    )
    two, alone = (foresee(NEEDS, WORK, learned, crew=at).tasks["hang soffit"] for at in (2, 1))
    assert cold.mean > warm.mean
    assert two.mean > 1.2 * alone.mean
