"""The main screens look as they did, in both themes: 80x24, and 140x45 where there is more room.

Where one is meant to look otherwise: `pytest -n 0 tests/tui/test_snapshots.py --snapshot-update`,
and look at what changed. They are drawn by one version of Textual, and looked at with that alone.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import replace
from decimal import Decimal
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest
from evening import JOB, MONDAY, screen_text, tell_too_much
from textual.pilot import Pilot
from textual.widgets import Input

from joblog.book import Book
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.day import DayScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.gallery import GalleryScreen
from joblog_tui.themes import THEMES

pytest.importorskip("pytest_textual_snapshot")

DRAWN_BY = "8.2.8"
"""The version of Textual that drew them; another one may set a line or a rule otherwise."""
SIZES = {"80x24": (80, 24), "140x45": (140, 45)}
MEASURED = 2

Way = Callable[[Pilot[Any], ReviewApp], Awaitable[None]]

pytestmark = pytest.mark.skipif(
    version("textual") != DRAWN_BY, reason=f"they were drawn by Textual {DRAWN_BY}"
)


async def _days(pilot: Pilot[Any], app: ReviewApp) -> None:
    await pilot.press("escape")


async def _questions(pilot: Pilot[Any], app: ReviewApp) -> None:
    """What it opens on."""


async def _day(pilot: Pilot[Any], app: ReviewApp) -> None:
    await app.push_screen(DayScreen(app._desk, MONDAY))


async def _entry(pilot: Pilot[Any], app: ReviewApp) -> None:
    await app.push_screen(EntryScreen(app._desk, MEASURED))


async def _go(pilot: Pilot[Any], app: ReviewApp) -> None:
    await pilot.press("g")


async def _money(pilot: Pilot[Any], app: ReviewApp) -> None:
    await pilot.press("s")
    while "[money]" not in screen_text(app):
        await pilot.press("right")
        await pilot.pause()


async def _gallery(pilot: Pilot[Any], app: ReviewApp) -> None:
    await app.push_screen(GalleryScreen(app._desk, MONDAY))


async def _search(pilot: Pilot[Any], app: ReviewApp) -> None:
    await pilot.press("slash", *"soffit")


SCREENS: dict[str, Way] = {
    "days": _days, "questions": _questions, "day": _day, "entry": _entry, "go": _go,
    "money": _money, "gallery": _gallery, "search": _search,
}  # fmt: skip


@pytest.fixture
def full(book: Book, tmp_path: Path) -> Book:
    """With what prices say, and more used than ever came."""
    tell_too_much(book, tmp_path)
    plan = book.plan(JOB)
    prices = map(Decimal, ("21.40", "14.90"))
    priced = [replace(one, unit_cost=price) for one, price in zip(plan.items, prices, strict=True)]
    book.set_plan(JOB, replace(plan, items=tuple(priced)))
    return book


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_looks_as_it_did(
    full: Book, snap_compare: Callable[..., bool], screen: str, size: str, theme: str
) -> None:
    app = ReviewApp(open_desk(full, JOB))

    async def go_there(pilot: Pilot[Any]) -> None:
        app.theme = THEMES[theme].name
        await pilot.pause()
        await SCREENS[screen](pilot, app)
        await at_rest(pilot, app)

    assert snap_compare(app, terminal_size=SIZES[size], run_before=go_there)


async def at_rest(pilot: Pilot[Any], app: ReviewApp) -> None:
    """Until nothing more comes into sight by itself: pictures and hits come from threads, and a
    cursor blinks."""
    for line in app.screen.query(Input):
        line.cursor_blink = False
    before = ""
    for _ in range(200):
        await pilot.pause(0.05)
        await app.workers.wait_for_complete()
        shown = screen_text(app)
        # Those of the gallery are on their way; elsewhere the sign stands behind words cut short.
        if shown == before and not (isinstance(app.screen, GalleryScreen) and " … " in shown):
            return
        before = shown
