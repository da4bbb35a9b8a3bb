"""The catalog on the screen: looked up, changed, added to and dropped from."""

from __future__ import annotations

import re
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

import pytest
from evening import JOB, MONDAY, SIZE, ZONE, screen_text

from joblog.book import Book, BookError, decisions
from joblog.model import Catalog, Entry, Item, Reading, Task
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.ask import AskScreen
from joblog_tui.catalog import CatalogScreen
from joblog_tui.catalog_form import CatalogFormScreen
from joblog_tui.days import DaysScreen

OWN = Catalog(
    items=(
        Item("cedar board", "stick", ("cedar",), stock_length=Fraction(192)),
        Item("soffit clip", "each", ("clips",), pack=Fraction(20), pack_name="box"),
        Item("ridge roll", "roll", unit_cost=Decimal("31.25")),
    ),
    tasks=(Task("set posts", ("posts",), "each", Fraction(3), 2),),
)
TO_CATALOG = ("escape", "g", "i")


@pytest.fixture
def book(book: Book) -> Book:
    book.change_catalog(lambda now: OWN)
    return book


# --- the list


async def test_one_letter_of_the_go_menu_shows_the_catalog(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG)
        await pilot.pause()
        assert isinstance(app.screen, CatalogScreen)
        assert "catalog: 3 items, 1 task" in screen_text(app)


async def test_an_item_is_shown_with_how_it_is_sold_and_what_it_costs(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG)
        await pilot.pause()
        shown = [line.strip(" ▸").split() for line in screen_text(app).splitlines()]
        assert "item unit sold by length cost".split() in shown
        assert "cedar board stick - 16 ft -".split() in shown
        assert "soffit clip each box of 20 - -".split() in shown
        assert "ridge roll roll - - 31.25".split() in shown


async def test_a_task_is_shown_with_its_rate_and_crew(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG)
        await pilot.pause()
        shown = [line.split() for line in screen_text(app).splitlines()]
        assert "task unit per hour crew cost".split() in shown
        assert "set posts each 3 2 -".split() in shown


async def test_a_book_that_was_never_asked_shows_the_starter(app: ReviewApp, book: Book) -> None:
    book.change_catalog(lambda now: Catalog())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG)
        await pilot.pause()
        assert "soffit panel" in screen_text(app)


