"""What the squared-up job misses, told where it is missing; what nobody said, typed in."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from fractions import Fraction

from evening import JOB, MONDAY, SIZE, WEDNESDAY, screen_text
from textual.pilot import Pilot

from joblog.book import Book, decisions
from joblog.model import Entry, PlannedTask, Reading, Task
from joblog.service import open_desk
from joblog.service.record import read_balance
from joblog_tui.app import ReviewApp
from joblog_tui.fill_in import FillInScreen
from joblog_tui.squareup import SquareUpScreen
from joblog_tui.type_in import TypeScreen
from joblog_tui.widgets.balance_list import BalanceList
from tests.tui.test_entry_screen import AFTERNOON, text


async def to_page(pilot: Pilot[None], name: str) -> None:
    while f"[{name}]" not in text(pilot):
        await pilot.press("right")
        await pilot.pause()


def lines(pilot: Pilot[None]) -> BalanceList:
    return pilot.app.screen.query_one(BalanceList)


# --- where it is missing ----------------------------------------------------------------------


async def test_a_count_is_typed_on_the_line_that_misses_it_and_the_page_shows_what_is_gone(
    app: ReviewApp, book: Book
) -> None:
    decisions.accept(book, 3)
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await pilot.pause()
        assert "Nobody counted what was left" in screen_text(app)
        await pilot.press("plus")
        await pilot.pause()
        assert isinstance(app.screen, FillInScreen)
        assert "soffit panel: how much is left?" in screen_text(app)
        assert "/ search" not in screen_text(app)
        await pilot.press("6")
        await pilot.pause()
        assert "adds: left: 6 soffit panels" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)
        assert "Nobody counted what was left" not in screen_text(app)
        line = next(one for one in read_balance(open_desk(book, JOB)).stock)
        assert (line.on_hand, line.consumed, line.unaccounted) == (6, 10, 2)


async def test_a_count_is_in_any_unit_of_the_item_and_as_of_a_moment(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await pilot.press("plus", "4", "down", "ctrl+u", *"lb", "enter")
        await pilot.pause()
        assert "cannot be counted in lb" in screen_text(app)
        await pilot.press(
            "ctrl+u", *"pan", "tab", "down", "ctrl+u", *"Oct 5", "tab", "tab", "ctrl+u"
        )
        await pilot.press(*"5:15 pm", "enter")
        await pilot.pause()
        told = max(book.entries(JOB), key=lambda one: one.id)
        assert told.entry == Entry(
            "on_hand", item="soffit panel", quantity=Fraction(4), unit="sheet"
        )
        assert told.at.isoformat() == "2026-10-05T21:15:00+00:00"


async def test_a_count_is_one_step_that_is_undone_where_it_was_typed(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await pilot.press("plus", "4", "enter")
        await pilot.pause()
        assert read_balance(open_desk(book, JOB)).stock[0].on_hand == 4
        await pilot.press("u")
        await pilot.pause()
        assert read_balance(open_desk(book, JOB)).stock[0].on_hand is None


async def test_enter_on_an_empty_count_keeps_nothing(app: ReviewApp, book: Book) -> None:
    before = len(book.entries(JOB))
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await pilot.press("plus", "enter", "enter")
        await pilot.pause()
        assert "how many?" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
    assert len(book.entries(JOB)) == before


async def test_hours_of_a_task_that_nobody_told_are_typed_on_its_line(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await to_page(pilot, "hours")
        await pilot.press("plus", *"7 1/2", "down", "ctrl+u", "2", "enter")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)
        assert read_balance(open_desk(book, JOB)).tasks[0].actual == 15


async def test_a_start_that_is_missing_is_typed_on_its_day(app: ReviewApp, book: Book) -> None:
    stop = Reading((Entry("stop", time=time(16, 30)),))
    decisions.add_typed(book, JOB, stop, "stopped at four thirty", AFTERNOON)
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await to_page(pilot, "days")
        await pilot.press("plus", *"8:00", "enter")
        await pilot.pause()
        [day] = read_balance(open_desk(book, JOB)).days
        assert day.crew_hours == Fraction(17, 2)


async def test_what_is_missing_is_told_from_the_page_of_what_is_missing(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await to_page(pilot, "missing")
        line = lines(pilot).chosen
        assert line is not None and line.missing is not None
        assert line.missing.what == "count"


async def test_a_line_that_misses_nothing_has_no_such_key(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await to_page(pilot, "why")
        assert "+ fill in" not in screen_text(app)
        await pilot.press("plus")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)


# --- typed in ---------------------------------------------------------------------------------


async def test_something_nobody_said_is_typed_in_words_on_its_day(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        kept: list[int | None] = []
        await app.push_screen(TypeScreen(open_desk(book, JOB), MONDAY), kept.append)
        await pilot.press("enter", *"used 3 sticks of fascia")
        await pilot.pause()
        assert "adds: installed: 3 sticks of fascia" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        [id] = kept
        assert id is not None
        assert book.entry(id).entry.quantity == 3
        assert book.entry(id) in book.entries(JOB, MONDAY)


async def test_something_nobody_said_is_filled_in_line_by_line(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        kept: list[int | None] = []
        await app.push_screen(TypeScreen(open_desk(book, JOB), WEDNESDAY), kept.append)
        await pilot.press("tab")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press(*"fas", "tab", "down", "enter")
        await pilot.pause()
        assert "how many?" in screen_text(app)
        await pilot.press("3", "enter")
        await pilot.pause()
        [id] = kept
        assert id is not None
        assert book.entry(id).entry == Entry(
            "used", item="fascia", quantity=Fraction(3), unit="stick"
        )


async def test_leaving_it_keeps_nothing(app: ReviewApp, book: Book) -> None:
    before = len(book.entries(JOB))
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(TypeScreen(open_desk(book, JOB), MONDAY))
        await pilot.press(*"used 3 sticks of fascia", "escape")
        await pilot.pause()
    assert len(book.entries(JOB)) == before


HANG = Task("hang soffit", unit="ft")


def hours_without_an_amount(book: Book) -> None:
    plan = book.plan(JOB)
    hang = PlannedTask(HANG, Fraction(18), quantity=Fraction(82))
    book.set_plan(JOB, replace(plan, tasks=(hang,)))
    hours = Entry("labor", task=HANG.name, hours=Fraction(6))
    decisions.add_typed(book, JOB, Reading((hours,)), "six hours", AFTERNOON)


async def test_one_key_says_that_all_of_a_task_was_done_as_planned(
    app: ReviewApp, book: Book
) -> None:
    hours_without_an_amount(book)
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await pilot.pause()
        await to_page(pilot, "hours")
        assert "Nobody said how much was done" in screen_text(app)
        assert "a: all 82 ft, as planned" in " ".join(screen_text(app).split())
        await pilot.press("a")
        await pilot.pause()
        [line] = read_balance(open_desk(book, JOB)).tasks
        assert (line.done, line.without_amount) == (82, ())
        assert "Nobody said how much was done" not in screen_text(app)


async def test_another_amount_is_typed_on_the_line_that_misses_it(
    app: ReviewApp, book: Book
) -> None:
    hours_without_an_amount(book)
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(SquareUpScreen(open_desk(book, JOB)))
        await pilot.pause()
        await to_page(pilot, "hours")
        await pilot.press("plus")
        await pilot.pause()
        assert "hang soffit: how much was done, in all its hours?" in screen_text(app)
        await pilot.press("6", "0")
        await pilot.pause()
        assert "adds: done: 60 ft, hang soffit" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        [line] = read_balance(open_desk(book, JOB)).tasks
        assert (line.done, line.without_amount) == (60, ())
