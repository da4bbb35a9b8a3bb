"""Every screen shows all its keys in 80 columns and 24 lines."""

from __future__ import annotations

import pytest
from evening import SIZE, screen_text

from joblog_tui.app import ReviewApp
from joblog_tui.rates import RatesScreen
from joblog_tui.widgets.keybar import KeyBar

SCREENS = [
    pytest.param(
        ["escape"],
        [
            "enter open the day",
            "n next doubt",
            "i items and tasks",
            "r rates",
            "s square up",
            "q done",
        ],
        id="days",
    ),
    pytest.param(
        [],
        [
            "a accept",
            "1-9 choose",
            "c correct",
            "d drop",
            "u undo",
            "n next doubt",
            "p previous",
            "t type one in",
            "v photo",
            "esc back",
            "s square up",
            "? keys",
            "q done",
        ],
        id="day",
    ),
    pytest.param(
        ["c"], ["enter save", "esc leave it as it was", "^u empty the line"], id="correcting"
    ),
    pytest.param(
        ["s"],
        [
            "→ next page",
            "← page before",
            "enter entries behind the line",
            "c close the job",
            "r rates",
            "esc back",
            "? keys",
            "q done",
        ],
        id="square up",
    ),
    pytest.param(["s", "enter"], ["enter open it in its day", "esc back"], id="behind a line"),
    pytest.param(["s", "r"], ["enter larger", "esc back", "? keys", "q done"], id="rates"),
    pytest.param(
        ["s", "c"],
        ["enter entries behind the line", "c close it anyway", "esc back"],
        id="in the way of closing",
    ),
    pytest.param(["v"], ["→ next photo", "← previous photo", "esc back"], id="photo"),
    pytest.param(["question_mark"], ["esc back"], id="help"),
    pytest.param(
        ["escape", "i"],
        [
            "enter change it",
            "/ find",
            "a add an item",
            "t add a task",
            "d drop it",
            "esc back",
            "s square up",
            "? keys",
            "q done",
        ],
        id="catalog",
    ),
    pytest.param(
        ["escape", "i", "slash"], ["enter to the list", "esc back"], id="looking in the catalog"
    ),
    pytest.param(
        ["escape", "i", "enter"],
        ["enter save", "↑ ↓ other field", "^u empty the line", "esc leave it as it was"],
        id="a line of the catalog",
    ),
    pytest.param(["escape", "i", "d"], ["y yes", "n no"], id="a question"),
]


@pytest.mark.parametrize(("way", "keys"), SCREENS)
async def test_all_keys_are_on_the_screen(app: ReviewApp, way: list[str], keys: list[str]) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*way)
        await pilot.pause()
        bottom = " ".join(screen_text(app).splitlines()[-2:])
        assert [key for key in keys if key not in bottom] == []


async def test_the_help_page_fits_without_turning(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("question_mark")
        await pilot.pause()
        assert "deciding" in screen_text(app)
        assert "accepted, dropped" in screen_text(app)


async def test_q_ends_the_review(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("q")
        await pilot.pause()
        assert not app.is_running


async def test_keys_typed_after_q_open_nothing(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        app.simulate_key("q")
        app.simulate_key("s")
        app.simulate_key("r")
        await pilot.pause()
        assert not app.is_running


async def test_the_keys_of_a_screen_stay_while_another_is_being_set_up(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        bar = app.screen.query_one(KeyBar)
        before = bar.render()
        app.push_screen(RatesScreen(app._desk))
        assert bar.render() == before
        await pilot.pause()
