"""The question what a planned name is in the catalog, asked once when the review begins."""

from __future__ import annotations

from fractions import Fraction

import pytest
from evening import JOB, SIZE, screen_text, until

from joblog.book import Book
from joblog.model import Item, Plan, PlannedItem
from joblog_tui.app import ReviewApp
from joblog_tui.naming import NameScreen


@pytest.fixture
def book(book: Book) -> Book:
    names = ("perforated soffit", "copper flashing")
    items = (Item(name, unit) for name, unit in zip(names, ("sheet", "roll"), strict=True))
    book.set_plan(JOB, Plan(tuple(PlannedItem(item, Fraction(5)) for item in items)))
    return book


def planned(book: Book) -> list[str]:
    return [line.item.name for line in book.plan(JOB).items]


async def test_a_digit_settles_it_and_the_next_name_is_asked(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: isinstance(app.screen, NameScreen))
        await pilot.pause()
        assert "The plan says perforated soffit." in screen_text(app)
        assert "1  soffit panel" in screen_text(app)
        await pilot.press("1")
        await until(pilot, lambda: planned(book)[0] == "soffit panel")
        await until(pilot, lambda: "The plan says copper flashing." in screen_text(app))
        await pilot.press("2")
        await until(pilot, lambda: "copper flashing" in {one.name for one in book.catalog().items})
        assert not isinstance(app.screen, NameScreen)


async def test_a_name_that_is_left_stays_open(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: isinstance(app.screen, NameScreen))
        await pilot.press("escape")
        await until(pilot, lambda: not isinstance(app.screen, NameScreen))
        assert planned(book) == ["perforated soffit", "copper flashing"]


@pytest.mark.parametrize("size", [(60, 20), (140, 45)])
async def test_the_question_fits_small_and_large_terminals(
    app: ReviewApp, size: tuple[int, int]
) -> None:
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: isinstance(app.screen, NameScreen))
        await pilot.pause()
        assert "none of these; it is a thing of its own" in screen_text(app)
