"""The balance of a job that material is carried to and from. All of it is invented."""

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from typing import cast

from hypothesis import given
from hypothesis import strategies as st

from joblog.model import STOCK, BookEntry, Entry, Kind, Layer, Moved, StockLine
from joblog.reconcile import reconcile, sensed
from joblog.reconcile.wanted import wanted_of
from tests.reconcile.told import BEGIN, JOB, PLAN, book, kept, stock


def line(entries: list[BookEntry], *came: Moved) -> StockLine:
    [found] = reconcile(JOB, PLAN, entries, None, came).stock
    return found


def brought(quantity: int, each: int | None, minutes: int = 2, entry: int = 90) -> Moved:
    """What another job told of having carried here."""
    price = None if each is None else Fraction(each)
    return Moved(
        "panel",
        "sheet",
        Fraction(quantity),
        "other",
        JOB.name,
        BEGIN + timedelta(minutes=minutes),
        (("other", entry),),
        (Layer(Fraction(quantity), price),),
    )


def test_what_is_carried_is_part_of_the_balance() -> None:
    found = line(
        book(
            stock("delivered", 9),
            stock("moved", 6, from_job="other"),
            stock("moved", 2, to_job=STOCK),
            stock("used", 10),
            stock("on_hand", 3),
        )
    )
    assert (found.moved_in, found.moved_out) == (6, 2)
    assert (found.consumed, found.unaccounted) == (11, 1)


def test_what_another_job_told_counts_here_too_and_is_no_entry_of_this_one() -> None:
    found = line(book(stock("delivered", 9), stock("used", 14), stock("on_hand", 2)), brought(6, 5))
    assert (found.moved_in, found.consumed) == (6, 14)
    assert 90 not in found.entries


def test_what_another_job_brought_leaves_no_use_in_doubt() -> None:
    entries = book(stock("delivered", 9), stock("used", 14))
    assert any(one.doubts for one in sensed(JOB, PLAN, entries))
    assert not any(one.doubts for one in sensed(JOB, PLAN, entries, None, [brought(6, 5)]))


def test_what_went_to_another_job_after_the_last_count_was_out_of_what_it_found() -> None:
    found = line(
        [
            kept(1, stock("delivered", 9)),
            kept(2, stock("used", 6)),
            kept(3, stock("on_hand", 4)),
            kept(4, stock("moved", 3, to_job=STOCK), minutes=600),
        ]
    )
    assert (found.on_hand, found.consumed, found.unaccounted) == (1, 6, 0)


def test_what_is_brought_costs_what_it_did_where_it_came_from() -> None:
    # 1 that was there at the plan's 20, 6 brought at 5, 3 of 9 bought at 22.
    found = line(
        book(
            stock("used", 1), stock("delivered", 9, unit_cost=Decimal("22.00")), stock("on_hand", 6)
        ),
        brought(6, 5, minutes=1),
    )
    assert found.actual_cost == Decimal(20 + 6 * 5 + 3 * 22)
    assert found.unpriced == 1


def test_what_a_job_began_with_costs_what_it_did_in_stock() -> None:
    began = Moved(
        "panel", "sheet", Fraction(1), STOCK, JOB.name, BEGIN,
        layers=(Layer(Fraction(1), Fraction(7)),), opening=True,
    )  # fmt: skip
    found = line(
        book(stock("delivered", 9, unit_cost=Decimal("22.00")), stock("on_hand", 9)), began
    )
    assert (found.consumed, found.actual_cost, found.unpriced) == (1, Decimal("7.00"), 0)
    assert found.moved_in == 0


def test_what_goes_to_another_job_is_the_oldest_and_what_goes_back_the_newest() -> None:
    bought = [
        stock("delivered", 4, unit_cost=Decimal("21.00")),
        stock("delivered", 4, unit_cost=Decimal("22.00")),
    ]
    away = line(book(*bought, stock("moved", 4, to_job="other"), stock("on_hand", 1)))
    back = line(book(*bought, stock("returned", 4), stock("on_hand", 1)))
    # The one that was there at the plan's 20 goes first, then three at 21.
    assert away.actual_cost == Decimal(21 + 3 * 22)
    assert back.actual_cost == Decimal(20 + 3 * 21)


def test_more_carried_away_than_ever_came_is_a_contradiction() -> None:
    away = kept(2, stock("moved", 5, to_job="other"), standing="accepted")
    found = reconcile(JOB, PLAN, [kept(1, stock("delivered", 2)), away])
    [gap] = [one for one in found.gaps if one.contradiction]
    assert gap.text == "panel: 5 panels returned or moved out, but only 3 ever came"


def test_what_is_brought_answers_what_was_asked_for() -> None:
    asked = book(stock("needed", 4), stock("moved", 4, from_job=STOCK))
    assert wanted_of(asked[:1], {}) != ()
    assert wanted_of(asked, {}) == ()


TOLD = st.lists(
    st.tuples(
        st.sampled_from(("delivered", "used", "spoiled", "returned", "on_hand", "in", "out")),
        st.fractions(0, 20, max_denominator=8),
        st.none() | st.decimals(0, 99, places=2),
    ),
    max_size=12,
)


@given(TOLD, st.integers(0, 9))
def test_the_balance_closes_whatever_is_carried(
    told: list[tuple[str, Fraction, Decimal | None]], also: int
) -> None:
    found = line(book(*map(entry, told)), brought(also, 5))
    came = found.opening + found.delivered + found.moved_in
    if found.consumed is not None and found.on_hand is not None:
        assert came - found.returned - found.moved_out - found.on_hand == found.consumed
        assert found.unaccounted is not None
        parts = found.placed + found.spoiled + found.offcut + found.unaccounted
        assert parts == found.consumed
    assert found.moved_in >= also


def entry(told: tuple[str, Fraction, Decimal | None]) -> Entry:
    kind, quantity, price = told
    if kind in ("in", "out"):
        ends = {"from_job": "other"} if kind == "in" else {"to_job": "other"}
        return stock("moved", quantity, **ends)
    more = {"unit_cost": price} if kind == "delivered" else {}
    return stock(cast(Kind, kind), quantity, **more)
