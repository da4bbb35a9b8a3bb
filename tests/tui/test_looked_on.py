"""While a person decides, a little of the book is looked at, and what is damaged is told."""

from __future__ import annotations

import pytest
from evening import SIZE, screen_text

from joblog.book import Book, seen
from joblog.book.database import Database
from joblog_tui import app as review
from joblog_tui.app import ReviewApp


@pytest.fixture(autouse=True)
def a_book_that_is_meant_to_stay(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(review, "lasts", lambda folder: True)
    monkeypatch.setattr(review, "BEGIN", 0.001)
    monkeypatch.setattr(review, "REST", 0.0)


async def test_what_is_damaged_is_told_and_keys_go_on(app: ReviewApp, book: Book) -> None:
    db = Database(book.folder / "book.sqlite")
    db.execute("UPDATE hearing SET text = 'struck' WHERE utterance = 1 AND ordinal = 0")
    db.close()
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press("escape")
        await pilot.pause(0.01)
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "what was heard in utterance 1" in screen_text(app)
    assert seen.moments(book)


async def test_leaving_ends_it(app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(review, "REST", 3600.0)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("q")
    assert len(set(seen.parts(book)) & set(seen.moments(book))) <= 1
