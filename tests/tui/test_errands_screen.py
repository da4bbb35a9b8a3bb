"""What is to do, to buy and to settle, over all days."""

from __future__ import annotations

from datetime import UTC, date, datetime
from fractions import Fraction

import pytest
from evening import JOB, SIZE, screen_text

from joblog.book import Book, decisions
from joblog.model import Entry, Reading
from joblog.service import errands, open_desk
from joblog_tui import guard
from joblog_tui.app import ReviewApp
from joblog_tui.behind import BehindScreen
from joblog_tui.entry import EntryScreen


@pytest.fixture
def told(book: Book) -> dict[str, int]:
    """Things to do, to buy and to settle on two days; their numbers by what they are called."""
    stick = Entry("needed", item="fascia", quantity=Fraction(4), unit="stick")
    more = Entry("needed", item="fascia", quantity=Fraction(2), unit="stick")
    said = {
        "sweep": (5, Entry("todo", note="sweep the drive")),
        "call": (6, Entry("todo", note="call the inspector", day=date(2026, 10, 9))),
        "sticks": (5, stick),
        "more sticks": (6, more),
        "rot": (6, Entry("problem", note="rot behind the south fascia")),
    }
    return {name: _tell(book, day, entry, name) for name, (day, entry) in said.items()}


def _tell(book: Book, day: int, entry: Entry, said: str) -> int:
    at = datetime(2026, 10, day, 20, tzinfo=UTC)
    [id] = decisions.add_typed(book, JOB, Reading((entry,)), said, at)
    return id


async def _open(pilot: object) -> None:
    await pilot.press("escape", "g", "t")  # type: ignore[attr-defined]
    await pilot.pause(0.5)  # type: ignore[attr-defined]


async def test_what_has_a_day_comes_first_then_what_is_to_buy_and_problems(
    app: ReviewApp, told: dict[str, int]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        shown = screen_text(app)
        order = ["call the inspector", "sweep the drive", "6 sticks of fascia", "rot behind"]
        places = [shown.index(words) for words in order]
        assert places == sorted(places)
        assert "2 to do, 1 to buy, 1 open problem" in shown
        assert "Oct 9" in shown


async def test_enter_opens_the_entry(app: ReviewApp, told: dict[str, int]) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
        assert "call the inspector" in screen_text(app)


async def test_d_takes_what_is_done_off_the_list_and_u_brings_it_back(
    app: ReviewApp, book: Book, told: dict[str, int]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        await pilot.press("d")
        await pilot.pause()
        assert book.entry(told["call"]).standing == "dropped"
        assert "1 to do" in screen_text(app)
        await pilot.pause(0.5)
        await pilot.press("u")
        await pilot.pause()
        assert book.entry(told["call"]).standing != "dropped"
        assert "2 to do" in screen_text(app)


async def test_d_held_down_takes_one_off(
    app: ReviewApp, book: Book, told: dict[str, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(guard, "HELD", 3600.0)
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        await pilot.press("d", "d")
        await pilot.pause()
        assert [one.id for one in errands.to_do(open_desk(book, JOB))] == [told["sweep"]]


async def test_what_was_asked_for_at_different_times_is_done_in_one_step(
    app: ReviewApp, book: Book, told: dict[str, int]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        await pilot.press("down", "down", "enter")
        await pilot.pause()
        assert isinstance(app.screen, BehindScreen)
        await pilot.press("escape")
        await pilot.pause(0.5)
        await pilot.press("d")
        await pilot.pause()
        standing = {book.entry(told[name]).standing for name in ("sticks", "more sticks")}
        assert standing == {"dropped"}
        await pilot.pause(0.5)
        await pilot.press("u")
        await pilot.pause()
        assert len(errands.wanted(open_desk(book, JOB))[0].entries) == 2


async def test_nothing_to_do_is_said(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        assert "Nothing to do, nothing to buy, and no problem open." in screen_text(app)
