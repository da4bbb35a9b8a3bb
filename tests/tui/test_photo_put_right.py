"""A photo whose camera's clock was put right, on the screen."""

from __future__ import annotations

from evening import JOB, MONDAY, SIZE, screen_text
from test_photo import settled

from joblog.book import Book, decisions
from joblog_tui.app import ReviewApp


async def test_the_original_time_stands_with_the_one_put_right_and_why(
    app: ReviewApp, book: Book
) -> None:
    [photo] = book.photos(JOB, MONDAY)
    decisions.set_clock(book, JOB, "unnamed camera", [MONDAY], 60.0)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v")
        await pilot.pause()
        await settled(app, pilot)
        shown = screen_text(app)
    assert "7:30 AM by EXIF with offset, put right to 7:31 AM" in shown
    assert "1 min slow, set by hand" in shown
    assert book.photo(photo.sha256).taken == photo.taken
