"""The bid on the screen: every line, any number changed, and the sums that follow."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from evening import JOB, SIZE, screen_text
from textual.widgets import Input

from joblog.bid.planned import plan_of
from joblog.bid.work_out import work_out
from joblog.book import Book, bids
from joblog.model import Bid
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.bid import BidScreen
from joblog_tui.bid_form import AddToBidScreen, BidFormScreen
from joblog_tui.offer import OfferScreen
from tests.bid.a_basis import basis

TO_BID = ("escape", "g", "b")
SAID = (("overhead", "10%"), ("margin", "20%"))


@pytest.fixture
def book(book: Book) -> Book:
    bid = work_out(JOB, date(2026, 10, 1), basis(), SAID)
    bids.keep_bid(book, bid, plan_of(bid))
    return book


def newest(book: Book) -> Bid:
    kept = bids.newest_bid(book, JOB)
    assert kept is not None
    return kept.bid


def typed(app: ReviewApp, field: str) -> Input:
    [line] = [row.query_one(Input) for row in app.screen.query("FieldRow") if row.field == field]  # type: ignore[attr-defined]
    return line


async def test_every_line_stands_with_its_cost_and_the_price_above(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_BID)
        await pilot.pause()
        assert isinstance(app.screen, BidScreen)
        lines = screen_text(app).splitlines()
        [panel] = [line for line in lines if line.strip(" ▸").startswith("soffit panel ")][:1]
        assert panel.split()[-4:] == ["9", "panels", "31.25", "281.25"]
        # 813.55 and 10 % of it, 81.355 to the even cent; 894.91 / 0.8 is 1,118.6375.
        assert "cost with overhead $894.91" in screen_text(app)
        assert "price $1,118.64" in screen_text(app)


async def test_while_a_number_is_typed_the_price_follows_and_enter_keeps_it(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_BID, "enter")
        await pilot.pause()
        assert isinstance(app.screen, BidFormScreen)
        typed(app, "soffit panel.price").value = "41.25"
        await pilot.pause()
        # Nine panels at ten more: 903.55, and 10 % of it, 90.355 to the even cent.
        assert "cost with overhead $993.91" in screen_text(app)
        assert newest(book).all_cost == Decimal("894.91")
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, BidScreen)
        assert "41.25*" in screen_text(app)
        assert newest(book).all_cost == Decimal("993.91")
        [planned] = [line for line in book.plan(JOB).items if line.item.name == "soffit panel"]
        assert planned.unit_cost == Decimal("41.25")


async def test_what_cannot_be_is_said_beside_its_line_and_nothing_is_kept(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_BID, "enter")
        await pilot.pause()
        typed(app, "soffit panel.price").value = "many"
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, BidFormScreen)
        assert "'many' is not an amount of money" in screen_text(app)
        assert newest(book).said == SAID


async def test_an_emptied_number_is_worked_out_again(app: ReviewApp, book: Book) -> None:
    bid = work_out(JOB, date(2026, 10, 1), basis(), (*SAID, ("soffit panel.price", "99")))
    bids.keep_bid(book, bid, None)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_BID, "enter")
        await pilot.pause()
        typed(app, "soffit panel.price").value = ""
        await pilot.press("enter")
        await pilot.pause()
        assert newest(book).items[0].price == Decimal("31.25")
        assert newest(book).said == SAID


async def test_a_change_is_undone_by_u(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_BID, "enter")
        await pilot.pause()
        typed(app, "soffit panel.price").value = "41.25"
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("u")
        await pilot.pause()
        assert newest(book).all_cost == Decimal("894.91")
        assert "31.25" in screen_text(app)


async def test_an_extra_is_added_and_offered(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_BID, "plus")
        await pilot.pause()
        assert isinstance(app.screen, AddToBidScreen)
        for field, text in (("kind", "extra"), ("name", "gutter guards"), ("money", "450")):
            typed(app, field).value = text
        await pilot.press("enter")
        await pilot.pause()
        assert [(one.name, one.price) for one in newest(book).extras] == [
            ("gutter guards", Decimal("450.00"))
        ]
        await pilot.press("o")
        await pilot.pause()
        assert isinstance(app.screen, OfferScreen)
        shown = screen_text(app)
        assert "gutter guards" in shown
        assert "margin" not in shown
        await pilot.press("w")
        await pilot.pause()
        assert "Written: " in screen_text(app)
        [file] = (book.folder / "papers").iterdir()
        assert file.read_bytes().startswith(b"%PDF")


async def test_without_a_bid_it_says_how_to_have_one_and_b_bids_on_the_plan(book: Book) -> None:
    book._db.execute("INSERT INTO bid_undone SELECT id FROM bid")
    app = ReviewApp(open_desk(book, JOB))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_BID)
        await pilot.pause()
        assert "This job has no bid yet." in screen_text(app)
        await pilot.press("b")
        await pilot.pause()
        assert newest(book).items
        assert "soffit panel" in screen_text(app)


async def test_what_became_of_it_stands_below_the_bid(app: ReviewApp) -> None:
    async with app.run_test(size=(80, 60)) as pilot:
        await pilot.press(*TO_BID, "end")
        await pilot.pause()
        lines = [line.strip(" ▸") for line in screen_text(app).splitlines()]
        assert any(line.startswith("what became of it") for line in lines)
        assert any(line.startswith("left after overhead") for line in lines)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (140, 45)])
async def test_every_line_of_it_fits(app: ReviewApp, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await pilot.press(*TO_BID)
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, BidScreen)
        room = size[0] - 3 if size[0] < 110 else size[0] * 3 // 5 - 3
        for line in screen._shown:
            assert all(len(part) <= room for part in str(line.shown).splitlines())
        await pilot.press("enter")
        await pilot.pause()
        assert "price" in screen_text(app)


async def test_a_bid_without_a_cost_shows_no_price(app: ReviewApp, book: Book) -> None:
    bid = work_out(JOB, date(2026, 10, 2), basis(panel_price=None), SAID)
    bids.keep_bid(book, bid, plan_of(bid))
    async with app.run_test(size=(80, 50)) as pilot:
        await pilot.press(*TO_BID)
        await pilot.pause()
        shown = screen_text(app)
        assert "No bid yet" in shown
        # 13 hours at 40, and 820 nails at 0.015.
        assert "at least 532.30" in shown
        assert f"{bid.price:,.2f}" not in shown
        [price] = [line.split() for line in shown.splitlines() if line.startswith(" price ")]
        assert price == ["price", "?"]
