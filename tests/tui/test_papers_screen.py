"""The place where papers are written."""

from __future__ import annotations

from pathlib import Path

from evening import JOB, SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book
from joblog_tui.app import ReviewApp


async def written(pilot: Pilot[None], app: ReviewApp) -> None:
    await app.workers.wait_for_complete()
    await pilot.pause()


def papers(book: Book) -> list[str]:
    return sorted(one.name for one in (Path(book.folder) / "papers").iterdir())


async def test_enter_writes_a_paper_and_says_where(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "w", "down", "enter")
        await written(pilot, app)
        shown = screen_text(app)
        assert "Written: " in shown
        assert papers(book) == [f"{JOB}, close-out.pdf"]
        assert (book.folder / "papers" / f"{JOB}, close-out.pdf").read_bytes().startswith(b"%PDF")


async def test_a_second_one_is_written_beside_the_first(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "w", "down", "enter")
        await written(pilot, app)
        await pilot.press("enter")
        await written(pilot, app)
    assert papers(book) == [f"{JOB}, close-out 2.pdf", f"{JOB}, close-out.pdf"]


async def test_what_cannot_be_handed_out_says_so_and_is_not_written(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "w", "down", "o", "enter")
        await written(pilot, app)
        assert "to hand out" in screen_text(app)
        assert "a close-out is all costs and hours" in screen_text(app)
    assert not (book.folder / "papers").exists()


async def test_every_day_has_its_sheet(app: ReviewApp, book: Book) -> None:
    day = book.days(JOB)[-1]
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "w", "down", "down", "down", "enter")
        await written(pilot, app)
    assert papers(book) == [f"{JOB}, day sheet {day.isoformat()}.pdf"]
