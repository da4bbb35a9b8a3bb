"""The balance closes, and says what it does not know."""

from dataclasses import replace
from datetime import UTC, datetime, time
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from joblog.model import (
    BookEntry,
    Catalog,
    Entry,
    Item,
    Job,
    Plan,
    PlannedItem,
    PlannedTask,
    StockLine,
    Task,
)
from joblog.reconcile import reconcile
from joblog.reconcile.square_up import stock_told_of

JOB = Job("invented", "America/New_York")
PANEL = Item("panel", "sheet", also=(("bundle", Fraction(4)),))
PLAN = Plan(
    items=(PlannedItem(PANEL, Fraction(10), Decimal("20.00"), Fraction(1)),),
    tasks=(PlannedTask(Task("hang"), Fraction(8), Decimal("50.00")),),
)


def kept(number: int, entry: Entry, *doubts: str, standing: str = "heard") -> BookEntry:
    at = datetime(2026, 10, 5, 12, number % 60, tzinfo=UTC)
    return BookEntry(number, 1, at, entry, doubts, standing, "heard", at, "")  # type: ignore[arg-type]


def stock(kind: str, quantity: object, unit: str = "sheet", **more: object) -> Entry:
    return Entry(kind, item="panel", quantity=Fraction(str(quantity)), unit=unit, **more)  # type: ignore[arg-type]


def line(*entries: BookEntry) -> StockLine:
    return reconcile(JOB, PLAN, entries).stock[0]


KINDS = ("delivered", "returned", "used", "spoiled", "on_hand")
AMOUNTS = st.fractions(min_value=0, max_value=500, max_denominator=16)
LEDGERS = st.lists(st.tuples(st.sampled_from(KINDS), AMOUNTS, st.booleans()), max_size=30)


@given(LEDGERS)
def test_the_balance_closes_exactly_for_any_ledger(
    ledger: list[tuple[str, Fraction, bool]],
) -> None:
    entries = [
        kept(number, stock(kind, amount), *(["doubt"] if doubtful else []))
        for number, (kind, amount, doubtful) in enumerate(ledger)
    ]
    one = line(*entries)
    moved = one.opening + one.delivered - one.returned
    assert moved == one.at_most
    assert one.on_hand is None or moved - one.on_hand == one.consumed
    assert one.consumed is None or (
        one.consumed == one.placed + one.spoiled + one.offcut + (one.unaccounted or 0)
    )


@given(LEDGERS)
def test_every_entry_is_counted_or_left_out_never_both(
    ledger: list[tuple[str, Fraction, bool]],
) -> None:
    entries = [
        kept(number, stock(kind, amount), *(["doubt"] if doubtful else []))
        for number, (kind, amount, doubtful) in enumerate(ledger)
    ]
    one = line(*entries)
    assert sorted(one.entries + one.left_out) == list(range(len(ledger)))


def test_what_nobody_counted_is_unknown_and_has_a_range() -> None:
    one = line(kept(1, stock("delivered", 9)), kept(2, stock("used", 4)))
    assert (one.consumed, one.unaccounted, one.at_least, one.at_most) == (None, None, 4, 10)


def test_a_doubtful_amount_is_never_counted() -> None:
    one = line(kept(1, stock("used", 4), "four or forty?"))
    assert (one.placed, one.left_out) == (0, (1,))


def test_an_accepted_doubt_is_counted() -> None:
    one = line(kept(1, stock("used", 4), "four or forty?", standing="accepted"))
    assert one.placed == 4


def test_a_dropped_entry_is_nowhere() -> None:
    one = line(kept(1, stock("used", 4), standing="dropped"))
    assert (one.placed, one.entries, one.left_out) == (0, (), ())


def test_the_last_count_is_the_one_that_holds() -> None:
    one = line(kept(1, stock("on_hand", 5)), kept(2, stock("on_hand", 1)))
    assert one.on_hand == 1


def test_an_item_told_in_bundles_is_counted_in_its_own_unit() -> None:
    assert line(kept(1, stock("delivered", 2, "bundle"))).delivered == 8


def test_a_unit_that_does_not_fit_is_left_out_not_guessed() -> None:
    one = line(kept(1, stock("used", 2, "gal")))
    assert (one.placed, one.left_out) == (0, (1,))


def test_spoiled_amounts_are_kept_by_reason() -> None:
    one = line(
        kept(1, stock("spoiled", 1, reason="cracked")),
        kept(2, stock("spoiled", 2, reason="cracked")),
    )
    assert one.reasons == (("cracked", 3),)


def test_costs_are_planned_and_really_paid() -> None:
    one = line(
        kept(1, stock("delivered", 9, unit_cost=Decimal("22.00"))), kept(2, stock("on_hand", 0))
    )
    # 10 planned at 20.00; 1 opening, of unknown price, at the plan's; 9 at the price paid of 22.00.
    assert (one.planned_cost, one.actual_cost) == (Decimal("200.00"), Decimal("218.00"))
    assert one.unpriced == 1


def test_more_used_than_ever_came_is_said_in_words() -> None:
    result = reconcile(JOB, PLAN, [kept(1, stock("used", 5))])
    assert any("only 1 ever came" in gap.text for gap in result.gaps)


def test_crew_hours_are_people_times_hours() -> None:
    entry = Entry("labor", hours=Fraction(7), workers=2, task="hang")
    [task] = reconcile(JOB, PLAN, [kept(1, entry)]).tasks
    assert (task.actual, task.actual_cost) == (14, Decimal("700.00"))


