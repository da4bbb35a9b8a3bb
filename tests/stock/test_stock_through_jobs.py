"""What lies where through the lives of several jobs, and what it cost. All of it is invented."""

from fractions import Fraction

from joblog.model import STOCK, Layer, Moved
from joblog.stock import Ledger, cost_of, through_jobs
from tests.stock.told_in_days import day, on


def lying(ledger: Ledger) -> dict[str, tuple[Fraction, Fraction]]:
    """By end, how many lie there and what they cost."""
    return {one.where: (one.quantity, cost_of(one.layers)) for one in ledger.lying}


def consumed(ledger: Ledger) -> dict[str, Fraction]:
    return {job: cost_of(layers) for job, _, layers in ledger.consumed}


def test_what_is_left_of_a_job_lies_in_stock_and_is_what_the_next_one_begins_with() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "delivered", 10, "5.00"),
            on(2, "first", "delivered", 10, "6.00"),
            on(3, "first", "consumed", 13),
            on(4, "first", "ended", 7),
            on(9, "second", "opening", 4),
            on(10, "second", "delivered", 5, "8.00"),
            on(11, "second", "consumed", 6),
        ]
    )
    assert consumed(ledger) == {"first": 50 + 3 * 6, "second": 4 * 6 + 2 * 8}
    assert lying(ledger) == {STOCK: (3, 18), "second": (3, 24)}


def test_what_is_carried_takes_its_cost_and_its_day_along() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "delivered", 4, "5.00"),
            on(2, "first", "delivered", 4, "6.00"),
            on(3, "first", "moved", 6, other="second", entry=7),
        ]
    )
    [moved] = ledger.moved
    assert moved.layers == (
        Layer(Fraction(4), Fraction(5), day(1)),
        Layer(Fraction(2), Fraction(6), day(2)),
    )
    assert lying(ledger) == {"first": (2, 12), "second": (6, 32)}
    assert moved.told == (("first", 7),)


def test_a_transfer_told_from_both_ends_counts_once() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "delivered", 10, "5.00"),
            on(3, "first", "moved", 6, other="second", entry=7),
            on(3, "second", "moved", 6, other="first", into=True, entry=9),
        ]
    )
    [moved] = ledger.moved
    assert moved.told == (("first", 7), ("second", 9))
    assert lying(ledger) == {"first": (4, 20), "second": (6, 30)}


def test_two_transfers_alike_told_from_both_ends_are_two() -> None:
    told = [on(1, "first", "delivered", 10, "5.00")]
    for number in (1, 2):
        told.append(on(3, "first", "moved", 2, other="second", entry=number))
        told.append(on(3, "second", "moved", 2, other="first", into=True, entry=10 + number))
    assert [one.quantity for one in through_jobs(told).moved] == [2, 2]


def test_ends_that_tell_different_numbers_on_a_day_are_asked_about() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "delivered", 20, "5.00"),
            on(3, "first", "moved", 6, other="second", entry=7),
            on(3, "second", "moved", 5, other="first", into=True, entry=9),
        ]
    )
    [(one, other)] = ledger.twice
    assert {one.entry, other.entry} == {7, 9}
    assert [(moved.quantity, moved.unlike) for moved in ledger.moved] == [(6, 5), (5, 6)]


def test_what_goes_back_to_the_supplier_is_the_newest_of_that_job() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "delivered", 4, "5.00"),
            on(2, "first", "delivered", 4, "6.00"),
            on(3, "first", "returned", 5),
        ]
    )
    [(_, _, layers)] = ledger.returned
    assert cost_of(layers) == 4 * 6 + 5
    assert lying(ledger) == {"first": (3, 15)}


def test_what_was_used_before_its_delivery_was_told_costs_what_then_came() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "consumed", 3),
            on(1, "first", "moved", 2, other="second", entry=1),
            on(2, "first", "delivered", 10, "5.00"),
            on(3, "second", "consumed", 2),
        ]
    )
    assert consumed(ledger) == {"first": 15, "second": 10}
    assert lying(ledger) == {"first": (5, 25)}


def test_what_stock_never_got_was_there_before_and_has_no_price() -> None:
    ledger = through_jobs([on(1, "first", "opening", 4), on(2, "first", "consumed", 1)])
    [opening] = ledger.moved
    assert opening.opening
    assert opening.layers == (Layer(Fraction(4), None),)
    assert [one.quantity for one in ledger.found] == [4]
    [(_, _, layers)] = ledger.consumed
    assert layers == (Layer(Fraction(1), None),)


def test_what_is_carried_in_a_circle_and_never_bought_has_no_price() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "moved", 2, other="second", entry=1),
            on(2, "second", "moved", 2, other="first", entry=2),
        ]
    )
    assert all(layer.each is None for one in ledger.moved for layer in one.layers)


def test_more_left_than_came_has_no_price_for_what_never_came() -> None:
    ledger = through_jobs(
        [
            on(1, "first", "delivered", 4, "5.00"),
            on(2, "first", "consumed", 3),
            on(3, "first", "ended", 6),
        ]
    )
    assert consumed(ledger) == {}
    assert lying(ledger) == {STOCK: (6, 20)}


def test_a_thousand_jobs_one_after_the_other_hand_on_their_layers() -> None:
    told = [on(1, "job 0", "delivered", 1000, "5.00")]
    for number in range(1000):
        job = f"job {number}"
        if number:
            told.append(on(2 * number + 1, job, "opening", 1000 - number))
        told.append(on(2 * number + 1, job, "consumed", 1))
        told.append(on(2 * number + 2, job, "ended", 999 - number))
    ledger = through_jobs(told)
    assert sum(consumed(ledger).values()) == 5000
    assert ledger.lying == ()


def test_a_moved_noun_holds_what_its_layers_add_up_to() -> None:
    moved = through_jobs([on(1, "first", "moved", 3, other=STOCK, into=True, entry=1)]).moved[0]
    assert isinstance(moved, Moved)
    assert sum(layer.quantity for layer in moved.layers) == moved.quantity
