"""The questions: one at a time, one key each, and nothing pressed twice can harm."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from evening import JOB, MONDAY, SIZE, TUESDAY, ZONE, asked, screen_text, tell_too_much, until
from textual.events import Key
from textual.pilot import Pilot

from joblog.book import Book, BookError, decisions
from joblog.book.decisions import Settled
from joblog.model import BookEntry, Doubt, Entry, Reading
from joblog.service import Desk, open_desk, signing
from joblog.service import questions as asking
from joblog.service.questions import Answer, Question
from joblog_tui import guard
from joblog_tui.app import ReviewApp
from joblog_tui.correct import CorrectScreen
from joblog_tui.day import DayScreen
from joblog_tui.days import DaysScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.photo import PhotoScreen
from joblog_tui.questions import QuestionsScreen

DELIVERED, MEASURED, USED, SPOILED, NOTE, PHOTO, FASCIA = range(1, 8)
TEN = "10 soffit panels"
AFTERNOON = datetime(2026, 10, 5, 15, 0, tzinfo=ZONE)
# Asked are three doubts, and the words of a note that were heard otherwise.


@pytest.fixture
def other(book: Book, tmp_path: Path) -> Iterator[Book]:
    """The same book as another program has it open."""
    with Book.open(tmp_path / "book") as opened:
        yield opened


def shown(app: ReviewApp) -> tuple[int, ...]:
    """The entries of the question in sight."""
    assert isinstance(app.screen, QuestionsScreen)
    question = app.screen._shown
    return tuple(one.id for one in question.entries) if question else ()


async def ask(app: ReviewApp, pilot: Pilot[None], entry: int) -> None:
    """Brings the question about an entry into sight."""
    await app.push_screen(QuestionsScreen(app._desk, None, entry))
    await pilot.pause()
    await asked(pilot)
    assert entry in shown(app)


def key_of(app: ReviewApp, means: str) -> str:
    """The key of the first answer that would make the entry say this."""
    assert isinstance(app.screen, QuestionsScreen)
    assert app.screen._shown is not None
    answers = app.screen._shown.answers
    return str(1 + next(at for at, one in enumerate(answers) if means in one.means))


def standing(book: Book) -> dict[int, tuple[str, Entry]]:
    return {one.id: (one.standing, one.entry) for one in book.entries(JOB)}


async def test_it_opens_on_the_questions_while_anything_waits(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        assert isinstance(app.screen, QuestionsScreen)
        assert screen_text(app).startswith(" 1 of 4 · ")


async def test_it_opens_on_the_days_where_nothing_waits(app: ReviewApp, book: Book) -> None:
    for entry in (MEASURED, USED, FASCIA, NOTE):
        decisions.accept(book, entry)
    async with app.run_test(size=SIZE):
        assert isinstance(app.screen, DaysScreen)


async def test_the_question_its_answers_and_what_was_heard_are_in_sight(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        seen = screen_text(app)
        assert f" {key_of(app, TEN)}  10 panels" in seen
        assert " a  keep it as it is: installed: 6 soffit panels" in seen
        assert " heard: used six sheets of soffit panel two sheets cracked" in seen
        assert "    or: used ten sheets of soffit panel two sheets cracked" in seen


async def test_what_was_heard_stands_there_without_the_names_of_recognizers(
    app: ReviewApp,
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        for entry in (MEASURED, USED, FASCIA):
            await ask(app, pilot, entry)
            heard = [line for line in screen_text(app).splitlines() if " heard: " in line]
            assert len(heard) == 1
            assert not {"trade)", "free)", "constrained)"} & set(heard[0].split())


async def test_a_word_not_surely_heard_has_a_mark_that_needs_no_colour(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        assert "north eave eleven? and seven eighths heavy" in screen_text(app)


async def test_an_answer_is_one_key_and_the_next_is_asked(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press(key_of(app, TEN))
        assert book.entry(USED).entry.quantity == 10
        assert not book.entry(USED).open
        assert USED not in shown(app)
        assert screen_text(app).startswith(" 2 of 4 · ")


async def test_keeping_is_one_key_and_the_next_is_asked(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("a")
        assert book.entry(USED).standing == "accepted"
        assert book.entry(USED).entry.quantity == 6
        assert USED not in shown(app)


async def test_dropping_is_one_key_and_the_next_is_asked(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("d")
        assert book.entry(USED).standing == "dropped"
        assert USED not in shown(app)


async def test_answering_one_of_two_entries_leaves_the_other(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("1")
        assert book.entry(SPOILED).version == 1
        assert len(book.entries(JOB, MONDAY)) == 6


async def test_a_number_that_is_no_answer_does_nothing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        before = standing(book)
        await pilot.press("9")
        assert standing(book) == before
        assert MEASURED in shown(app)


async def test_what_is_put_off_comes_after_all_others(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        first = shown(app)
        await pilot.press("l")
        second = shown(app)
        await pilot.press("a", "a", "a")
        assert first != second
        assert shown(app) == first
        assert book.entry(first[0]).open


def only(*asked: Question) -> Callable[..., tuple[Question, ...]]:
    """A room that asks these questions as long as their entries wait."""

    def questions(desk: Desk, _day: date | None = None) -> tuple[Question, ...]:
        return tuple(
            one
            for one in asked
            if all(desk.book.entry(entry.id).version == entry.version for entry in one.entries)
        )

    return questions


@pytest.fixture
def several(book: Book, monkeypatch: pytest.MonkeyPatch) -> ReviewApp:
    """One question about two entries that cannot count as they stand, and a cheap one."""
    used, spoiled, fascia = map(book.entry, (USED, SPOILED, FASCIA))
    answer = Answer(
        "fascia",
        "installed: fascia",
        "the only one counted in sticks",
        tuple(
            Settled(one.id, Entry(one.entry.kind, item="fascia", quantity=Fraction(3)), one.said)
            for one in (used, spoiled)
        ),
    )
    asked = (
        Question("item", "2 times 'J': which item?", (used, spoiled), (answer,), False, Decimal(9)),
        Question("number", "4 or 14?", (fascia,)),
    )
    monkeypatch.setattr(asking, "questions", only(*asked))
    monkeypatch.setattr(asking, "with_answers", lambda _desk, question: question)
    return ReviewApp(open_desk(book, JOB))


async def test_one_answer_settles_all_entries_of_a_question(several: ReviewApp, book: Book) -> None:
    async with several.run_test(size=SIZE) as pilot:
        await several.push_screen(QuestionsScreen(several._desk))
        await pilot.pause()
        seen = screen_text(several)
        assert "2 times 'J': which item?" in seen
        assert " 1  fascia  installed: fascia  (the only one counted in sticks)" in seen
        await pilot.press("1")
        assert {book.entry(id).entry.item for id in (USED, SPOILED)} == {"fascia"}
        await pilot.press("u")
        assert {book.entry(id).entry.item for id in (USED, SPOILED)} == {"soffit panel"}


async def test_what_cannot_count_as_it_stands_cannot_be_kept(
    several: ReviewApp, book: Book
) -> None:
    async with several.run_test(size=SIZE) as pilot:
        await several.push_screen(QuestionsScreen(several._desk))
        await pilot.pause()
        before = standing(book)
        assert "keep it as it is" not in screen_text(several)
        await pilot.press("a", "A", "w")
        assert standing(book) == before
        assert shown(several) == (USED, SPOILED)


async def test_those_that_change_no_figure_are_kept_in_one_go(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    dear, cheap, cheaper = map(book.entry, (USED, FASCIA, MEASURED))
    asked = (
        Question("words", "6 or 10?", (dear,), cost=Decimal(9)),
        Question("words", "4 or 14?", (cheap,)),
        Question("words", "11 or 7?", (cheaper,)),
    )
    monkeypatch.setattr(asking, "questions", only(*asked))
    monkeypatch.setattr(asking, "with_answers", lambda _desk, question: question)
    app = ReviewApp(open_desk(book, JOB))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("A")
        assert shown(app) == (USED,)
        assert "change no figure" not in screen_text(app)
        await pilot.press("a")
        assert " A  keep all 2 that change no figure" in screen_text(app)
        await pilot.press("A")
        assert not any(one.open for one in book.entries(JOB))
        await pilot.press("u")
        assert [one.id for one in book.entries(JOB) if one.open] == [MEASURED, FASCIA]


# --- after the last one -----------------------------------------------------------------------


async def test_after_the_last_one_the_rest_is_one_key_and_signing_off_another(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "a", "a", "a")
        await pilot.pause()
        assert "Nothing left to decide" in screen_text(app)
        assert " a  all 3 others are right" in screen_text(app)
        await pilot.press("a")
        assert {one.standing for one in book.entries(JOB)} == {"accepted"}
        assert "others are right" not in screen_text(app)
        assert " o  sign off Mon, Oct 5 to Tue, Oct 6" in screen_text(app)
        await pilot.press("o")
        await pilot.pause()
        assert {*signing.signed(app._desk)} == {MONDAY, TUESDAY}
        assert "Everything is signed off." in screen_text(app)
        await pilot.press("u", "u")
        assert signing.signed(app._desk) == {}
        await pilot.press("u")
        await pilot.pause()
        assert " a  all 3 others are right" in screen_text(app)


async def test_digits_and_d_do_nothing_when_all_is_decided(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "a", "a", "a")
        before = standing(book)
        await pilot.press("1", "2", "9", "d", "e", "w", "l", "A", "enter", "enter")
        assert standing(book) == before
        assert isinstance(app.screen, QuestionsScreen)


# --- nothing pressed twice can harm -----------------------------------------------------------


async def test_a_key_pressed_twice_decides_once(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(guard, "HELD", 3600.0)
    async with app.run_test(size=SIZE) as pilot:
        first = shown(app)
        await pilot.press("a", "a", "a", "a")
        assert book.entry(first[0]).standing == "accepted"
        assert sum(one.open for one in book.entries(JOB)) == 2


async def test_a_key_pressed_before_anybody_can_have_read_the_question_is_not_taken(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        monkeypatch.setattr(guard, "TO_BE_READ", 3600.0)
        await pilot.press("1", "a", "d", "l")
        assert sum(one.open for one in book.entries(JOB)) == 3
        monkeypatch.setattr(guard, "TO_BE_READ", 0.0)
        await pilot.press("a")
        assert sum(one.open for one in book.entries(JOB)) == 2


async def test_keys_typed_ahead_of_the_next_question_are_not_taken(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        for key in (key_of(app, TEN), "1", "a", "d"):
            app.simulate_key(key)
        await pilot.pause()
        while not app.screen.takes(Key("a", "a")):
            await pilot.pause()
        assert book.entry(USED).entry.quantity == 10
        assert sum(one.open for one in book.entries(JOB)) == 2
        await pilot.press("a")
        assert sum(one.open for one in book.entries(JOB)) == 1


async def test_three_one_a_loses_nothing(app: ReviewApp, book: Book) -> None:
    """The keys that once put a second answer over the first, and then lost a number of it."""
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, MEASURED)
        await pilot.press("3")
        assert book.entry(MEASURED).open
        await pilot.press("1")
        taken = book.entry(MEASURED)
        await pilot.press("a")
        assert book.entry(MEASURED) == taken
        assert str(taken.entry.inches) == "127/16"  # 7 7/8 and a sixteenth: common practice


async def test_enter_twice_changes_nothing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        before = standing(book)
        for key in ("enter", "enter", "w", "enter", "enter", "enter"):
            await pilot.press(key)
            await pilot.pause()
        assert standing(book) == before
        assert all(one.version == 1 for one in book.entries(JOB))


# --- while others write into the book ---------------------------------------------------------


async def test_what_others_add_leaves_the_question_in_sight(
    app: ReviewApp, book: Book, other: Book, tmp_path: Path
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        in_sight = shown(app)
        screen = app.screen
        assert isinstance(screen, QuestionsScreen)
        taken_since = screen._guard._since
        (tmp_path / "more").mkdir()
        tell_too_much(other, tmp_path / "more")
        screen._list_anew()
        await pilot.pause()
        assert shown(app) == in_sight
        assert screen_text(app).startswith(" 1 of 5 · ")
        assert screen._guard._since == taken_since


async def test_what_others_decided_of_it_is_shown_anew_and_keys_before_are_not_taken(
    app: ReviewApp, book: Book, other: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        in_sight = shown(app)
        decisions.accept(other, in_sight[0])
        app.simulate_key("d")
        await pilot.pause()
        await pilot.pause()
        assert book.entry(in_sight[0]).standing == "accepted"
        assert sum(one.open for one in book.entries(JOB)) == 2
        assert shown(app) != in_sight


async def test_it_looks_for_what_others_wrote_by_itself(
    app: ReviewApp, book: Book, other: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog_tui.polled.EVERY", 0.01)
    async with app.run_test(size=SIZE) as pilot:
        in_sight = shown(app)
        decisions.drop(other, in_sight[0])
        while shown(app) == in_sight:
            await pilot.pause(0.01)
        assert screen_text(app).startswith(" 1 of 3 · ")


# --- taking back, and doing again -------------------------------------------------------------


async def test_u_takes_back_says_what_and_brings_the_question_back(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("d", "u")
        await pilot.pause()
        assert book.entry(USED).open
        assert USED in shown(app)
        assert "took back: dropped: " in screen_text(app)
        assert screen_text(app).startswith(" 1 of 4 · ")


async def test_r_does_it_again(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await ask(app, pilot, USED)
        await pilot.press(key_of(app, TEN), "u", "r")
        await pilot.pause()
        assert book.entry(USED).entry.quantity == 10
        assert "done again: " in screen_text(app)
        assert USED not in shown(app)


async def test_u_works_after_the_screen_was_left(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("d", "escape", "escape")
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)
        await pilot.press("u")
        assert book.entry(USED).open


async def test_u_with_nothing_to_take_back_says_so(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press("u")
        await pilot.pause()
        assert "there is nothing to undo" in screen_text(app)


async def test_u_held_down_takes_back_one_step(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "a")
        monkeypatch.setattr(guard, "HELD", 3600.0)
        await pilot.press("u", "u", "u")
        assert sum(one.open for one in book.entries(JOB)) == 2


# --- to the other screens, and back -----------------------------------------------------------


async def test_e_opens_the_entry_and_what_was_decided_there_is_asked_no_more(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        await pilot.press("e")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
        decisions.accept(book, USED)
        app.pop_screen()
        await pilot.pause()
        assert USED not in shown(app)


@pytest.fixture
def doubted(app: ReviewApp, book: Book) -> int:
    """So many of an item, where only the number is in doubt."""
    [id] = decisions.add_typed(
        book,
        JOB,
        Reading(
            (Entry("used", item="fascia", quantity=Fraction(4), unit="stick"),),
            (Doubt(0, "which number: 4 sticks or 40 sticks?"),),
        ),
        "used four sticks",
        AFTERNOON,
    )
    return id


async def edited(app: ReviewApp, pilot: Pilot[None], entry: int, *keys: str) -> None:
    """Presses `e` on the question about an entry, and these keys on what opens."""
    await ask(app, pilot, entry)
    await pilot.press("e")
    await pilot.pause()
    for key in keys:
        await pilot.press(key)
        await pilot.pause()


async def test_e_opens_the_line_in_doubt_and_enter_comes_back_to_the_next_question(
    app: ReviewApp, book: Book, doubted: int
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await edited(app, pilot, doubted, "7", "enter")
        assert book.entry(doubted).entry.quantity == 7
        assert not book.entry(doubted).open
        assert doubted not in shown(app)


async def test_another_line_first_and_then_the_one_in_doubt_is_asked_for_again(
    app: ReviewApp, book: Book, doubted: int
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await edited(app, pilot, doubted, "up", *"soff", "enter")
        assert isinstance(app.screen, EntryScreen)
        assert book.entry(doubted).open
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(doubted).entry.item == "soffit panel"
        assert book.entry(doubted).entry.quantity == 4
        assert not book.entry(doubted).open
        assert doubted not in shown(app)


async def test_enter_that_comes_too_soon_keeps_no_line_as_it_stands(
    app: ReviewApp, book: Book, doubted: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await edited(app, pilot, doubted)
        monkeypatch.setattr(guard, "TO_BE_READ", 3600.0)
        await pilot.press("enter", "enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
        assert book.entry(doubted).open


async def test_leaving_without_a_change_leaves_the_question(
    app: ReviewApp, book: Book, doubted: int
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await edited(app, pilot, doubted, "escape", "escape")
        assert book.entry(doubted).open
        assert doubted in shown(app)


async def test_w_says_it_in_other_words(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, FASCIA)
        await pilot.press("w")
        await pilot.pause()
        assert isinstance(app.screen, CorrectScreen)
        await pilot.press("ctrl+u", *"used five sticks of fascia", "enter")
        await pilot.pause()
        assert book.entry(FASCIA).entry.quantity == 5
        assert FASCIA not in shown(app)


async def test_words_that_say_the_same_keep_it(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, FASCIA)
        await pilot.press("w")
        await pilot.pause()
        await pilot.press("ctrl+u", *"used 4 sticks of fascia", "enter")
        await pilot.pause()
        assert book.entry(FASCIA).standing == "accepted"
        assert book.entry(FASCIA).entry.quantity == 4


async def test_v_shows_the_photo_large(app: ReviewApp, book: Book) -> None:
    decisions.tie(book, book.photos(JOB)[0].sha256, USED)
    async with app.run_test(size=SIZE) as pilot:
        await ask(app, pilot, USED)
        assert app.screen.has_class("-pictured")
        await pilot.press("v")
        await until(pilot, lambda: isinstance(app.screen, PhotoScreen))


async def test_a_book_that_refuses_is_shown_plainly(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> tuple[BookEntry, ...]:
        raise BookError("book.sqlite: the disk is full; make room and try again")

    monkeypatch.setattr(decisions, "settle", refuse)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        in_sight = shown(app)
        await pilot.press("a")
        await pilot.pause()
        assert "book.sqlite: the disk is full" in screen_text(app)
        assert book.entry(in_sight[0]).open
        assert shown(app) == in_sight


async def test_a_day_named_on_the_command_line_opens_that_day(book: Book) -> None:
    app = ReviewApp(open_desk(book, JOB), MONDAY)
    async with app.run_test(size=SIZE):
        assert isinstance(app.screen, DayScreen)


@pytest.mark.parametrize("size", [(60, 20), (140, 45)])
async def test_it_fits_the_terminal(app: ReviewApp, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert app.screen.max_scroll_y == 0
        assert "heard: " in screen_text(app)


async def test_questions_are_listed_again_only_when_the_book_has_changed(
    app: ReviewApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog_tui.polled.EVERY", 0.001)
    monkeypatch.setattr("joblog_tui.evidence.LOOK", 0.001)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        listed: list[object] = []
        monkeypatch.setattr(asking, "questions", lambda *asked: listed.append(asked))
        await pilot.pause(0.05)
        assert listed == []


async def test_the_first_question_is_drawn_before_its_answers_are_looked_for(
    app: ReviewApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn = []
    look_for = asking.with_answers

    def seen(desk: Desk, question: Question) -> Question:
        # While the app starts all drawing is held back.
        drawn.append(not app._batch_count and "heard" in screen_text(app))
        return look_for(desk, question)

    monkeypatch.setattr(asking, "with_answers", seen)
    async with app.run_test(size=SIZE):
        assert drawn[0]
