"""On a terminal of 60 columns and 20 lines every figure can still be reached."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from evening import screen_text

from joblog.model import Reconciliation
from joblog_tui.app import ReviewApp
from joblog_tui.balance import balance
from joblog_tui.columns import in_columns
from joblog_tui.widgets.balance_list import BalanceList
from tests.tui.test_balance import COUNTED

NARROW = (60, 20)


def test_columns_that_hold_nothing_go_before_a_figure_does() -> None:
    head, [line] = in_columns("item", ("had", "came", "left"), ["panels"], [("-", "160", "9")], 22)
    assert head.split() == ["item", "had", "came", "left"]
    head, [line] = in_columns("item", ("had", "came", "left"), ["panels"], [("-", "160", "9")], 19)
    assert head.split() == ["item", "came", "left"]
    assert line.split() == ["panels", "160", "9"]


def test_a_column_with_a_figure_on_any_line_stays() -> None:
    rows = [("-", "1"), ("2", "3")]
    head, _ = in_columns("item", ("had", "came"), ["panels", "nails"], rows, 15)
    assert head.split() == ["item", "had", "came"]


def test_the_balance_fits_sixty_columns() -> None:
    many = replace(COUNTED, opening=Fraction(2), offcut=Fraction(1, 2))
    [line] = balance(Reconciliation("job", stock=(many,)), 58)
    assert max(map(len, line.shown.splitlines())) <= 58
    assert line.shown.split()[-2:] == ["unexplained", "1"]


def test_where_no_columns_fit_each_name_has_its_figures_below() -> None:
    row = ("about 8.48", "-", "16", "7 1/4")
    head, [shown] = in_columns("item", ("planned", "had", "came", "left"), ["panels"], [row], 24)
    assert head == "item"
    assert shown.splitlines() == ["panels", "  planned about 8.48", "  came 16  left 7 1/4"]


async def test_the_column_names_stand_on_one_line(app: ReviewApp) -> None:
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("s")
        await pilot.pause()
        [names] = [
            line for line in screen_text(app).splitlines() if line.strip().startswith("material")
        ]
        assert names.split()[-1] == "unexp"


async def test_the_days_show_their_hours(app: ReviewApp) -> None:
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("escape")
        await pilot.pause()
        [names] = [line for line in screen_text(app).splitlines() if line.startswith("   day")]
        assert "man-hours" in names.split()


async def test_lines_are_set_anew_when_the_terminal_becomes_wider(app: ReviewApp) -> None:
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert "soffit panel, panel" not in screen_text(app)
        await pilot.resize_terminal(100, 24)
        await pilot.pause()
        assert "soffit panel, panel" in screen_text(app)


@pytest.mark.parametrize("way", [[], ["escape"], ["s"], ["s", "r"], ["escape", "i"], ["c"], ["v"]])
async def test_no_screen_is_longer_than_the_terminal(app: ReviewApp, way: list[str]) -> None:
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press(*way)
        await pilot.pause()
        assert app.screen.max_scroll_y == 0


async def test_every_page_of_the_square_up_shows_whole_lines(app: ReviewApp) -> None:
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("escape", "s")
        for _ in range(8):
            await pilot.pause()
            rows = app.screen.query_one(BalanceList).lines
            widest = [line for row in rows for line in row.shown.splitlines() if len(line) > 57]
            assert widest == []
            # The line of heads and the names of the pages fit as well.
            assert all(len(row.head) <= 57 for row in rows)
            await pilot.press("right")


async def test_on_sixty_columns_hours_stand_below_their_task(app: ReviewApp) -> None:
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("escape", "s", "right", "right")
        await pilot.pause()
        lines = screen_text(app).splitlines()
        at = next(
            at for at, line in enumerate(lines) if line.strip("▸? ").startswith("hang soffit")
        )
        assert lines[at + 1].strip().startswith("planned 18")
