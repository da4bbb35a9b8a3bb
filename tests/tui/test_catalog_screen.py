"""The catalog on the screen: listed, changed a field at a time, added to and dropped from."""

from __future__ import annotations

from decimal import Decimal

from evening import SIZE, screen_text

from joblog.book import Book
from tui.app import ReviewApp
from tui.catalog import CatalogScreen
from tui.catalog_line import CatalogLineScreen


async def open_catalog(pilot) -> None:  # type: ignore[no-untyped-def]
    await pilot.press("escape", "i")
    await pilot.pause()


async def test_one_key_in_the_list_of_days_shows_the_catalog(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await open_catalog(pilot)
        assert isinstance(app.screen, CatalogScreen)
        assert "soffit panel" in screen_text(app)


async def test_a_price_is_typed_and_kept(app: ReviewApp, book: Book) -> None:
    first = book.catalog().items[0].name
    async with app.run_test(size=SIZE) as pilot:
        await open_catalog(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, CatalogLineScreen)
        lines = app.screen.query_one("Lines")
        lines.choose("cost")  # type: ignore[attr-defined]
        await pilot.press("enter", *"21.40", "enter")
        await pilot.pause()
        assert "21.40" in screen_text(app)
    (item,) = (item for item in book.catalog().items if item.name == first)
    assert item.unit_cost == Decimal("21.40")


async def test_a_price_that_is_none_is_told_and_nothing_is_changed(
    app: ReviewApp, book: Book
) -> None:
    before = book.catalog()
    async with app.run_test(size=SIZE) as pilot:
        await open_catalog(pilot)
        await pilot.press("enter")
        await pilot.pause()
        app.screen.query_one("Lines").choose("cost")  # type: ignore[attr-defined]
        await pilot.press("enter", *"dear", "enter")
        await pilot.pause()
        assert "dear" in screen_text(app)
        assert app.screen.has_class("-typing")
    assert book.catalog() == before


async def test_an_item_is_added_by_name_and_unit(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await open_catalog(pilot)
        await pilot.press("a", *"soffit clip, each", "enter")
        await pilot.pause()
        assert "soffit clip" in screen_text(app)
    assert "soffit clip" in {item.name for item in book.catalog().items}


async def test_a_line_goes_only_when_asked_twice(app: ReviewApp, book: Book) -> None:
    first = book.catalog().items[0].name
    async with app.run_test(size=SIZE) as pilot:
        await open_catalog(pilot)
        await pilot.press("d")
        await pilot.pause()
        assert first in {item.name for item in book.catalog().items}
        await pilot.press("d")
        await pilot.pause()
    assert first not in {item.name for item in book.catalog().items}
