"""Putting words right by hand."""

from __future__ import annotations

from fractions import Fraction

from evening import JOB, MONDAY, SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book, decisions
from joblog.form import describe
from joblog.model import Entry, Reading
from joblog_tui.app import ReviewApp
from joblog_tui.correct import CorrectScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.questions import QuestionsScreen
from joblog_tui.widgets.words_line import WordsLine

MEASURED, USED, SPOILED = 2, 3, 4


async def ask(app: ReviewApp, pilot: Pilot[None], entry: int) -> None:
    """Brings the question about an entry into sight."""
    await app.push_screen(QuestionsScreen(app._desk, None, entry))
    await pilot.pause()


async def test_correcting_reads_the_words_again(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("w", "ctrl+u", *"south eave twelve and a half", "enter")
        await pilot.pause()
        corrected = book.entry(MEASURED)
        assert corrected.entry.place == "south eave"
        assert str(corrected.entry.inches) == "25/2"
        assert corrected.said == "south eave twelve and a half"
        assert not corrected.open


async def test_what_the_words_read_as_is_shown_while_typing(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("w", "ctrl+u", *"twelve inches")
        await pilot.pause()
        assert "12 in" in screen_text(app)
        await pilot.press("ctrl+u", *"twelve")
        await pilot.press(*" and a half")
        await pilot.pause()
        assert "12 1/2 in" in screen_text(app)


async def test_the_line_starts_with_the_words_that_were_heard(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("w")
        await pilot.pause()
        assert isinstance(app.screen, CorrectScreen)
        assert "▊  north eave eleven and seven eighths heavy" in screen_text(app)


async def test_escape_leaves_it_as_it_was(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("w", "ctrl+u", *"twelve", "escape")
        await pilot.pause()
        assert isinstance(app.screen, QuestionsScreen)
        assert book.entry(MEASURED).version == 1


async def test_nothing_typed_changes_nothing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("w")
        await pilot.pause()
        assert "nothing is changed until you type" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, QuestionsScreen)
        assert book.entry(MEASURED).version == 1


async def test_an_entry_decided_otherwise_than_heard_is_put_right_from_as_it_stands(
    app: ReviewApp, book: Book
) -> None:
    decided = Entry("labor", task="hang soffit", hours=Fraction(6))
    decisions.correct(book, MEASURED, Reading((decided,)), "i'm soft at")
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(EntryScreen(app._desk, MEASURED))
        await pilot.pause()
        await pilot.press("w")
        await pilot.pause()
        assert app.screen.query_one(WordsLine).value == "six hours, hang soffit"
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(MEASURED).entry == decided


async def test_other_words_that_read_as_the_entry_accept_it(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("w", "ctrl+u", *"at the north eave used 6 sheets of soffit panel")
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(USED).standing == "accepted"
        assert book.entry(USED).entry.quantity == 6


async def test_an_empty_line_is_not_saved(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("w", "ctrl+u", "enter")
        await pilot.pause()
        assert isinstance(app.screen, CorrectScreen)
        assert book.entry(MEASURED).version == 1


async def test_correcting_one_of_two_entries_leaves_the_other(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("w", "ctrl+u")
        await pilot.press(*"used eight sheets of soffit panel two sheets cracked")
        await pilot.pause()
        assert "stays as it is: wasted: 2 soffit panels" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(USED).entry.quantity == 8
        assert book.entry(SPOILED).version == 1
        assert len(book.entries(JOB, MONDAY)) == 6


async def test_a_second_fact_in_the_words_is_added_beside(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("w", "ctrl+u")
        await pilot.press(*"north eave twelve inches used two sticks of fascia", "enter")
        await pilot.pause()
        assert book.entry(MEASURED).entry.inches == 12
        kinds = sorted(entry.entry.kind for entry in book.entries(JOB, MONDAY))
        assert kinds == ["delivered", "measure", "note", "photo", "spoiled", "used", "used"]


async def test_an_entry_that_no_words_are_read_as_is_put_right_from_as_it_is_shown(
    app: ReviewApp, book: Book
) -> None:
    decided = Entry("extra", note="moved the shutters", hours=Fraction(31, 7))
    decisions.correct(book, MEASURED, Reading((decided,)), "i'm soft at")
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(EntryScreen(app._desk, MEASURED))
        await pilot.pause()
        await pilot.press("w")
        await pilot.pause()
        assert app.screen.query_one(WordsLine).value == describe(decided)


async def test_a_size_is_in_the_words_that_the_line_starts_with(app: ReviewApp, book: Book) -> None:
    reveal = Entry("measure", place="north eave", dimension="reveal", inches=Fraction(9, 8))
    decisions.correct(book, MEASURED, Reading((reveal,)), "i'm soft at")
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(EntryScreen(app._desk, MEASURED))
        await pilot.pause()
        await pilot.press("w")
        await pilot.pause()
        assert app.screen.query_one(WordsLine).value == "north eave, reveal, one and an eighth"
