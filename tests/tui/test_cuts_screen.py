"""The cut list of what was said to be cut."""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime
from fractions import Fraction
from threading import Event

import pytest
from evening import JOB, SIZE, screen_text

import joblog_tui.cuts
from joblog.book import Book, decisions
from joblog.model import Entry, Reading
from joblog.service.cutting import cut_list
from joblog_tui.app import ReviewApp


def _cut(book: Book, pieces: int, inches: Fraction, place: str = "north eave") -> None:
    entry = Entry("measure", item="fascia", inches=inches, pieces=pieces, place=place)
    at = datetime(2026, 10, 5, 20, tzinfo=UTC)
    decisions.add_typed(book, JOB, Reading((entry,)), "cut some", at)


async def _open(pilot: object, app: ReviewApp) -> None:
    await pilot.press("escape", "g", "c")  # type: ignore[attr-defined]
    await app.workers.wait_for_complete()
    await pilot.pause()  # type: ignore[attr-defined]


async def test_each_stick_with_its_marks_and_what_is_left(app: ReviewApp, book: Book) -> None:
    # Three pieces of 47 7/8 and two cuts of 1/8 between them are 143 7/8 of the 144 inches.
    _cut(book, 3, Fraction(383, 8))
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot, app)
        shown = screen_text(app)
        assert "3 pieces to cut" in shown
        assert "1 x 12': 3 x 47 7/8" in shown
        assert "marks at 47 7/8, 95 7/8, 143 7/8" in shown
        assert "for north eave" in shown


async def test_while_it_is_worked_out_keys_are_taken_and_it_says_so(
    app: ReviewApp, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    _cut(book, 3, Fraction(383, 8))
    go_on = Event()

    def slow(*asked: object) -> object:
        go_on.wait(60)
        return cut_list(*asked)  # type: ignore[arg-type]

    monkeypatch.setattr(joblog_tui.cuts, "cut_list", slow)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "c")
        await pilot.pause()
        assert "Working out what to cut from which stick" in screen_text(app)
        await pilot.press("question_mark")
        await pilot.pause()
        await pilot.press("escape")
        go_on.set()
        await asyncio.sleep(0)
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "Working out" not in screen_text(app)
        assert "1 x 12': 3 x 47 7/8" in screen_text(app)


async def test_what_cannot_be_cut_is_said(app: ReviewApp, book: Book) -> None:
    _cut(book, 1, Fraction(200))
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot, app)
        assert "is longer than the longest stock" in screen_text(app).splitlines()[1]


async def test_a_job_without_pieces_says_how_to_say_them(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot, app)
        assert "No pieces were said to be cut on this job." in screen_text(app)