async def test_what_stands_in_the_catalog_is_text_and_not_markup(
    app: ReviewApp, book: Book
) -> None:
    sly = Item("[bold]zinc[/bold] \x1b[31mstrip", "stick", ("[red]zinc[/red]",))
    book.change_catalog(lambda now: Catalog((sly,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG)
        await pilot.pause()
        assert screen_text(app).count("[bold]zinc[/bold]  [31mstrip") == 2
        assert "[red]zinc[/red]" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "catalog: [bold]zinc[/bold]  [31mstrip" in screen_text(app)
        assert "[red]zinc[/red]" in screen_text(app)


async def test_an_item_and_a_task_may_have_one_name(app: ReviewApp, book: Book) -> None:
    book.change_catalog(lambda now: Catalog((Item("flashing", "roll"),), (Task("flashing"),)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "down", "enter", *"ft", "enter")
        await pilot.pause()
        assert book.catalog().tasks == (Task("flashing", unit="ft"),)
        assert book.catalog().items == (Item("flashing", "roll"),)


async def test_escape_goes_back_to_the_days(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "escape")
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)


# --- looking for one


async def test_typed_words_leave_only_what_is_called_so(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "f", *"cli")
        await pilot.pause()
        assert "soffit clip" in screen_text(app)
        assert "cedar board" not in screen_text(app)
        assert "1 of them shown" in screen_text(app)


async def test_the_names_that_are_spoken_are_looked_through_too(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "f", *"posts", "enter", "enter")
        await pilot.pause()
        assert "catalog: set posts" in screen_text(app)


async def test_letters_are_words_while_looking_and_keys_afterwards(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "f", *"dad")
        await pilot.pause()
        assert isinstance(app.screen, CatalogScreen)
        assert "Nothing is called so." in screen_text(app)


async def test_a_fraction_can_be_looked_for(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "f", *"1/2")
        await pilot.pause()
        assert "1/2" in screen_text(app).splitlines()[1]


async def test_escape_shows_all_again_before_it_leaves(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "f", *"cli", "enter", "escape")
        await pilot.pause()
        assert isinstance(app.screen, CatalogScreen)
        assert "cedar board" in screen_text(app)


# --- changing


async def test_a_price_is_written_in_and_kept(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter", "down", *"$21.40", "enter")
        await pilot.pause()
        assert isinstance(app.screen, CatalogScreen)
        assert "21.40" in screen_text(app)
        assert book.catalog().items[0].unit_cost == Decimal("21.40")


async def test_all_fields_of_an_item_are_in_sight(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter")
        await pilot.pause()
        called = [line[:15].strip() for line in screen_text(app).splitlines()[2:13]]
        assert called == [
            "unit",
            "cost",
            "sold by",
            "length",
            "other lengths",
            "covers",
            "per pound",
            "kerf",
            "least offcut",
            "said",
            "also",
        ]


async def test_how_a_field_is_written_is_shown_where_the_cursor_is(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter", "down", "down")
        await pilot.pause()
        assert "box of 20" in screen_text(app)


async def test_what_cannot_be_read_is_shown_under_its_field_and_stays(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter", "down", *"dear", "down", *"box of 5", "enter")
        await pilot.pause()
        lines = screen_text(app).splitlines()
        [cost] = [place for place, line in enumerate(lines) if line.startswith(" cost")]
        assert lines[cost].split() == ["cost", "dear"]
        assert lines[cost + 1].strip() == "'dear' is not an amount of money"
        assert lines[cost + 2].split() == "sold by box of 5".split()
        assert book.catalog() == OWN


async def test_what_was_put_right_is_kept_with_all_the_rest(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter", "down", *"dear", "down", *"box of 5", "enter")
        await pilot.press("ctrl+u", *"9.50", "enter")
        await pilot.pause()
        board = book.catalog().items[0]
        assert (board.unit_cost, board.pack, board.pack_name) == (Decimal("9.50"), 5, "box")


async def test_two_fields_that_do_not_go_together_are_shown_under_one(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter", *["down"] * 3, "ctrl+u", "down", *"8 ft", "enter")
        await pilot.pause()
        assert "has other lengths, but no length" in screen_text(app)
        assert book.catalog() == OWN


async def test_an_emptied_field_has_no_value(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter", *["down"] * 3, "ctrl+u", "enter")
        await pilot.pause()
        assert book.catalog().items[0].stock_length is None


async def test_escape_leaves_the_line_as_it_was(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "enter", "down", *"9.50", "escape")
        await pilot.pause()
        assert isinstance(app.screen, CatalogScreen)
        assert book.catalog() == OWN


async def test_nothing_typed_is_lost_when_the_book_refuses(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(change: object) -> Catalog:
        raise BookError("the disk is full")

    monkeypatch.setattr(book, "change_catalog", refuse)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press(*TO_CATALOG, "enter", "down", *"9.50", "enter")
        await pilot.pause()
        assert isinstance(app.screen, CatalogFormScreen)
        assert "the disk is full" in screen_text(app)
        assert "9.50" in screen_text(app)


# --- adding


async def test_an_item_is_added_and_the_cursor_is_on_it(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "plus", "1", *"Gable Louver", "down", *"each", "enter")
        await pilot.pause()
        assert book.catalog().items[-1] == Item("gable louver", "each")
        await pilot.press("enter")
        await pilot.pause()
        assert "catalog: gable louver" in screen_text(app)


async def test_a_task_is_added_with_its_rate(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(
            *TO_CATALOG, "plus", "2", *"dig holes", "down", *"each", "down", *"4", "enter"
        )
        await pilot.pause()
        assert book.catalog().tasks[-1] == Task("dig holes", unit="each", per_hour=Fraction(4))


async def test_an_item_without_a_unit_is_not_added(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "plus", "1", *"gable louver", "enter")
        await pilot.pause()
        lines = screen_text(app).splitlines()
        [unit] = [place for place, line in enumerate(lines) if line.startswith(" unit")]
        assert lines[unit + 1].strip().startswith("needs a unit: one of in, ft")
        assert book.catalog() == OWN


async def test_a_name_that_is_taken_is_not_added_again(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "plus", "1", *"Set posts", "down", *"each", "enter")
        await pilot.pause()
        lines = screen_text(app).splitlines()
        [name] = [place for place, line in enumerate(lines) if line.startswith(" name")]
        assert lines[name + 1].strip() == "is in the catalog already"
        assert book.catalog() == OWN


async def test_a_line_without_a_name_is_not_added(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "plus", "1", "enter")
        await pilot.pause()
        assert "needs a name" in screen_text(app)
        assert book.catalog() == OWN


async def test_words_typed_afterwards_are_read_by_the_new_item(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(
            *TO_CATALOG, "plus", "1", *"zinc", "down", *"stick", "enter", "escape", "enter"
        )
        await pilot.press("w", *"used four sticks of zinc", "enter")
        await pilot.pause()
        [typed] = [kept for kept in book.entries(JOB, MONDAY) if kept.change == "typed"]
        assert (typed.entry.item, typed.entry.quantity) == ("zinc", 4)


# --- dropping


async def test_an_item_is_dropped_after_a_yes(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "d")
        await pilot.pause()
        assert "Drop the item cedar board from the catalog?" in screen_text(app)
        await pilot.press("y")
        await pilot.pause()
        assert [item.name for item in book.catalog().items] == ["soffit clip", "ridge roll"]
        assert "cedar board" not in screen_text(app)


@pytest.mark.parametrize("key", ["n", "escape"])
async def test_nothing_is_dropped_after_a_no(app: ReviewApp, book: Book, key: str) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "d", key)
        await pilot.pause()
        assert isinstance(app.screen, CatalogScreen)
        assert book.catalog() == OWN


async def test_enter_alone_drops_nothing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "d", "enter")
        await pilot.pause()
        assert isinstance(app.screen, AskScreen)
        assert book.catalog() == OWN


async def test_the_cursor_never_rests_on_the_names_of_columns(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "down", "down", "d", "y", "d", "y")
        await pilot.pause()
        assert [item.name for item in book.catalog().items] == ["cedar board"]


async def test_the_newest_price_stands_in_the_list_and_where_it_came_from(book: Book) -> None:
    price = Entry("price", item="ridge roll", unit="roll", unit_cost=Decimal("34.10"))
    at = datetime(2026, 10, 5, 17, tzinfo=ZONE)
    decisions.add_typed(book, JOB, Reading((price,)), "told", at)
    app = ReviewApp(open_desk(book, JOB))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*TO_CATALOG, "down", "down")
        await pilot.pause()
        shown = " ".join(screen_text(app).split())
        assert "ridge roll roll - - 34.10" in shown
        assert re.search(r"ridge roll: \$34\.10 .* was said .*; \$31\.25 stood in the", shown)
        assert book.catalog() == OWN
