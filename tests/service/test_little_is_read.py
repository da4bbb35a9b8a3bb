"""A key costs what it changes and not the whole job: told by what is asked of the book."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from joblog.book import Book, rows
from joblog.dictation import read
from joblog.model import BookEntry
from joblog.service import Desk, decide, record
from joblog.service import questions as asking
from joblog.service.taking_in import keep_typed
from joblog.service.timeline import read_timeline

MANY = 30


@pytest.fixture
def busy(desk: Desk) -> Desk:
    """A desk at a job of many entries, two of them in doubt."""
    at = desk.book.entries(desk.job.name)[0].at
    for text in ("used seven of something", "used nine of something", *["used one sheet"] * MANY):
        keep_typed(desk, read(text, desk.vocabulary), text, at)
    return desk


@contextmanager
def entries_read(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """The numbers of the entries that are made of rows."""
    read: list[int] = []
    real = rows.entry_of

    def counting(id: int, *columns: Any) -> BookEntry:
        read.append(id)
        return real(id, *columns)

    with monkeypatch.context() as watching:
        watching.setattr(rows, "entry_of", counting)
        yield read


def test_a_job_that_lies_still_is_read_once(busy: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    day = record.read_entries(busy)[0].at.date()
    record.read_days(busy)
    with entries_read(monkeypatch) as read:
        record.read_days(busy)
        record.read_day(busy, day)
        read_timeline(busy, day)
        record.read_balance(busy)
        asking.questions(busy)
    assert read == []


def test_the_next_question_reads_what_the_last_one_changed(
    busy: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = asking.questions(busy)[0]
    with entries_read(monkeypatch) as read:
        asking.drop(busy, first)
        assert first not in asking.questions(busy)
    assert set(read) == {one.id for one in first.entries}


def test_what_another_program_wrote_is_read(busy: Desk) -> None:
    [entry, *_] = record.read_entries(busy)
    with Book.open(busy.book.folder) as other:
        from joblog.book import decisions

        decisions.drop(other, entry.id)
    assert record.read_entries(busy)[0].standing == "dropped"


def test_what_was_not_written_after_all_is_not_remembered(
    busy: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = record.read_entries(busy)

    def fails(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as failing:
        failing.setattr("joblog.book.steps.write", fails)
        with pytest.raises(KeyboardInterrupt):
            decide.drop(busy, before[0].id)
    assert record.read_entries(busy) == before


def test_photos_are_not_tied_anew_by_what_ties_do_not_go_by(
    busy: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    tied: list[str] = []
    monkeypatch.setattr("joblog.book.steps.tie_photos", lambda book, job: tied.append(job))
    entry = next(one for one in record.read_entries(busy) if one.entry.kind == "used")
    decide.accept(busy, entry.id)
    decide.edit(busy, entry.id, "quantity", "2")
    assert tied == []
    decide.edit(busy, entry.id, "place", "south eave")
    assert tied == [busy.job.name]


def test_hours_of_days_do_not_square_the_job_up(
    busy: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object) -> None:
        raise AssertionError("the whole job was squared up")

    monkeypatch.setattr(record, "reconcile", never)
    assert record.read_days(busy)
