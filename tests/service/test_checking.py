"""What is damaged is named, and a copy fits together."""

from __future__ import annotations

from pathlib import Path

from joblog.book import Book
from joblog.book.database import Database
from joblog.service import Desk
from joblog.service.checking import accept_damage, check, copy_book, seen_damage


def strike(desk: Desk) -> None:
    """Changes a line behind joblog's back."""
    db = Database(desk.book.folder / "book.sqlite")
    db.execute("UPDATE entry SET ordinal = 7 WHERE id = 1")
    db.close()


def test_a_whole_book_has_nothing_to_name(desk: Desk) -> None:
    assert (seen_damage(desk.book), check(desk.book)) == ((), ())


def test_a_damaged_line_is_named_until_it_is_accepted(desk: Desk) -> None:
    strike(desk)
    with Book.open(desk.book.folder) as book:
        assert [found.what for found in seen_damage(book)] == ["entry 1"]
        assert [found.what for found in check(book)] == ["entry 1"]
        assert [found.what for found in accept_damage(book)] == ["entry 1"]
        assert check(book) == ()


def test_a_copy_says_what_the_book_says(desk: Desk, tmp_path: Path) -> None:
    assert copy_book(desk.book, tmp_path / "copy") == ()
    with Book.open(tmp_path / "copy") as copied:
        assert copied.entries(desk.job.name) == desk.book.entries(desk.job.name)
