"""Extras, money spent and miles over the whole job."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction

from evening import JOB, SIZE, screen_text

from joblog.book import Book, decisions
from joblog.model import Entry, Reading
from joblog_tui.app import ReviewApp
from joblog_tui.entry import EntryScreen


def _tell(book: Book, day: int, entry: Entry) -> None:
    at = datetime(2026, 10, day, 20, tzinfo=UTC)
    decisions.add_typed(book, JOB, Reading((entry,)), "typed", at)


async def test_extras_of_all_days_with_their_sums(app: ReviewApp, book: Book) -> None:
    _tell(book, 5, Entry("extra", note="wrap the porch beam", price=Decimal("140.00")))
    _tell(book, 6, Entry("extra", note="hang a gutter"))
    _tell(book, 6, Entry("drive", miles=Fraction(23)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "x")
        await pilot.pause()
        shown = screen_text(app)
        assert "2 extras to charge" in shown
        assert "1 without a price" in shown
        [beam] = [line for line in shown.splitlines() if "wrap the porch beam" in line][:1]
        assert "140.00" in beam
        assert "23 miles" in shown


async def test_enter_opens_the_entry(app: ReviewApp, book: Book) -> None:
    _tell(book, 5, Entry("extra", note="wrap the porch beam", price=Decimal("140.00")))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "x", "enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
        assert "wrap the porch beam" in screen_text(app)


async def test_a_job_without_any_says_so(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "x")
        await pilot.pause()
        assert "No extra work, money spent or driving was said." in screen_text(app)
        assert "open it" not in screen_text(app)
