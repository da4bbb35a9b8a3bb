"""In the evening of a day of work a person is told that a backup is due: once, in one line."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from made import a_day

from joblog.backup import back_up, due
from joblog.book import Book
from joblog.service import keeping_safe

NOW = datetime.now(UTC)
TOMORROW = (NOW + timedelta(days=1)).replace(hour=18)


@pytest.fixture
def lasting(monkeypatch: pytest.MonkeyPatch) -> None:
    """The books of tests lie where nothing is meant to stay."""
    monkeypatch.setattr(keeping_safe, "lasts", lambda folder: True)


def test_a_book_that_was_never_backed_up_says_how_much_lies_here_alone(book: Book):
    a_day(book, 1)
    assert due(book, TOMORROW) == (
        "no backup yet, and 2 days of work lie here alone;"
        " plug in a stick and say joblog backup FOLDER"
    )


@pytest.mark.parametrize("column", ["value", "name"])
def test_a_damaged_note_of_backups_is_not_taken_for_none(book: Book, stick: Path, column: str):
    back_up(book, stick)
    a_day(book, 1)
    flip = f"UPDATE setting SET {column} = replace({column}, 'b', 'c') WHERE name = 'backups'"
    folder = book.folder
    book.close()
    with closing(sqlite3.connect(folder / "book.sqlite")) as file:
        file.execute(flip)
        file.commit()
    with Book.open(folder) as again:
        said = due(again, TOMORROW)
    assert (
        said
        == "the note of the last backup is damaged; say joblog backup FOLDER, that of the stick"
    )


def test_days_of_work_since_the_last_are_counted(book: Book, stick: Path):
    back_up(book, stick)
    a_day(book, 1)
    a_day(book, 2)
    said = due(book, TOMORROW)
    assert said is not None
    assert said.startswith("no backup since ")
    assert said.endswith(f", 2 days of work; joblog backup {stick}")


def test_nothing_is_said_where_nothing_is_new(book: Book, stick: Path):
    back_up(book, stick)
    assert due(book, TOMORROW) is None
    assert due(book, NOW + timedelta(days=100)) is None


def test_nothing_is_said_of_an_empty_book(tmp_path: Path):
    with Book.create(tmp_path / "empty") as empty:
        assert due(empty, TOMORROW) is None


def test_a_changed_mind_is_new_as_well(book: Book, stick: Path):
    from joblog.book import decisions

    back_up(book, stick)
    decisions.drop(book, 1)
    said = due(book, TOMORROW)
    assert said is not None
    assert "what you changed since is not in it" in said


def test_in_the_morning_nobody_is_told_before_a_week_is_gone(book: Book, stick: Path):
    back_up(book, stick)
    a_day(book, 1)
    morning = TOMORROW.replace(hour=7)
    assert due(book, morning) is None
    assert due(book, morning + timedelta(days=7)) is not None


@pytest.mark.usefixtures("lasting")
def test_it_is_told_once_an_evening(book: Book):
    assert keeping_safe.reminder(book, TOMORROW) is not None
    assert keeping_safe.reminder(book, TOMORROW) is None
    assert keeping_safe.reminder(book, TOMORROW + timedelta(days=1)) is not None


def test_a_book_among_temporary_files_is_not_meant_to_stay(
    book: Book, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
):
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    assert keeping_safe.reminder(book, TOMORROW) is None
