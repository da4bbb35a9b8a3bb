"""Copies of one book that are worked in apart, and backed up to the same stick."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from made import a_day, content

from joblog.backup import Lookup, back_up, restore, states
from joblog.backup.descent import copies_of, parted
from joblog.book import Book, BookError


@pytest.fixture
def other(book: Book, stick: Path, tmp_path: Path) -> Path:
    """A copy of the book as it was backed up, with a day of its own in it."""
    back_up(book, stick)
    folder = shutil.copytree(book.folder, tmp_path / "other")
    with Book.open(folder) as copied:
        a_day(copied, 1, photos=0)
    return folder


def test_a_copy_that_was_worked_in_apart_is_told_of_once_and_both_are_kept(
    book: Book, stick: Path, other: Path, tmp_path: Path
):
    a_day(book, 2)
    assert back_up(book, stick).others == ()
    with Book.open(other) as copied:
        [told] = back_up(copied, stick).others
        assert "work of another copy of this book lies there as well" in told
        assert f"from {book.folder.resolve()} on" in told
        assert f"joblog restore {stick} --copy 2 --book NEW" in told
        a_day(copied, 3)
        assert back_up(copied, stick).others == ()
    restored = restore(stick, tmp_path / "second", copy=2)
    assert content(restored.folder) == content(book.folder)
    assert restored.others == ()
    first = restore(stick, tmp_path / "newest")
    assert content(first.folder) == content(other)
    assert "work of another copy" in first.others[0]


def test_of_each_backup_is_told_which_copies_hold_it(book: Book, stick: Path, other: Path):
    a_day(book, 2)
    back_up(book, stick)
    with Book.open(other) as copied:
        back_up(copied, stick)
    every = states(stick)[0]
    assert [copies_of(one, parted(every)) for one in every] == [(1,), (2,), (1, 2)]
    with pytest.raises(BookError, match="2 copies of the book here"):
        restore(stick, other.parent / "third", copy=3)


def test_the_last_of_each_copy_is_never_dropped(book: Book, stick: Path, other: Path):
    a_day(book, 2)
    back_up(book, stick)
    with Book.open(other) as copied:
        back_up(copied, stick, keep=1)
        a_day(copied, 3)
        back_up(copied, stick, keep=1)
    assert [copies_of(one, parted(states(stick)[0])) for one in states(stick)[0]] == [(1,), (2,)]


def test_copies_that_hold_the_same_are_one(book: Book, stick: Path, tmp_path: Path):
    back_up(book, stick)
    folder = shutil.copytree(book.folder, tmp_path / "other")
    with Book.open(folder) as copied:
        assert not back_up(copied, stick).new
        a_day(copied, 1)
        assert back_up(copied, stick).others == ()


def test_a_restored_book_that_goes_on_alone_is_the_same_book(
    book: Book, stick: Path, tmp_path: Path
):
    for day in range(1, 4):
        back_up(book, stick)
        a_day(book, day)
    folder = restore(stick, tmp_path / "again").folder
    with Book.open(folder) as again:
        a_day(again, 9)
        assert back_up(again, stick).others == ()
    assert len(parted(states(stick)[0])) == 1


def test_sticks_in_turn_and_a_stick_that_was_copied_are_no_other_copies(
    book: Book, stick: Path, tmp_path: Path
):
    sticks = [stick, tmp_path / "second", tmp_path / "third"]
    sticks[1].mkdir()
    for number in range(4):
        assert back_up(book, sticks[number % 2]).others == ()
        a_day(book, number + 1)
    shutil.copytree(stick, sticks[2])
    for number in range(6):
        a_day(book, number + 5)
        assert back_up(book, sticks[number % 3]).others == ()


def test_rows_are_mended_from_no_other_copy(book: Book, stick: Path, other: Path):
    with Book.open(other) as copied:
        back_up(copied, stick)
    a_day(book, 2)
    [key] = (str(row["id"]) for row in book._rows("SELECT max(id) AS id FROM entry"))
    with Lookup(book) as lookup:
        assert not any(lookup.rows("entry", [key]))
