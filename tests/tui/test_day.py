"""The day screen: decisions by one key each."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from evening import JOB, MONDAY, SIZE, TUESDAY, WEDNESDAY, ZONE, screen_text, tell_too_much
from textual.events import Key

from joblog.book import Book, BookError, decisions
from joblog.dictation import read
from joblog.model import Doubt, Entry, Reading
from joblog.service import open_desk, reading
from joblog_tui.app import ReviewApp
from joblog_tui.day import DayScreen
from joblog_tui.widgets.entry_list import EntryList
from joblog_tui.widgets.tally import Tally

DELIVERED, MEASURED, USED, SPOILED, NOTE, PHOTO, FASCIA = range(1, 8)


def chosen(app: ReviewApp) -> int:
    return int(app.screen.query_one(EntryList).chosen or 0)


async def test_it_starts_at_the_first_day_with_a_doubt(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        assert isinstance(app.screen, DayScreen)
        assert "Mon 5 Oct 2026" in screen_text(app)


async def test_it_starts_at_the_day_that_was_asked_for(book: Book) -> None:
    app = ReviewApp(open_desk(book, JOB), TUESDAY)
    async with app.run_test(size=SIZE):
        assert "Tue 6 Oct 2026" in screen_text(app)


async def test_a_recording_with_something_wrong_is_named(book: Book) -> None:
    app = ReviewApp(open_desk(book, JOB), TUESDAY)
    async with app.run_test(size=SIZE):
        assert "tuesday.wav: ends early" in screen_text(app)


async def test_doubtful_entries_stand_before_the_others(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        lines = [option.id for option in app.screen.query_one(EntryList).options]
        assert lines == [str(id) for id in (MEASURED, USED, DELIVERED, SPOILED, NOTE, PHOTO)]


async def test_the_reason_of_a_doubt_is_shown_in_words(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        assert "? the two recognizers heard 11 15/16 and 7 15/16" in screen_text(app)


async def test_a_word_not_surely_heard_has_a_mark_that_needs_no_colour(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        assert "north eave eleven? and seven eighths heavy" in screen_text(app)


async def test_accepting_a_doubt_goes_to_the_next_one(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a")
        assert book.entry(MEASURED).standing == "accepted"
        assert chosen(app) == USED


async def test_the_count_of_doubts_goes_down(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        assert app.screen.query_one(Tally).left == 2
        await pilot.press("a")
        assert app.screen.query_one(Tally).left == 1
        assert "1 on other days" in screen_text(app)


async def test_a_finished_day_points_to_the_other_days(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "a")
        assert "nothing left on this day" in screen_text(app)
        await pilot.press("n")
        await pilot.pause()
        assert "Tue 6 Oct 2026" in screen_text(app)


async def test_when_all_is_decided_it_says_so(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "a", "n")
        await pilot.pause()
        await pilot.press("a")
        assert "nothing left to decide" in screen_text(app)


async def test_accepting_what_nobody_doubts_changes_nothing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "down", "a")
        assert book.entry(DELIVERED).version == 1
        assert chosen(app) == MEASURED


async def test_a_number_key_takes_another_hearing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("1")
        taken = book.entry(MEASURED)
        assert str(taken.entry.inches) == "127/16"  # 7 7/8 and a sixteenth: common practice
        assert taken.said == "north eave seven and seven eighths heavy"
        assert not taken.open
        assert chosen(app) == USED


async def test_a_number_without_a_choice_does_nothing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("7")
        assert book.entry(MEASURED).version == 1


async def test_a_decided_entry_has_no_choices_left(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "a")
        app.screen.query_one(EntryList).choose(str(MEASURED))
        await pilot.pause()
        await pilot.press("1")
        assert str(book.entry(MEASURED).entry.inches) == "191/16"


async def test_a_choice_with_a_doubt_of_its_own_waits_and_the_next_is_asked(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def doubtful(text: str, *known: Any) -> Reading:
        found = read(text, *known)
        return (
            replace(found, doubts=(Doubt(0, "out of the common"),)) if "seven " in text else found
        )

    monkeypatch.setattr(reading, "read", doubtful)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("1")
        assert book.entry(MEASURED).doubts == ("out of the common",)
        assert book.entry(MEASURED).open
        assert chosen(app) == USED


async def test_keys_typed_before_the_next_question_is_shown_are_not_taken(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        for key in ("1", "1", "a", "d"):
            app.simulate_key(key)
        await pilot.pause()
        while not app.screen.takes(Key("a", "a")):
            await pilot.pause()
        assert str(book.entry(MEASURED).entry.inches) == "127/16"
        assert book.entry(USED).open
        await pilot.press("a")
        assert book.entry(USED).standing == "accepted"


async def test_choosing_one_of_two_entries_leaves_the_other(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", "1")
        assert book.entry(USED).entry.quantity == 10
        assert book.entry(SPOILED).version == 1
        assert len(book.entries(JOB, MONDAY)) == 6


async def test_a_dropped_entry_stays_in_sight(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("d")
        assert book.entry(MEASURED).standing == "dropped"
        assert "× 07:30" in screen_text(app)


async def test_undo_brings_back_the_earlier_version(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "u")
        assert book.entry(MEASURED).open
        assert chosen(app) == MEASURED


async def test_undo_takes_back_a_chosen_hearing_in_one_step(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("1", "u")
        assert str(book.entry(MEASURED).entry.inches) == "191/16"
        assert book.entry(MEASURED).open


async def test_undo_again_takes_back_the_decision_before(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "d", "u", "u")
        assert book.entry(USED).open
        assert book.entry(MEASURED).open


async def test_undo_is_for_the_entry_that_the_cursor_was_moved_to(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "d")
        app.screen.query_one(EntryList).choose(str(MEASURED))
        await pilot.press("u")
        assert book.entry(MEASURED).open
        assert book.entry(USED).standing == "dropped"


async def test_earlier_versions_can_be_read(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("d")
        app.screen.query_one(EntryList).choose(str(MEASURED))
        await pilot.pause()
        assert "versions, newest first" in screen_text(app)


async def test_next_and_previous_doubt_go_round(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n")
        assert chosen(app) == USED
        await pilot.press("n")
        assert chosen(app) == MEASURED
        await pilot.press("p")
        assert chosen(app) == USED


async def test_markup_in_a_note_is_shown_literally(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        assert "[bold]the wire[/bold] is behind" in screen_text(app)


async def test_control_characters_never_reach_the_terminal(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        assert "\x1b" not in screen_text(app)


async def test_a_typed_entry_is_added_to_the_day(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("t", *"used 3 sticks of fascia", "enter")
        await pilot.pause()
        added = book.entries(JOB, MONDAY)[-1]
        assert added.entry.item == "fascia"
        assert added.entry.quantity == 3
        assert chosen(app) == added.id


async def test_a_book_that_refuses_is_shown_plainly(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_book: Book, _id: int) -> None:
        raise BookError("book.sqlite: the disk is full; make room and try again")

    monkeypatch.setattr(decisions, "accept", refuse)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press("a")
        await pilot.pause()
        assert "book.sqlite: the disk is full" in screen_text(app)
        assert book.entry(MEASURED).open


def test_opening_the_review_loads_no_recognizer() -> None:
    import subprocess
    import sys

    loaded = "{'vosk', 'onnxruntime', 'pillow_heif'} & set(sys.modules)"
    asked = f"import sys, joblog_tui.app; print({loaded})"
    said = subprocess.run(
        [sys.executable, "-c", asked],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
    )
    assert said.stdout.strip() == "set()"


async def test_what_makes_no_sense_is_asked_and_settled_by_one_key(
    book: Book, tmp_path: Path
) -> None:
    tell_too_much(book, tmp_path)
    app = ReviewApp(open_desk(book, JOB), WEDNESDAY)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "only 16 ever came" in screen_text(app)
        await pilot.press("a")
        await pilot.pause()
        assert "ever came" not in screen_text(app)
    assert book.entries(JOB, WEDNESDAY)[0].standing == "accepted"


def tell(book: Book, entry: Entry, day: int) -> None:
    at = datetime(2026, 10, day, 17, tzinfo=ZONE)
    decisions.add_typed(book, JOB, Reading((entry,)), "told", at)


async def test_a_day_says_what_was_to_be_done_by_it_and_what_was_told_of_it_later(
    book: Book,
) -> None:
    tell(book, Entry("todo", note="bring the brake", day=TUESDAY), 5)
    tell(book, Entry("weather", fahrenheit=Fraction(41), day=TUESDAY), 7)
    app = ReviewApp(open_desk(book, JOB), TUESDAY)
    async with app.run_test(size=SIZE):
        assert " due: to do: bring the brake (entry 8)" in screen_text(app)
        assert " told on 2026-10-07: weather: 41 F (entry 9)" in screen_text(app)


async def test_a_day_that_no_other_speaks_of_has_no_such_lines(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE):
        assert not app.screen.query_one("#others").display
