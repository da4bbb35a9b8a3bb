"""What all closed jobs earned, as a screen with plots."""

from __future__ import annotations

from typing import Any

import pytest
from evening import JOB, SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book
from joblog_tui.app import ReviewApp
from joblog_tui.days import DaysScreen
from joblog_tui.over_jobs import OverJobsScreen
from joblog_tui.widgets.headed_list import HeadedList
from joblog_tui.widgets.plot import PlotView
from tests.bid.closed_jobs import FIRST, close_one, fill_closed

TO_JOBS = ("escape", "g", "e")


@pytest.fixture
def ten(book: Book) -> Book:
    fill_closed(book, 10)
    return book


async def read(app: ReviewApp, pilot: Pilot[Any]) -> str:
    await pilot.pause()
    await app.workers.wait_for_complete()
    await pilot.pause()
    return screen_text(app)


async def test_the_go_menu_leads_to_what_the_jobs_earned_and_esc_back(
    app: ReviewApp, ten: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_JOBS)
        shown = await read(app, pilot)
        assert isinstance(app.screen, OverJobsScreen)
        assert "what the jobs earned: 10 closed jobs" in shown
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)


async def test_groups_stand_with_their_figures_and_the_trend_in_words(
    app: ReviewApp, ten: Book
) -> None:
    async with app.run_test(size=(80, 45)) as pilot:
        await pilot.press(*TO_JOBS)
        rows = [line.strip(" ▸").split() for line in (await read(app, pilot)).splitlines()]
        # 352.14 + 312.14, in 12 + 13 hours of 26 bid; 31.25 wasted of twice 637.30.
        assert ["winter", "2", "664.28", "26.57", "-4", "%", "2", "%"] in [row[:8] for row in rows]
        told = " ".join(screen_text(app).split())
        assert "Earned an hour went down by about $" in told


async def test_the_jobs_are_plotted_over_the_time_and_p_plots_another_figure(
    app: ReviewApp, ten: Book
) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press(*TO_JOBS)
        shown = await read(app, pilot)
        assert "earned an hour: o a job - the trend" in " ".join(shown.split())
        assert "Jan 12, 2026" in shown and "Oct 9, 2026" in shown
        assert "---" in shown
        await pilot.press("p")
        await pilot.pause()
        assert "hours against the bid: o a job" in screen_text(app)
        assert "-8 %" in screen_text(app)
        await pilot.press("p")
        await pilot.pause()
        assert "wasted: o a job" in screen_text(app)


async def test_the_jobs_of_a_group_are_marked_in_the_plot(app: ReviewApp, ten: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_JOBS)
        await read(app, pilot)
        await pilot.press("down")
        await pilot.pause()
        assert app.screen.query_one(HeadedList).chosen_id == "season winter"
        plot = app.screen.query_one(PlotView).plot
        assert [point.odd for point in plot.points] == [True, True, *[False] * 8]  # type: ignore[union-attr]
        assert "Mill house, job 1; Hale, job 2" in screen_text(app)


async def test_enter_makes_the_plot_larger_and_esc_small_again(app: ReviewApp, ten: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_JOBS)
        await read(app, pilot)
        small = app.screen.query_one(PlotView).size.height
        await pilot.press("enter")
        await pilot.pause()
        assert app.screen.query_one(PlotView).size.height > small
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen.query_one(PlotView).size.height == small


async def test_a_job_says_all_of_its_figures_and_what_is_not_known(
    app: ReviewApp, book: Book
) -> None:
    close_one(book, "Mill house", FIRST, 0)
    async with app.run_test(size=(80, 50)) as pilot:
        await pilot.press(*TO_JOBS)
        await read(app, pilot)
        await pilot.press("end")
        await pilot.pause()
        told = " ".join(screen_text(app).split())
        assert "Mill house, winter, crew 1: charged 1,554.44, cost 1,202.30" in told


async def test_few_jobs_make_no_trend_and_open_ones_are_named(app: ReviewApp, book: Book) -> None:
    fill_closed(book, 2)
    async with app.run_test(size=(100, 50)) as pilot:
        await pilot.press(*TO_JOBS)
        told = " ".join((await read(app, pilot)).split())
        assert "Earned an hour: too few jobs to tell (2; it takes 8)." in told
        assert "2 jobs not among them" in told
        await pilot.press("space")
        await pilot.pause()
        assert JOB in " ".join(screen_text(app).split())


async def test_without_a_closed_job_it_says_how_to_have_one(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_JOBS)
        shown = await read(app, pilot)
        assert "no closed job yet" in shown
        assert "Close a job that had a bid" in shown


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_list_and_plot_are_both_in_sight(
    app: ReviewApp, ten: Book, size: tuple[int, int]
) -> None:
    async with app.run_test(size=size) as pilot:
        await pilot.press(*TO_JOBS)
        shown = await read(app, pilot)
        assert "all jobs" in shown
        assert "Oct 9, 2026" in shown
        assert all(len(line) <= size[0] for line in shown.splitlines())
