"""What lies in the shop and on jobs, on a screen."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction

from evening import JOB, SIZE, screen_text

from joblog.book import Book, decisions
from joblog.model import STOCK, Entry, Reading
from joblog_tui.app import ReviewApp


def _tell(book: Book, kind: str, quantity: int, **more: object) -> None:
    said = Entry(kind, item="fascia", quantity=Fraction(quantity), unit="stick", **more)  # type: ignore[arg-type]
    at = datetime(2026, 10, 5, 20, tzinfo=UTC)
    decisions.add_typed(book, JOB, Reading((said,)), "typed", at)


def _a_shop(book: Book) -> None:
    _tell(book, "delivered", 10, unit_cost=Decimal("5.00"))
    _tell(book, "moved", 4, to_job=STOCK)


async def test_what_lies_in_stock_stands_first_with_its_layers(app: ReviewApp, book: Book) -> None:
    _a_shop(book)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "k")
        await pilot.pause()
        shown = screen_text(app)
        assert "in stock: the shop, the truck" in shown
        assert "4 sticks at $5.00, bought on Mon, Oct 5, 2026" in shown


async def test_enter_takes_it_to_the_job_on_the_desk(app: ReviewApp, book: Book) -> None:
    _a_shop(book)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "k", "enter")
        await pilot.pause()
        assert "in stock: the shop, the truck" not in screen_text(app)
        [_, moved] = [one.entry for one in book.entries(JOB) if one.entry.kind == "moved"]
        assert (moved.quantity, moved.from_job) == (4, STOCK)
