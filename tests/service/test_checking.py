"""What is damaged is named, and a copy fits together."""

from __future__ import annotations

from pathlib import Path

from joblog.book import Book, seen
from joblog.book.database import Database
from joblog.service import Desk
from joblog.service.checking import (
    accept_damage,
    check,
    copy_book,
    is_copied,
    look_on,
    seen_damage,
)


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
    assert is_copied(desk.book, tmp_path / "copy")
    assert not is_copied(desk.book, tmp_path / "elsewhere")
    with Book.open(tmp_path / "copy") as copied:
        assert copied.entries(desk.job.name) == desk.book.entries(desk.job.name)


def test_a_little_in_each_round_comes_round_to_all_and_is_noted_at_the_end(desk: Desk) -> None:
    told: list[object] = []
    before = desk.book.written()
    rounds = len(seen.parts(desk.book))
    with Book.open(desk.book.folder) as book:
        look_on(book, told.append, rounds=rounds - 1)
        assert seen.seen(book).since is None
        look_on(book, told.append, rounds=1)
        assert seen.seen(book).since is not None
    assert (told, desk.book.written()[0] > before[0]) == ([], True)


def test_it_stops_when_nobody_waits_any_more(desk: Desk) -> None:
    look_on(desk.book, lambda found: None, going=lambda: False, rest=1000.0)
    assert set(seen.parts(desk.book)) & set(seen.moments(desk.book)) == {seen.STRUCTURE}


def test_what_is_damaged_is_told_once(desk: Desk) -> None:
    strike(desk)
    told: list[str] = []
    with Book.open(desk.book.folder) as book:
        look_on(book, lambda found: told.append(found.what), rounds=len(seen.parts(book)))
    assert told == ["entry 1"]


def test_an_original_that_is_missing_did_not_come(desk: Desk) -> None:
    with Book.open(desk.book.folder) as book:
        look_on(book, lambda found: None, rounds=len(seen.parts(book)))
        row = {"job": 1, "bytes": 1, "made_at": "2026-10-05T12:00:00+00:00"}
        row |= {"made_source": "file", "seconds": 1.0, "standing": "kept"}
        for name in ("here", "missing"):
            book._insert("recording", {**row, "sha256": name, "name": name, "media": f"{name}.wav"})
        book.store.mkdir(exist_ok=True)
        (book.store / "here.wav").write_bytes(b"\0")
        assert seen.seen(book).fresh == 1
