"""What happens around a screen while it is open: others write into the book, the window changes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from fractions import Fraction
from itertools import combinations
from typing import Any

import pytest
from evening import JOB, SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book, decisions
from joblog.model import Entry, Reading
from joblog_tui import polled
from joblog_tui.app import ReviewApp
from joblog_tui.go import PLACES, Destination
from joblog_tui.widgets.lines import Lines

SIZES = ((60, 20), (80, 24), (200, 60), (61, 21), (60, 20))


@pytest.fixture(autouse=True)
def a_quick_look(monkeypatch: pytest.MonkeyPatch) -> None:
    """Changes of others are looked for as often as the screen has time."""
    monkeypatch.setattr(polled, "EVERY", 0.01)


async def _until(pilot: Pilot[Any], condition: Callable[[], bool]) -> None:
    """Waits for as long as it takes; a minute means never."""
    for _ in range(3000):
        if condition():
            return
        await pilot.pause(0.02)
    raise AssertionError(screen_text(pilot.app))  # type: ignore[arg-type]


def _tell(book: Book, entry: Entry, day: int = 5) -> None:
    at = datetime(2026, 10, day, 20, tzinfo=UTC)
    decisions.add_typed(book, JOB, Reading((entry,)), "typed", at)


TO_DO = Entry("todo", note="sweep the drive")
CALL = Entry("todo", note="call the inspector", day=date(2026, 10, 9))
BROKEN = Entry("spoiled", item="fascia", quantity=Fraction(3), unit="stick")


@pytest.mark.parametrize(
    ("key", "shown"),
    [
        ("t", "call the inspector"),
        ("h", "wrote: to do"),
        ("d", "8 entries"),
        ("/", "call the inspector"),
    ],
)
async def test_what_another_process_adds_comes_up_by_itself(
    app: ReviewApp, book: Book, key: str, shown: str
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", {"/": "slash"}.get(key, key))
        if key == "/":
            await pilot.press(*"inspector")
        await pilot.pause()
        with Book.open(book.folder) as other:
            _tell(other, CALL)
        await _until(pilot, lambda: shown in screen_text(app).replace("*", ""))
        assert app.fault is None


async def test_the_cursor_stays_on_its_line_when_one_comes_before_it(
    app: ReviewApp, book: Book
) -> None:
    _tell(book, TO_DO)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "t")
        await pilot.pause()
        before = app.screen.query_one(Lines).chosen
        with Book.open(book.folder) as other:
            _tell(other, CALL)
        await _until(pilot, lambda: "2 to do" in screen_text(app))
        assert app.screen.query_one(Lines).chosen == before
        lines = screen_text(app).splitlines()
        [first] = [at for at, line in enumerate(lines) if "call the inspector" in line]
        [second] = [at for at, line in enumerate(lines[: first + 3]) if "sweep the drive" in line]
        assert first < second


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.name)
async def test_every_place_stands_a_window_that_changes(
    app: ReviewApp, book: Book, place: Destination
) -> None:
    for entry in (TO_DO, CALL, BROKEN):
        _tell(book, entry)
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("escape", "g", {"/": "slash"}.get(place.key, place.key))
        await app.workers.wait_for_complete()
        await pilot.press("down")
        await pilot.pause()
        before = _cursor(app)
        for size in SIZES:
            await pilot.resize_terminal(*size)
            await pilot.pause()
            assert _cursor(app) == before
            assert _overlapping(app) == []
            assert app.screen.max_scroll_y == 0
            assert "esc back" in screen_text(app) or place.key == "d"
            assert len(screen_text(app).splitlines()) == size[1]
        assert app.fault is None


def _cursor(app: ReviewApp) -> list[str | None]:
    return [lines.chosen for lines in app.screen.query(Lines)]


def _overlapping(app: ReviewApp) -> list[tuple[str, str]]:
    shown = [
        widget
        for widget in app.screen.children
        if widget.display and widget.region.area and type(widget).__name__ not in _ABOVE_ALL
    ]
    return [
        (str(one), str(other))
        for one, other in combinations(shown, 2)
        if one.region.overlaps(other.region)
    ]


_ABOVE_ALL = {"ToastRack", "Tooltip"}
