"""The day screen: what was, in the order in which it was."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from evening import JOB, MONDAY, SIZE, TUESDAY, WEDNESDAY, ZONE, screen_text
from textual.events import ScreenResume

from joblog.book import Book, BookError, decisions, keep
from joblog.model import Entry, Moment, Photo, Reading
from joblog.service import open_desk, signing
from joblog_tui.app import ReviewApp
from joblog_tui.day import DayScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.fill_in import FillInScreen
from joblog_tui.photo import PhotoScreen
from joblog_tui.questions import QuestionsScreen
from joblog_tui.type_in import TypeScreen
from joblog_tui.widgets.timeline_list import TimelineList, lasting

DELIVERED, MEASURED, USED, SPOILED, NOTE, PHOTO, FASCIA = range(1, 8)
# On Monday two are in doubt, and the words of a note were heard otherwise.
NOON = datetime(2026, 10, 7, 12, tzinfo=ZONE)


@pytest.fixture
def monday(book: Book) -> ReviewApp:
    return ReviewApp(open_desk(book, JOB), MONDAY)


def lines(app: ReviewApp) -> TimelineList:
    return app.screen.query_one(TimelineList)


def tell(book: Book, entry: Entry, at: datetime) -> int:
    return decisions.add_typed(book, JOB, Reading((entry,)), "told", at)[0]


def photograph(book: Book, folder: Path, at: datetime, name: str) -> str:
    path = folder / name
    path.write_bytes(name.encode())
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    keep.keep_photo(
        book, JOB, path, Photo(sha256, name, Moment(at, "EXIF with offset"), 4, 3, trouble="torn")
    )
    return sha256


async def test_it_shows_what_was_said_in_the_order_of_time(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE):
        ids = [option.id for option in lines(monday).options if "entry" in (option.id or "")]
        assert ids == [f"entry {id}" for id in range(1, 7)]


async def test_a_recording_has_its_length_and_its_name(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE):
        assert "recording, 30 s  monday.wav" in screen_text(monday)


async def test_what_waits_is_marked_and_counted(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE):
        assert "? 3 to decide" in screen_text(monday)
        marked = [line for line in screen_text(monday).splitlines() if line.startswith(" ? ")]
        assert any("11 15/16 in" in line for line in marked)


async def test_a_recording_with_something_wrong_is_named(book: Book) -> None:
    app = ReviewApp(open_desk(book, JOB), TUESDAY)
    async with app.run_test(size=SIZE):
        assert "tuesday.wav: ends early" in screen_text(app)


async def test_digits_and_deciding_keys_change_nothing(monday: ReviewApp, book: Book) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        lines(monday).choose(f"entry {MEASURED}")
        await pilot.press(*"123456789", "a", "d", "c", "o", "l")
        await pilot.pause()
        assert [one.version for one in book.entries(JOB)] == [1] * 7
        assert isinstance(monday.screen, DayScreen)


async def test_enter_opens_the_entry_under_the_cursor(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        lines(monday).choose(f"entry {NOTE}")
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(monday.screen, EntryScreen)


async def test_enter_on_a_recording_opens_the_first_thing_said_in_it(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        await pilot.press("home")
        entry = monday.screen.in_sight() if isinstance(monday.screen, DayScreen) else None
        assert entry is not None
        assert entry.id == DELIVERED
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(monday.screen, EntryScreen)


async def test_what_was_heard_of_the_line_under_the_cursor_stands_below(
    monday: ReviewApp,
) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        lines(monday).choose(f"entry {MEASURED}")
        await pilot.pause()
        seen = screen_text(monday)
        assert "? the two recognizers heard 11 15/16 and 7 15/16" in seen
        assert "heard: north eave eleven? and seven eighths heavy" in seen
        assert "   or: north eave seven and seven eighths heavy" in seen


async def test_n_asks_about_the_entry_under_the_cursor(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        lines(monday).choose(f"entry {USED}")
        await pilot.press("n")
        await pilot.pause()
        assert isinstance(monday.screen, QuestionsScreen)
        shown = monday.screen.in_sight()
        assert shown is not None
        assert shown.id == USED
        assert screen_text(monday).startswith(" 1 of 3 · ")


async def test_n_goes_to_the_other_days_when_this_one_is_done(
    monday: ReviewApp, book: Book
) -> None:
    for entry in (MEASURED, USED, NOTE):
        decisions.accept(book, entry)
    async with monday.run_test(size=SIZE) as pilot:
        await pilot.press("n")
        await pilot.pause()
        assert isinstance(monday.screen, QuestionsScreen)
        shown = monday.screen.in_sight()
        assert shown is not None
        assert shown.id == FASCIA


async def test_what_was_decided_is_marked_when_it_is_come_back_to(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        lines(monday).choose(f"entry {USED}")
        await pilot.press("n", "d", "escape")
        await pilot.pause()
        assert "? 2 to decide" in screen_text(monday)
        assert lines(monday).chosen == f"entry {USED}"
        assert str(lines(monday).get_option(f"entry {USED}").prompt).startswith("× ")


async def test_photos_of_one_stretch_are_one_line_and_open_large(
    book: Book, tmp_path: Path
) -> None:
    for minute in range(14):
        photograph(book, tmp_path, NOON + timedelta(minutes=minute), f"{minute}.jpg")
    app = ReviewApp(open_desk(book, JOB), WEDNESDAY)
    async with app.run_test(size=SIZE) as pilot:
        seen = screen_text(app)
        assert "14 photos, 12:00 PM to 12:13 PM  nothing was said of 14" in seen
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, PhotoScreen)


async def test_hours_and_silences_have_lines_of_their_own(book: Book) -> None:
    tell(book, Entry("start", time=NOON.replace(hour=7).time()), NOON.replace(hour=7))
    tell(book, Entry("break", minutes=Fraction(30)), NOON)
    tell(book, Entry("stop", time=NOON.replace(hour=16).time()), NOON.replace(hour=16))
    app = ReviewApp(open_desk(book, JOB), WEDNESDAY)
    async with app.run_test(size=SIZE):
        seen = screen_text(app)
        assert "7:00 AM  at work to 4:00 PM, break 30 min: 8 1/2 man-hours" in seen
        assert "... nothing for 5 h ..." in seen
        assert "... nothing for 4 h ..." in seen


async def test_a_day_without_a_stop_says_that_its_hours_are_not_known(book: Book) -> None:
    tell(book, Entry("start", time=NOON.time()), NOON)
    app = ReviewApp(open_desk(book, JOB), WEDNESDAY)
    async with app.run_test(size=SIZE):
        assert "at work, but a stop is missing" in screen_text(app)


async def test_a_count_that_is_missing_stands_at_the_end_and_is_filled_in_there(
    monday: ReviewApp, book: Book
) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        await pilot.pause()
        await pilot.press("end")
        assert "? soffit panel: nobody counted what is left" in screen_text(monday)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(monday.screen, FillInScreen)
        await pilot.press("4", "enter")
        await pilot.pause()
        counted = book.entries(JOB)[-1]
        assert (counted.entry.kind, counted.entry.quantity) == ("on_hand", 4)


async def test_a_day_says_what_was_to_be_done_by_it_and_what_was_told_of_it_later(
    book: Book,
) -> None:
    due = Entry("todo", note="bring the brake", day=TUESDAY)
    later = Entry("weather", fahrenheit=Fraction(41), day=TUESDAY)
    tell(book, due, NOON - timedelta(days=2))
    tell(book, later, NOON)
    app = ReviewApp(open_desk(book, JOB), TUESDAY)
    async with app.run_test(size=SIZE):
        seen = screen_text(app)
        assert "due: to do: bring the brake" in seen
        assert "told on Wed, Oct 7, 2026: weather: 41 F" in seen


async def test_markup_in_a_note_is_shown_literally(monday: ReviewApp) -> None:
    async with monday.run_test(size=SIZE):
        assert "[bold]the wire[/bold] is behind" in screen_text(monday)
        assert "\x1b" not in screen_text(monday)


async def test_w_writes_one_in(monday: ReviewApp, book: Book) -> None:
    async with monday.run_test(size=SIZE) as pilot:
        await pilot.press("w")
        await pilot.pause()
        assert isinstance(monday.screen, TypeScreen)
        await pilot.press(*"used 3 sticks of fascia", "enter")
        await pilot.pause()
        added = book.entries(JOB, MONDAY)[-1]
        assert (added.entry.item, added.entry.quantity) == ("fascia", 3)
        assert lines(monday).chosen == f"entry {added.id}"


async def test_u_takes_back_what_was_written_in_and_r_does_it_again(
    monday: ReviewApp, book: Book
) -> None:
    async with monday.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press("w")
        await pilot.pause()
        await pilot.press(*"used 3 sticks of fascia", "enter")
        await pilot.pause()
        await pilot.press("u")
        await pilot.pause()
        added = book.entries(JOB, MONDAY)[-1]
        assert added.standing == "dropped"
        assert "took back: wrote: " in screen_text(monday)
        assert "×" in str(lines(monday).get_option(f"entry {added.id}").prompt)
        await pilot.press("r")
        await pilot.pause()
        assert book.entry(added.id).standing == "accepted"
        assert "×" not in str(lines(monday).get_option(f"entry {added.id}").prompt)


async def test_what_others_add_is_shown_and_the_cursor_stays(
    monday: ReviewApp, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("joblog_tui.polled.EVERY", 0.01)
    async with monday.run_test(size=SIZE) as pilot:
        lines(monday).choose(f"entry {USED}")
        with Book.open(tmp_path / "book") as other:
            tell(other, Entry("note", note="the dog is loose"), NOON - timedelta(days=2, hours=6))
        while "the dog is loose" not in screen_text(monday):
            await pilot.pause(0.01)
        assert lines(monday).chosen == f"entry {USED}"


async def test_an_empty_day_says_so(book: Book) -> None:
    app = ReviewApp(open_desk(book, JOB), WEDNESDAY)
    async with app.run_test(size=SIZE) as pilot:
        assert "There is nothing on this day." in screen_text(app)
        await pilot.press("enter", "space", "p", "o")
        assert isinstance(app.screen, DayScreen)


async def test_a_book_that_refuses_is_shown_plainly(
    monday: ReviewApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise BookError("book.sqlite: the disk is full; make room and try again")

    monkeypatch.setattr(decisions, "write_down", refuse)
    monkeypatch.setattr(decisions, "add_typed", refuse)
    async with monday.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press("w")
        await pilot.pause()
        await pilot.press(*"used 3 sticks of fascia", "enter")
        await pilot.pause()
        assert "book.sqlite: the disk is full" in screen_text(monday)


@pytest.mark.parametrize("size", [(60, 20), (140, 45)])
async def test_it_fits_the_terminal(monday: ReviewApp, size: tuple[int, int]) -> None:
    async with monday.run_test(size=size) as pilot:
        await pilot.pause()
        assert monday.screen.max_scroll_y == 0


@pytest.mark.parametrize(
    ("seconds", "written"),
    [(13.06, "13 s"), (60, "1 min"), (9000, "2 h 30 min"), (7200, "2 h"), (7190, "2 h")],
)
def test_a_time_that_something_lasted_is_short(seconds: float, written: str) -> None:
    assert lasting(timedelta(seconds=seconds)) == written


def test_opening_the_review_loads_no_recognizer() -> None:
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


async def test_a_day_is_signed_off_with_one_key_and_says_so_until_it_changes(
    monday: ReviewApp, book: Book
) -> None:
    for entry in (MEASURED, USED, NOTE):
        decisions.accept(book, entry)
    async with monday.run_test(size=SIZE) as pilot:
        assert "nothing to decide" in screen_text(monday)
        await pilot.press("o")
        await pilot.pause()
        assert "✓ signed off " in screen_text(monday)
        await pilot.press("o")
        tell(book, Entry("note", note="the dog is loose"), NOON - timedelta(days=2))
        monday.screen.post_message(ScreenResume())
        await pilot.pause()
        seen = screen_text(monday)
        assert "? signed off " in seen
        assert "but since then: " in seen


async def test_u_takes_back_a_signature(monday: ReviewApp, book: Book) -> None:
    for entry in (MEASURED, USED, NOTE):
        decisions.accept(book, entry)
    async with monday.run_test(size=SIZE) as pilot:
        await pilot.press("o")
        await pilot.pause()
        await pilot.press("u")
        await pilot.pause()
        assert "nothing to decide" in screen_text(monday)
        assert "signed off" not in screen_text(monday)


async def test_a_day_that_asks_is_not_signed_off_and_says_why(
    monday: ReviewApp, book: Book
) -> None:
    async with monday.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press("o")
        await pilot.pause()
        assert "3 to decide first: n asks." in screen_text(monday)
        assert signing.signed(open_desk(book, JOB)) == {}
