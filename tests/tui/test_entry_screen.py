"""One entry, put right field by field."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import datetime
from fractions import Fraction

import pytest
from evening import JOB, SIZE, TUESDAY, ZONE, screen_text
from textual.pilot import Pilot

from joblog.book import Book, decisions
from joblog.model import Doubt, Entry, Reading
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.entry import EntryScreen
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.widgets.words_line import WordsLine

AFTERNOON = datetime(2026, 10, 5, 15, 0, tzinfo=ZONE)
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


def to_row(pilot: Pilot[None], field: str) -> FieldRow:
    """The row of a field, wherever the cursor is."""
    return next(one for one in pilot.app.screen.query(FieldRow) if one.field == field)


def text(pilot: Pilot[None]) -> str:
    app = pilot.app
    assert isinstance(app, ReviewApp)
    return screen_text(app)


async def typed_over(pilot: Pilot[None], field: str, words: str) -> None:
    """Opens the line of a field and types that in the place of what it held."""
    await to_line(pilot, field)
    await pilot.press("enter", "ctrl+u", *words)
    await pilot.pause()


# --- one field --------------------------------------------------------------------------------


async def test_every_field_has_a_line_the_filled_ones_first(book: Book) -> None:
    async with opened(book, USED) as pilot:
        fields = [row.field for row in pilot.app.screen.query(FieldRow)]
        assert fields[:4] == ["kind", "item", "quantity", "unit"]
        assert set(fields[4:]) == {
            "size", "length", "profile", "colour", "place", "note", "day",
        }  # fmt: skip


async def test_enter_edits_a_line_in_place_and_shows_the_whole_entry_before_it_is_kept(
    book: Book,
) -> None:
    async with opened(book, USED) as pilot:
        await typed_over(pilot, "quantity", "11 7/8")
        assert "then: installed: 11 7/8 soffit panels" in text(pilot)
        assert book.entry(USED).version == 1
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(USED).entry.quantity == Fraction(95, 8)
        assert pilot.app.focused is await to_line(pilot, "quantity")


async def test_the_list_narrows_as_one_types_and_tab_takes_its_first(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await typed_over(pilot, "item", "fas")
        assert "fascia" in text(pilot)
        assert "F channel" not in text(pilot)
        await pilot.press("tab")
        await pilot.pause()
        assert "then: installed: 6 sheets of fascia" in text(pilot)
        assert book.entry(USED).version == 1
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(USED).entry.item == "fascia"


async def test_one_of_the_list_is_picked_with_the_arrows_and_kept_with_enter(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await to_line(pilot, "place")
        await pilot.press("enter", "down", "down")
        await pilot.pause()
        assert "then: installed: 6 soffit panels, south eave" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(USED).entry.place == "south eave"


async def test_the_first_name_that_fits_is_taken_by_enter(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await to_line(pilot, "item")
        await pilot.press("enter", "f")
        await pilot.pause()
        assert "then: installed: 6 sheets of fascia" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(USED).entry.item == "fascia"


async def test_up_leaves_a_name_as_it_was_typed(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await to_line(pilot, "item")
        await pilot.press("enter", *"fas", "up", "enter")
        await pilot.pause()
        assert book.entry(USED).entry.item == "fas"


async def test_what_is_typed_takes_the_place_of_what_stood_there(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await to_line(pilot, "quantity")
        await pilot.press("enter", *"12", "enter")
        await pilot.pause()
        assert book.entry(USED).entry.quantity == 12


async def test_what_is_typed_before_the_line_is_in_sight_goes_into_it_and_never_acts(
    book: Book,
) -> None:
    """Among these letters are the keys that drop, take back, keep and leave."""
    async with opened(book, NOTE) as pilot:
        screen = pilot.app.screen
        row = await to_line(pilot, "note")
        before = book.entry(NOTE)
        for key in ("enter", *"dquags"):
            pilot.app.simulate_key(key)
        while row.line is None or not row.line.has_cursor:
            await pilot.pause()
        await pilot.pause()
        assert pilot.app.screen is screen
        assert row.value == "dquags"
        assert book.entry(NOTE) == before


async def test_where_no_line_opens_the_next_key_is_taken_again(book: Book) -> None:
    async with opened(book, NOTE) as pilot:
        await pilot.press("d")
        await pilot.pause()
        await to_line(pilot, "note")
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("d")
        await pilot.pause()
        assert book.entry(NOTE).standing != "dropped"


async def test_a_wrong_value_is_refused_in_a_line_beside_it_and_nothing_is_lost(
    book: Book,
) -> None:
    async with opened(book, USED) as pilot:
        await typed_over(pilot, "quantity", "a few")
        await pilot.press("enter", "enter", "enter")
        await pilot.pause()
        assert "'a few' is not a number" in text(pilot)
        assert "a few" in to_row(pilot, "quantity").value
        assert book.entry(USED).version == 1
        await pilot.press("ctrl+u", *"7", "enter")
        await pilot.pause()
        assert book.entry(USED).entry.quantity == 7


async def test_a_unit_that_the_item_cannot_be_counted_in_is_refused(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await typed_over(pilot, "unit", "lb")
        await pilot.press("enter")
        await pilot.pause()
        assert "soffit panel cannot be counted in lb; it can in panels" in text(pilot)
        assert book.entry(USED).entry.unit == "sheet"


async def test_escape_leaves_the_line_as_it_was_and_then_the_screen(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await typed_over(pilot, "quantity", "99")
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(pilot.app.screen, EntryScreen)
        assert book.entry(USED).version == 1
        assert to_row(pilot, "quantity").value == "6"
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(pilot.app.screen, EntryScreen)


async def test_enter_as_often_as_one_likes_changes_nothing(book: Book) -> None:
    async with opened(book, USED) as pilot:
        for field in ("item", "quantity", "place"):
            await to_line(pilot, field)
            await pilot.press("enter", "enter")
            await pilot.pause()
        assert book.entry(USED).version == 1


async def test_the_doubt_about_the_field_is_settled_and_another_stays_asked(book: Book) -> None:
    [id] = decisions.add_typed(
        book,
        JOB,
        Reading(
            (Entry("used", item="fascia", quantity=Fraction(4), unit="stick"),),
            (Doubt(0, "which number: 4 sticks or 40 sticks?"), Doubt(0, "which wall?")),
        ),
        "used four sticks",
        AFTERNOON,
    )
    async with opened(book, id) as pilot:
        assert "which number" in text(pilot)
        await typed_over(pilot, "quantity", "5")
        await pilot.press("enter")
        await pilot.pause()
        assert "which number" not in text(pilot)
        assert "which wall?" in text(pilot)
        await pilot.press("a")
        await pilot.pause()
        assert book.entry(id).standing == "accepted"


async def test_another_kind_brings_the_lines_of_that_kind(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await typed_over(pilot, "kind", "wast")
        await pilot.press("tab", "enter")
        await pilot.pause()
        assert book.entry(USED).entry.kind == "spoiled"
        assert "reason" in {row.field for row in pilot.app.screen.query(FieldRow)}


async def test_what_came_from_outside_is_text_on_every_line(book: Book) -> None:
    async with opened(book, NOTE) as pilot:
        assert "[bold]the wire[/bold]" in text(pilot)
        assert "\x1b" not in text(pilot)
        await to_line(pilot, "note")
        await pilot.press("enter", "enter")
        await pilot.pause()
        assert book.entry(NOTE).version == 1


# --- the whole entry --------------------------------------------------------------------------


async def test_it_is_dropped_and_brought_back_with_one_key(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await pilot.press("d")
        await pilot.pause()
        assert book.entry(USED).standing == "dropped"
        await pilot.press("enter")
        await pilot.pause()
        assert to_row(pilot, "kind").line is None
        await pilot.press("d")
        await pilot.pause()
        assert book.entry(USED).open


async def test_other_words_start_from_the_entry_as_it_stands_and_change_nothing_untyped(
    book: Book,
) -> None:
    decisions.edit(book, MEASURED, "inches", "12 1/4")
    async with opened(book, MEASURED) as pilot:
        await pilot.press("w")
        await pilot.pause()
        assert "twelve and a quarter" in pilot.app.screen.query_one(WordsLine).value
        await pilot.press("enter", "enter", "enter")
        await pilot.pause()
        assert book.entry(MEASURED).version == 2


async def test_other_words_are_read_and_kept(book: Book) -> None:
    async with opened(book, MEASURED) as pilot:
        await pilot.press("w", "ctrl+u", *"south eave twelve and a half", "enter")
        await pilot.pause()
        assert book.entry(MEASURED).entry.place == "south eave"
        assert "south eave" in text(pilot)


async def test_it_is_split_exactly_and_put_together_again_by_one_undo(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await pilot.press("x", *"2 1/2")
        await pilot.pause()
        assert "1: installed: 2 1/2 soffit panels" in text(pilot)
        assert "2: installed: 3 1/2 soffit panels" in text(pilot)
        assert "in all as before" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        amounts = [one.entry.quantity for one in book.entries(JOB) if one.entry.kind == "used"]
        assert sorted(filter(None, amounts)) == [Fraction(5, 2), Fraction(7, 2), 4]
        await pilot.press("u")
        await pilot.pause()
        assert book.entry(USED).entry.quantity == 6
        assert "6 soffit panels" in text(pilot)


async def test_no_part_of_it_is_no_split(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await pilot.press("x", "enter", *"7", "enter", "enter")
        await pilot.pause()
        assert "7 is no part of 6" in text(pilot)
        assert book.entry(USED).version == 1


async def test_two_alike_are_made_one_after_their_sum_was_in_sight(book: Book) -> None:
    more = Entry("used", item="soffit panel", quantity=Fraction(2), unit="sheet")
    [id] = decisions.add_typed(book, JOB, Reading((more,)), "used two more", AFTERNOON)
    async with opened(book, USED) as pilot:
        await pilot.press("j")
        await pilot.pause()
        assert "together: installed: 8 soffit panels" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert book.entry(USED).entry.quantity == 8
        assert book.entry(id).standing == "dropped"


async def test_where_nothing_is_like_it_nothing_is_joined(book: Book) -> None:
    async with opened(book, NOTE) as pilot:
        await pilot.press("j", "enter", "enter")
        await pilot.pause()
        assert "There is no other entry like it" in text(pilot)
        assert book.entry(NOTE).version == 1


async def test_it_is_moved_to_another_day(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await pilot.press("m", "ctrl+u", *"Oct 6")
        await pilot.pause()
        assert "Tue, Oct 6, 2026, 7:30 AM" in text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        there = book.entry(USED).at.astimezone(ZONE)
        assert (there.date(), there.hour, there.second) == (TUESDAY, 7, 10)


async def test_it_is_moved_into_another_job_and_its_screen_goes(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await pilot.press("m", "tab", "tab", "ctrl+u", *"Emp", "tab", "enter")
        await pilot.pause()
        assert book.job_of(USED) == "Empty house"
        assert not isinstance(pilot.app.screen, EntryScreen)


async def test_a_job_that_is_not_there_is_refused(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await pilot.press("m", "tab", "tab", "ctrl+u", *"Nowhere", "enter")
        await pilot.pause()
        assert "there is no job 'Nowhere'" in text(pilot)
        assert book.job_of(USED) == JOB


async def test_photos_are_tied_and_untied_with_space(book: Book) -> None:
    async with opened(book, USED) as pilot:
        await pilot.press("t")
        await pilot.pause()
        assert "[ ]" in text(pilot)
        assert "now: photo: the open eave" in text(pilot)
        await pilot.press("space")
        await pilot.pause()
        assert "[x]" in text(pilot)
        assert [tie.entry for tie in book.ties(JOB)] == [USED]
        await pilot.press("space")
        await pilot.pause()
        assert USED not in [tie.entry for tie in book.ties(JOB)]


async def test_its_changes_are_told_newest_first(book: Book) -> None:
    decisions.edit(book, USED, "quantity", "7")
    async with opened(book, USED, (80, 40)) as pilot:
        shown = text(pilot)
        assert shown.index("edited: installed: 7") < shown.index("heard: installed: 6")


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_all_keys_and_the_filled_lines_are_in_sight(
    book: Book, size: tuple[int, int]
) -> None:
    async with opened(book, USED, size) as pilot:
        shown = text(pilot)
        for key in ("enter edit", "a right", "d drop", "w other", "m move", "x split", "j join",
                    "t tie", "p play", "v photo", "esc back"):  # fmt: skip
            assert key in shown
        for held in ("soffit panel", "how many      6", "unit          panel"):
            assert held in shown
