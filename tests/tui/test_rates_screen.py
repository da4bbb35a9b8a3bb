"""What closed jobs teach, as a screen with plots."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from evening import JOB, SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book, decisions, paper
from joblog.model import History, PastUse, PastWork
from joblog_tui.app import ReviewApp
from joblog_tui.days import DaysScreen
from joblog_tui.rates import RatesScreen
from joblog_tui.squareup import SquareUpScreen

# Invented: net 40 sheets, and 200 ft of soffit; all else follows from what was consumed.
SPRING, SUMMER, AUTUMN = date(2026, 3, 2), date(2026, 6, 1), date(2026, 9, 7)


def use(job: str, day: date, consumed: int) -> PastUse:
    return PastUse(job, day, "soffit panel", Fraction(40), Fraction(consumed), Fraction(0))


def work(job: str, day: date, hours: int) -> PastWork:
    return PastWork(job, day, "hang soffit", Fraction(200), Fraction(hours))


@pytest.fixture
def taught(book: Book) -> Book:
    paper.keep_past(
        book,
        History(
            (use("first", SPRING, 42), use("[bold]2nd", SUMMER, 43), use("third", AUTUMN, 44)),
            (work("first", SPRING, 24), work("third", AUTUMN, 22)),
        ),
    )
    return book


async def learned(app: ReviewApp, pilot: Pilot[Any]) -> str:
    await pilot.pause()
    await app.workers.wait_for_complete()
    await pilot.pause()
    return screen_text(app)


async def test_the_go_menu_leads_to_the_rates_from_the_days(app: ReviewApp, taught: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "r")
        shown = await learned(app, pilot)
        assert isinstance(app.screen, RatesScreen)
        assert "rates: learned from 3 closed jobs" in shown
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)


async def test_the_go_menu_leads_to_the_rates_from_the_squared_up_job(
    app: ReviewApp, taught: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "g", "r")
        await learned(app, pilot)
        assert isinstance(app.screen, RatesScreen)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)


async def test_every_rate_has_its_jobs_and_how_sure_it_is(app: ReviewApp, taught: Book) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("g", "r")
        shown = await learned(app, pilot)
        assert "waste jobs average between next job" in " ".join(shown.split())
        [soffit] = [line for line in shown.splitlines() if line.startswith(" soffit panel  ")]
        assert soffit.split()[2] == "3"
        assert "done in an hour" in shown


async def test_a_planned_item_of_no_closed_job_says_where_its_rate_comes_from(
    app: ReviewApp, taught: Book
) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("g", "r")
        await learned(app, pilot)
        await pilot.press("down", "down")
        await pilot.pause()
        shown = screen_text(app)
        assert "fascia" in shown
        assert "a rule of thumb; no job of it yet" in " ".join(shown.split())


async def test_this_job_is_plotted_planned_against_gone(app: ReviewApp, taught: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", "r")
        shown = await learned(app, pilot)
        assert "soffit panel: 2-16? of 15 panels" in shown
        assert "???" in shown
        assert "planned" in shown


async def test_jobs_are_plotted_over_time_with_the_interval(app: ReviewApp, taught: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", "r")
        await learned(app, pilot)
        await pilot.press("down")
        await pilot.pause()
        shown = screen_text(app)
        assert "Mar 2, 2026" in shown
        assert "Sep 7, 2026" in shown
        assert "----------" in shown
        assert "==========" in shown
        assert "o a job  = average" in shown


async def test_hours_are_plotted_too(app: ReviewApp, taught: Book) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("g", "r")
        await learned(app, pilot)
        await pilot.press("end")
        await pilot.pause()
        assert "ft done in one man-hour. From 2 jobs" in " ".join(screen_text(app).split())


async def test_enter_makes_the_plot_larger_and_esc_small_again(
    app: ReviewApp, taught: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", "r")
        await learned(app, pilot)
        await pilot.press("down", "enter")
        await pilot.pause()
        assert "next job" not in screen_text(app)
        assert "==========" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert "next job" in screen_text(app)
        await pilot.press("down")
        await pilot.pause()
        assert "fascia:" in screen_text(app)


async def test_the_arrows_go_on_to_other_rates_while_the_plot_is_large(
    app: ReviewApp, taught: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", "r")
        await learned(app, pilot)
        await pilot.press("down", "enter")
        await pilot.pause()
        assert "↑ ↓ other rate" in screen_text(app)
        await pilot.press("down")
        await pilot.pause()
        assert "fascia:" in screen_text(app)
        await pilot.press("up")
        await pilot.pause()
        assert "soffit panel:" in screen_text(app)


async def test_without_jobs_the_prior_is_stated_and_how_to_start(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", "r")
        shown = " ".join((await learned(app, pilot)).split())
        assert "waste is a rule of thumb, 5%" in shown
        assert "common practice, not a measurement" in shown
        assert "joblog rates --add FILE" in shown
        assert "close it: square up, then c." in shown


async def test_a_reopened_job_is_named_as_left_out(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        await pilot.press("c", "y")
        await learned(app, pilot)
        decisions.accept(book, 2)
        await pilot.press("g", "r")
        shown = " ".join((await learned(app, pilot)).split())
        assert "Gull Point cottage: reopened by entry 2; close it again" in shown


async def test_a_book_that_cannot_be_read_says_so(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        (book.folder / "book.sqlite").rename(book.folder / "elsewhere.sqlite")
        await app.push_screen(RatesScreen(app._desk))
        shown = await learned(app, pilot)
        assert "The rates cannot be learned" in shown


async def test_what_a_job_was_called_is_shown_as_text(app: ReviewApp, book: Book) -> None:
    named = PastUse("x", SPRING, "[red]soffit[/]", Fraction(40), Fraction(42), Fraction(0))
    paper.keep_past(book, History((named,)))
    assert book.job(JOB)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", "r")
        await learned(app, pilot)
        await pilot.press("down")
        await pilot.pause()
        assert "[red]soffit[/]: " in screen_text(app)
