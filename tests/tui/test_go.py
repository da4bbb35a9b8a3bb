"""The menu of all places."""

from __future__ import annotations

import pytest
from evening import SIZE, screen_text
from textual.events import Key

from joblog_tui.app import ReviewApp
from joblog_tui.day import DayScreen
from joblog_tui.days import DaysScreen
from joblog_tui.go import PLACES, Destination, GoScreen
from joblog_tui.history import HistoryScreen
from joblog_tui.squareup import SquareUpScreen

NARROW = (60, 20)


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.name)
async def test_every_place_is_one_letter_away_and_esc_leads_back(
    app: ReviewApp, place: Destination
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "enter")
        await pilot.pause()
        assert isinstance(app.screen, DayScreen)
        await pilot.press("g", {"/": "slash"}.get(place.key, place.key))
        await pilot.pause()
        assert place.is_of(app.screen)
        assert app.fault is None
        if place.key != "d":
            await pilot.press("escape")
            await pilot.pause()
            assert isinstance(app.screen, DayScreen)


async def test_all_places_are_in_sight_on_a_small_screen(app: ReviewApp) -> None:
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("escape", "g")
        await pilot.pause()
        lines = screen_text(app).splitlines()
        shown = [line.split("  ")[0].strip(" ▸") for line in lines]
        assert [place.key for place in PLACES] == [key for key in shown if len(key) == 1]
        assert "esc back" in lines[-1]


def test_no_two_places_share_a_letter() -> None:
    assert len({place.key for place in PLACES}) == len(PLACES)


async def test_where_one_is_is_said_and_the_cursor_is_there(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "p")
        await pilot.pause()
        await pilot.press("g")
        await pilot.pause()
        [here] = [line for line in screen_text(app).splitlines() if "you are here" in line]
        assert "plan" in here
        await pilot.press("down", "enter")
        await pilot.pause()
        at = [place.name for place in PLACES].index("plan")
        assert PLACES[at + 1].is_of(app.screen)


async def test_a_place_that_is_open_already_is_come_back_to(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "s")
        await pilot.pause()
        deep = len(app.screen_stack)
        await pilot.press("g", "t", "g", "s")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)
        assert len(app.screen_stack) == deep
        await pilot.press("g", "d")
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)


async def test_letters_of_the_menu_decide_nothing(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "u", "a", "1", "z")
        await pilot.pause()
        assert isinstance(app.screen, GoScreen)
        assert "undo" not in screen_text(app)


async def test_keys_that_come_too_fast_for_the_menu_close_nothing_more(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "s", "g")
        await pilot.pause()
        deep = len(app.screen_stack)
        for key in "htx":
            app.screen.post_message(Key(key, key))
        await pilot.pause()
        assert isinstance(app.screen, HistoryScreen)
        assert len(app.screen_stack) == deep


async def test_a_place_is_come_back_to_before_the_next_key(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "s", "g", "h")
        await pilot.pause()
        deep = len(app.screen_stack)
        app.action_go_to("s")
        app.action_go_to("s")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)
        assert len(app.screen_stack) == deep - 1
