"""One entry, put right field by field."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from evening import JOB, SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.entry import EntryScreen
from joblog_tui.widgets.field_row import FieldRow

MEASURED, USED, SPOILED, NOTE = 2, 3, 4, 5


@asynccontextmanager
async def opened(
    book: Book, entry: int, size: tuple[int, int] = SIZE
) -> AsyncIterator[Pilot[None]]:
    """The review with that entry open."""
    app = ReviewApp(open_desk(book, JOB))
    async with app.run_test(size=size) as pilot:
        await app.push_screen(EntryScreen(open_desk(book, JOB), entry))
        await pilot.pause()
        yield pilot


async def to_line(pilot: Pilot[None], field: str) -> FieldRow:
    """Goes down to the line of a field."""
    [row] = [one for one in pilot.app.screen.query(FieldRow) if one.field == field]
    while pilot.app.focused is not row:
        await pilot.press("down")
    return row


def text(pilot: Pilot[None]) -> str:
    app = pilot.app
    assert isinstance(app, ReviewApp)
    return screen_text(app)


async def test_every_field_has_a_line_the_filled_ones_first(book: Book) -> None:
    async with opened(book, USED) as pilot:
        fields = [row.field for row in pilot.app.screen.query(FieldRow)]
        assert fields[:4] == ["kind", "item", "quantity", "unit"]
        assert "how many" in text(pilot)
        print(text(pilot))


async def test_enter_edits_a_line_in_place(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await to_line(pilot, "quantity")
        await pilot.press("enter", "ctrl+u", *"11 7/8")
        await pilot.pause()
        assert "then: installed: 11 7/8 soffit panels" in text(pilot)
        assert book.entry(USED).version == 1
        print(text(pilot))
        await pilot.press("enter")
        await pilot.pause()
        assert str(book.entry(USED).entry.quantity) == "95/8"


async def test_look(book: Book) -> None:
    from evening import MONDAY

    from joblog.service.filling_in import Missing
    from joblog_tui.fill_in import FillInScreen
    from joblog_tui.type_in import TypeScreen

    async with opened(book, USED) as pilot:
        await to_line(pilot, "item")
        await pilot.press("enter", "ctrl+u", *"so")
        await pilot.pause()
        print(text(pilot))
        await pilot.press("escape", "x", *"4")
        await pilot.pause()
        print(text(pilot))
        await pilot.press("escape", "m")
        await pilot.pause()
        print(text(pilot))
        await pilot.press("escape", "t")
        await pilot.pause()
        print(text(pilot))
        await pilot.press("escape", "j")
        await pilot.pause()
        print(text(pilot))
        await pilot.press("escape", "w")
        await pilot.pause()
        print(text(pilot))
        await pilot.press("escape")
        await pilot.app.push_screen(TypeScreen(open_desk(book, JOB), MONDAY))
        await pilot.press("tab", "enter")
        await pilot.pause()
        print(text(pilot))
        await pilot.press("escape", "escape")
        await pilot.app.push_screen(
            FillInScreen(open_desk(book, JOB), Missing("count", "soffit panel", "sheet"))
        )
        await pilot.press("3", "tab")
        await pilot.pause()
        print(text(pilot))
