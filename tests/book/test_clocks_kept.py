"""Clocks that were found once are not found anew by a program that is started later."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from two_jobs import AT, CUE, JOB, a_book, pictured, recorded, said

from joblog.book import Book, decisions, ties
from joblog.book.making import FILE
from joblog.model import ClockCorrection


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with a_book(tmp_path) as book:
        for number, minutes in enumerate((200, 231, 290)):
            recorded(book, tmp_path, f"cue {number}", said(CUE), hours=minutes)
            pictured(book, tmp_path, f"slow {number}", AT + timedelta(hours=minutes, seconds=6))
        ties.tie_photos(book, JOB.name)
        return book.folder


def counted(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Grows by one each time that clocks are reckoned."""
    asked: list[int] = []
    reckoned = ties._reckoned.__wrapped__

    def counting(*of: object) -> tuple[ClockCorrection, ...]:
        asked.append(1)
        return reckoned(*of)  # type: ignore[arg-type]

    monkeypatch.setattr(ties, "_reckoned", counting)
    return asked


def test_a_decision_that_no_clock_rests_on_finds_none_anew(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = counted(monkeypatch)
    with Book.open(folder) as book:
        clocks = book.clocks(JOB.name)
        decisions.accept(book, 1)
        assert (book.clocks(JOB.name), asked) == (clocks, [])


def test_a_cue_that_is_dropped_and_comes_back_finds_them_anew(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = counted(monkeypatch)
    with Book.open(folder) as book:
        clocks = book.clocks(JOB.name)
        cue = next(one.id for one in book.entries(JOB.name) if one.entry == CUE)
        decisions.drop(book, cue)
        decisions.restore(book, cue)
        assert (book.clocks(JOB.name), len(asked)) == (clocks, 2)


def test_a_damaged_row_is_found_anew(folder: Path) -> None:
    with Book.open(folder) as book:
        clocks = book.clocks(JOB.name)
    with closing(sqlite3.connect(folder / FILE)) as aside, aside:
        aside.execute("UPDATE clock SET seconds = 77.0")
    with Book.open(folder) as book:
        assert book.clocks(JOB.name) == ()
        ties.tie_photos(book, JOB.name)
    with Book.open(folder) as book:
        assert book.clocks(JOB.name) == clocks