def test_a_day_runs_from_start_to_stop_less_breaks() -> None:
    entries = [
        kept(1, Entry("start", time=time(7, 30), workers=2)),
        kept(2, Entry("break", minutes=Fraction(30))),
        kept(3, Entry("stop", time=time(16, 0))),
    ]
    [day] = reconcile(JOB, PLAN, entries).days
    assert day.crew_hours == 16


def test_a_day_without_a_stop_has_no_hours() -> None:
    [day] = reconcile(JOB, PLAN, [kept(1, Entry("start", time=time(7, 30)))]).days
    assert day.crew_hours is None


def test_a_helper_who_comes_later_counts_from_then_on() -> None:
    entries = [
        kept(1, Entry("start", time=time(7, 0))),
        kept(2, Entry("start", time=time(9, 0), workers=2)),
        kept(3, Entry("stop", time=time(12, 0))),
    ]
    [day] = reconcile(JOB, PLAN, entries).days
    assert day.crew_hours == 2 * 1 + 3 * 2


def test_an_afternoon_away_is_not_worked() -> None:
    entries = [
        kept(1, Entry("start", time=time(7, 0))),
        kept(2, Entry("stop", time=time(11, 0))),
        kept(3, Entry("start", time=time(14, 0))),
        kept(4, Entry("stop", time=time(16, 0))),
    ]
    [day] = reconcile(JOB, PLAN, entries).days
    assert day.crew_hours == 6


def test_an_item_of_the_catalog_is_counted_in_its_unit_without_being_planned() -> None:
    own = Catalog((Item("soffit clip", "box"),))
    came = Entry("delivered", item="soffit clip", quantity=Fraction(3), unit="box")
    (found,) = reconcile(JOB, Plan(), [kept(1, came)], own).stock
    assert (found.unit, found.delivered) == ("box", 3)


def test_a_price_without_bounds_in_an_old_book_is_squared_up_to_the_cent() -> None:
    price = Decimal("1" * 31 + ".01")
    plan = Plan(items=(PlannedItem(PANEL, Fraction(10), price),))
    entries = (kept(1, stock("delivered", 9)), kept(2, stock("on_hand", 0)))
    [one] = reconcile(JOB, plan, entries).stock
    assert one.actual_cost == Decimal("9" * 31 + ".09")
    assert one.money is not None and one.money.total == -price


def of(name: str, kind: str, quantity: int, unit: str) -> Entry:
    return Entry(kind, item=name, quantity=Fraction(quantity), unit=unit)  # type: ignore[arg-type]


def test_an_item_that_is_only_needed_is_passed_over_and_the_next_one_counted() -> None:
    entries = [
        kept(1, of("soffit clip", "needed", 2, "box")),
        kept(2, of("plug", "needed", 1, "each")),
        kept(3, of("plug", "delivered", 3, "each")),
    ]
    assert [one.item for one in reconcile(JOB, Plan(), entries).stock] == ["plug"]


def test_an_item_of_the_starter_catalog_is_known_where_no_catalog_is_given() -> None:
    came = kept(1, of("soffit panel", "delivered", 3, "sheet"))
    assert reconcile(JOB, Plan(), [came]).stock[0].delivered == 3
    # With a catalog of his own it is not known, and counted by the piece.
    [line] = reconcile(JOB, Plan(), [came], Catalog()).stock
    assert (line.unit, line.delivered, line.left_out) == ("each", 0, (1,))


def test_planned_items_come_first_and_bare_measures_make_none() -> None:
    bare = Entry("measure", item="board", inches=Fraction(12))
    cut = Entry("measure", item="rail", inches=Fraction(12), pieces=2)
    entries = [kept(1, bare), kept(2, cut), kept(3, of("panel", "used", 1, "sheet"))]
    assert [one.item for one in reconcile(JOB, PLAN, entries).stock] == ["panel", "rail"]


def test_what_waits_is_counted_once_and_what_was_dropped_not_at_all() -> None:
    entries = [
        kept(1, stock("used", 4), "?", "??"),
        kept(2, stock("used", 4), "?", standing="dropped"),
        kept(3, stock("used", 4), "?", standing="accepted"),
    ]
    assert reconcile(JOB, PLAN, entries).open_doubts == 1


def test_a_job_without_priced_items_or_hours_has_no_sums() -> None:
    result = reconcile(JOB, Plan(), [])
    assert (result.material, result.material_of, result.labor) == (None, (), None)
    assert (result.untold_hours, result.parts, result.reasons) == (None, (), ())


@given(LEDGERS, st.integers(0, 2))
def test_the_lines_of_what_was_told_of_are_those_of_the_whole_job(
    told: list[tuple[str, Fraction, bool]], opening: int
) -> None:
    items = tuple(
        PlannedItem(replace(PANEL, name=name), Fraction(10), None, Fraction(begun), task="hang")
        for name, begun in (("nobody's", 0), ("panel", opening), ("lying there", 3), ("other", 0))
    )
    plan = replace(PLAN, items=items)
    entries = [
        kept(number, stock(kind, amount), *(("unsure",) if doubted else ()))
        for number, (kind, amount, doubted) in enumerate(told, 1)
    ]

    whole = reconcile(JOB, plan, entries).stock

    untold = {"nobody's", "other"} | ({"panel"} if not told and not opening else set())
    assert [figures(line) for line in stock_told_of(JOB, plan, entries)] == [
        figures(line) for line in whole if line.item not in untold
    ]


def figures(line: StockLine) -> tuple[object, ...]:
    return (
        line.item,
        line.opening,
        line.on_hand,
        line.placed,
        line.offcut,
        line.unaccounted,
        line.entries,
    )
