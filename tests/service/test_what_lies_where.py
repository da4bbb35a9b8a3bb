"""What lies where, as the service tells it. All of it is invented."""

from __future__ import annotations

from decimal import Decimal

import pytest

from joblog.model import STOCK
from joblog.service import Desk, ServiceError, closing, decide, open_desk, record, stock, taking_in


def told(desk: Desk, *said: str) -> None:
    for line in said:
        taking_in.write_down(desk, line)


def test_what_lies_on_a_job_and_in_stock_is_told_with_its_cost(desk: Desk) -> None:
    told(
        desk,
        "delivered ten sticks of fascia at five dollars each",
        "took three sticks of fascia back to the shop",
    )
    lies = stock.what_lies(desk.book)
    fascia = [one for one in lies.items if one.lying.item == "fascia"]
    assert [(one.lying.where, one.lying.quantity, one.cost) for one in fascia] == [
        (STOCK, 3, Decimal("15.00")),
        (desk.job.name, 7, Decimal("35.00")),
    ]
    assert not fascia[1].lying.counted
    assert fascia[0].since == record.days(desk)[-1]


def test_what_nobody_told_a_price_of_says_so(desk: Desk) -> None:
    told(desk, "delivered four rolls of trim coil")
    [coil] = [one for one in stock.what_lies(desk.book).items if one.lying.item == "trim coil"]
    assert (coil.cost, coil.unpriced) == (None, 4)


def test_what_comes_from_another_job_is_known_here_with_its_cost(desk: Desk) -> None:
    other = open_desk(desk.book, "Mill house")
    told(other, "delivered ten sticks of fascia at five dollars each")
    told(other, f"took six sticks of fascia over to the {desk.job.name} job")
    [moved] = stock.came(desk)
    assert (moved.from_job, moved.to_job, moved.quantity) == ("Mill house", desk.job.name, 6)
    [line] = [one for one in record.read_balance(desk).stock if one.item == "fascia"]
    assert line.moved_in == 6
    assert all(one.kind != "moved" for one in (kept.entry for kept in record.read_entries(desk)))


def test_different_numbers_from_both_ends_are_told(desk: Desk) -> None:
    other = open_desk(desk.book, "Mill house")
    told(
        other,
        "delivered ten sticks of fascia",
        f"took six sticks of fascia to the {desk.job.name} job",
    )
    [six] = [kept for kept in record.read_entries(other) if kept.entry.kind == "moved"]
    taking_in.write_down(desk, "brought five sticks of fascia from the Mill house job", six.at)
    [note] = stock.what_lies(desk.book).notes
    assert "different numbers of fascia" in note
    [gap] = [one for one in record.read_balance(desk).gaps if "two transfers" in one.text]
    assert gap.text.startswith("fascia: 5 sticks told as moved from Mill house, and there 6")


def test_what_is_left_when_a_job_closes_lies_in_stock(desk: Desk) -> None:
    told(
        desk,
        "delivered ten sticks of fascia at five dollars each",
        "used seven sticks of fascia",
        "three sticks of fascia left",
    )
    for one in record.read_entries(desk):
        if one.open:
            decide.drop(desk, one.id)
    closing.close(desk, closing.draft_closing(desk))
    assert stock.in_stock(desk.book)["fascia"] == 3
    assert isinstance(stock.what_lies(desk.book).cost, Decimal)
    assert stock.what_lies(desk.book).items[0].since is not None


def test_a_new_job_is_offered_what_lies_in_stock_and_begins_with_it(desk: Desk) -> None:
    told(desk, "delivered ten sheets of soffit at five dollars each")
    told(desk, "took four sheets of soffit back to the shop")
    new = open_desk(desk.book, "Mill house")
    desk.book.set_plan(new.job.name, desk.plan)
    [lying] = stock.offered(new)
    assert (lying.lying.item, lying.lying.quantity) == ("soffit panel", 4)
    stock.take(new, ["soffit panel"])
    assert [line.opening for line in new.plan.items] == [4]
    assert stock.offered(new) == ()
    assert "soffit panel" not in stock.in_stock(desk.book)
    [began] = stock.came(new)
    assert began.opening
    assert [layer.each for layer in began.layers] == [5]


def test_a_job_that_has_begun_is_brought_what_it_takes(desk: Desk) -> None:
    told(desk, "took four rolls of trim coil back to the shop")
    new = open_desk(desk.book, "Mill house")
    told(new, "delivered one stick of fascia", "used one stick of fascia")
    stock.take(new, ["trim coil"])
    [moved] = [kept.entry for kept in record.read_entries(new) if kept.entry.kind == "moved"]
    assert (moved.item, moved.quantity, moved.from_job) == ("trim coil", 4, STOCK)
    with pytest.raises(ServiceError, match="trim coil: nothing of it lies in stock"):
        stock.take(new, ["trim coil"])
