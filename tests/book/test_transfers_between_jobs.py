"""Several jobs of one book between which material is carried. All of it is invented."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, closed, decisions
from joblog.book.moves import came_to, ledger_of_all
from joblog.model import STOCK, Entry, Item, Job, Plan, PlannedItem, Reading, Reconciliation
from joblog.reconcile import reconcile
from joblog.stock import cost_of

PANEL = Item("soffit panel", "sheet", stock_length=Fraction(144))
FIRST, SECOND = "Mill porch", "Oak Street"
BEGIN = datetime(2026, 10, 5, 14, 0, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as new:
        for name in (FIRST, SECOND):
            new.add_job(Job(name, "America/New_York"))
            plan = Plan((PlannedItem(PANEL, Fraction(10), Decimal("5.00")),))
            new.set_plan(name, plan)
        yield new


def tell(book: Book, job: str, day: int, kind: str, quantity: int, **more: object) -> int:
    said = Entry(
        kind,  # type: ignore[arg-type]
        item="soffit panel",
        quantity=Fraction(quantity),
        unit="sheet",
        **more,  # type: ignore[arg-type]
    )
    at = BEGIN + timedelta(days=day, minutes=len(book.entries(job)))
    [id] = decisions.add_typed(book, job, Reading((said,)), "as written", at)
    return id


def bought(book: Book, job: str, day: int, quantity: int, price: str) -> int:
    return tell(book, job, day, "delivered", quantity, unit_cost=Decimal(price))


def squared(book: Book, job: str) -> Reconciliation:
    came = came_to(book, job)
    noun = book.job(job)
    return reconcile(noun, book.plan(job), book.entries(job), book.catalog(), came)


def close(book: Book, job: str) -> None:
    closed.close_job(book, job, date(2026, 10, 20), squared(book, job))


def lying(book: Book) -> dict[str, tuple[Fraction, Fraction]]:
    return {one.where: (one.quantity, cost_of(one.layers)) for one in ledger_of_all(book).lying}


def test_what_one_job_tells_of_another_is_in_both_balances_with_its_cost(book: Book) -> None:
    bought(book, FIRST, 0, 10, "5.10")
    told = tell(book, FIRST, 1, "moved", 6, to_job=SECOND)
    tell(book, SECOND, 2, "used", 6)
    tell(book, SECOND, 3, "on_hand", 0)
    [first], [second] = squared(book, FIRST).stock, squared(book, SECOND).stock
    assert (first.moved_out, second.moved_in) == (6, 6)
    assert second.actual_cost == Decimal("30.60")
    assert second.unpriced == 0
    assert told in first.entries and told not in second.entries


def test_told_from_both_ends_it_counts_once(book: Book) -> None:
    bought(book, FIRST, 0, 10, "5.10")
    tell(book, FIRST, 1, "moved", 6, to_job=SECOND)
    tell(book, SECOND, 1, "moved", 6, from_job=FIRST)
    [first], [second] = squared(book, FIRST).stock, squared(book, SECOND).stock
    assert (first.moved_out, first.moved_in) == (6, 0)
    assert (second.moved_in, second.moved_out) == (6, 0)
    assert lying(book) == {FIRST: (4, Fraction("20.40")), SECOND: (6, Fraction("30.60"))}


def test_what_is_left_of_a_closed_job_lies_in_stock_and_prices_what_the_next_begins_with(
    book: Book,
) -> None:
    bought(book, FIRST, 0, 6, "4.90")
    bought(book, FIRST, 1, 6, "5.10")
    tell(book, FIRST, 2, "used", 9)
    tell(book, FIRST, 3, "on_hand", 3)
    assert STOCK not in lying(book)
    close(book, FIRST)
    assert lying(book) == {STOCK: (3, Fraction("15.30"))}
    book.set_plan(
        SECOND, Plan((PlannedItem(PANEL, Fraction(10), Decimal("5.00"), opening=Fraction(2)),))
    )
    bought(book, SECOND, 5, 5, "5.20")
    tell(book, SECOND, 6, "used", 4)
    tell(book, SECOND, 7, "on_hand", 3)
    [second] = squared(book, SECOND).stock
    assert second.actual_cost == 2 * Decimal("5.10") + 2 * Decimal("5.20")
    assert second.unpriced == 0
    assert lying(book) == {STOCK: (1, Fraction("5.10")), SECOND: (3, Fraction("15.60"))}


def test_what_is_taken_from_a_job_that_is_closed_comes_from_stock_and_leaves_it_closed(
    book: Book,
) -> None:
    bought(book, FIRST, 0, 10, "5.10")
    tell(book, FIRST, 2, "used", 7)
    tell(book, FIRST, 3, "on_hand", 3)
    close(book, FIRST)
    after = (datetime.now(UTC) - BEGIN).days + 2
    tell(book, SECOND, after, "moved", 2, from_job=FIRST)
    assert closed.closed_jobs(book) == {FIRST}
    [one] = came_to(book, SECOND)
    assert (one.from_job, cost_of(one.layers)) == (STOCK, Fraction("10.20"))
    assert lying(book) == {STOCK: (1, Fraction("5.10")), SECOND: (2, Fraction("10.20"))}


def closed_with_a_transfer(book: Book) -> int:
    """The second job is closed with six panels that the first one told of; their entry."""
    bought(book, FIRST, 0, 10, "5.10")
    told = tell(book, FIRST, 1, "moved", 6, to_job=SECOND)
    tell(book, SECOND, 2, "used", 5)
    tell(book, SECOND, 3, "on_hand", 1)
    close(book, SECOND)
    assert closed.closed_jobs(book) == {SECOND}
    return told


def test_a_job_whose_transfer_is_dropped_where_it_was_told_is_open_again(book: Book) -> None:
    told = closed_with_a_transfer(book)
    decisions.drop(book, told)
    assert closed.closed_jobs(book) == frozenset()
    found = closed.closing(book, SECOND)
    assert found is not None and found.changed == (told,)
    assert found.told_on == ((told, FIRST),)
    [note] = closed.history(book)[1]
    assert note == f"{SECOND}: reopened by entry {told} of {FIRST}; close it again"


def test_a_job_whose_transfer_changes_where_it_was_told_is_open_again(book: Book) -> None:
    told = closed_with_a_transfer(book)
    decisions.edit(book, told, "quantity", Fraction(5))
    found = closed.closing(book, SECOND)
    assert found is not None and found.changed == (told,)


def test_a_job_that_another_tells_later_to_have_brought_something_is_open_again(
    book: Book,
) -> None:
    closed_with_a_transfer(book)
    new = tell(book, FIRST, 4, "moved", 1, to_job=SECOND)
    found = closed.closing(book, SECOND)
    assert found is not None and found.changed == (new,)


def test_a_transfer_between_others_leaves_a_job_closed(book: Book) -> None:
    closed_with_a_transfer(book)
    tell(book, FIRST, 4, "moved", 1, to_job=STOCK)
    assert closed.closed_jobs(book) == {SECOND}


def test_closed_again_it_rests_on_what_is_told_now(book: Book) -> None:
    told = closed_with_a_transfer(book)
    decisions.edit(book, told, "quantity", Fraction(7))
    close(book, SECOND)
    assert closed.closed_jobs(book) == {SECOND}
    found = closed.closing(book, SECOND)
    assert found is not None and found.figures.stock[0].moved_in == 7


def test_all_jobs_and_stock_hold_what_was_bought_to_the_cent(book: Book) -> None:
    bought(book, FIRST, 0, 12, "4.99")
    tell(book, FIRST, 1, "moved", 3, to_job=SECOND)
    tell(book, FIRST, 1, "used", 6)
    tell(book, FIRST, 2, "returned", 1)
    tell(book, FIRST, 3, "on_hand", 1)
    bought(book, SECOND, 4, 8, "5.21")
    tell(book, SECOND, 5, "moved", 2, from_job=STOCK)
    tell(book, SECOND, 6, "used", 9)
    tell(book, SECOND, 7, "on_hand", 4)
    close(book, FIRST)
    close(book, SECOND)
    ledger = ledger_of_all(book, gone=True)
    gone = [layers for _, _, layers in (*ledger.consumed, *ledger.returned)]
    gone += [one.layers for one in ledger.lying]
    assert sum(map(cost_of, gone)) == 12 * Fraction("4.99") + 8 * Fraction("5.21")
    costs = {job: cost_of(layers) for job, _, layers in ledger.consumed}
    for job in (FIRST, SECOND):
        [line] = squared(book, job).stock
        planned = line.unpriced * Fraction(5)
        assert line.actual_cost is not None
        assert Fraction(line.actual_cost) == costs[job] + planned


def test_what_a_job_began_with_left_stock_when_its_own_work_began(book: Book) -> None:
    """Others may have sent something ahead, long before the rest came into stock."""
    bought(book, FIRST, 0, 10, "5.00")
    tell(book, FIRST, 1, "used", 6)
    tell(book, FIRST, 1, "on_hand", 4)
    tell(book, FIRST, 2, "moved", 1, to_job=SECOND)
    close(book, FIRST)
    plan = Plan((PlannedItem(PANEL, Fraction(10), Decimal("9.00"), Fraction(3)),))
    book.set_plan(SECOND, plan)
    tell(book, SECOND, 8, "used", 4)
    tell(book, SECOND, 8, "on_hand", 0)
    [line] = squared(book, SECOND).stock
    # All four were of the ten for $5.00 each; and none of them lies in stock any more.
    assert (line.actual_cost, line.unpriced) == (Decimal("20.00"), 0)
    assert ledger_of_all(book).lying == ()


def test_what_pieces_took_was_gone_before_what_was_left_was_carried_on(book: Book) -> None:
    bought(book, FIRST, 0, 4, "5.00")
    bought(book, FIRST, 1, 2, "6.00")
    # Two of 60 in to a sheet of 144 in: four sheets.
    pieces = Entry("measure", item="soffit panel", inches=Fraction(60), pieces=8)
    decisions.add_typed(book, FIRST, Reading((pieces,)), "as written", BEGIN + timedelta(days=2))
    tell(book, FIRST, 2, "on_hand", 2)
    tell(book, FIRST, 3, "moved", 2, to_job=SECOND)
    [line] = squared(book, FIRST).stock
    assert line.actual_cost == Decimal("20.00")
    [moved] = came_to(book, SECOND)
    assert cost_of(moved.layers) == 12
    close(book, FIRST)
    assert [cost_of(moved.layers) for moved in came_to(book, SECOND)] == [12]


def test_what_a_count_did_not_find_was_gone_before_what_was_left_was_carried_on(
    book: Book,
) -> None:
    bought(book, FIRST, 0, 1, "5.00")
    bought(book, FIRST, 1, 2, "6.00")
    tell(book, FIRST, 2, "on_hand", 2)
    tell(book, FIRST, 3, "moved", 2, to_job=SECOND)
    [line] = squared(book, FIRST).stock
    assert (line.unaccounted, line.actual_cost) == (1, Decimal("5.00"))
    [moved] = came_to(book, SECOND)
    assert cost_of(moved.layers) == 12


def test_an_item_of_which_nothing_is_gone_cost_nothing(book: Book) -> None:
    bought(book, FIRST, 0, 3, "5.00")
    tell(book, FIRST, 1, "moved", 3, to_job=SECOND)
    tell(book, SECOND, 2, "moved", 3, to_job=STOCK)
    tell(book, SECOND, 2, "on_hand", 0)
    [line] = squared(book, SECOND).stock
    assert (line.consumed, line.actual_cost) == (0, Decimal("0.00"))
