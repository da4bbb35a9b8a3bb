"""A day that was signed off says what is otherwise since, and nothing where nothing is."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from joblog.book import Book, BookError, decisions, signing, steps
from joblog.book.decisions import line_of
from joblog.model import Entry
from tests.book.two_jobs import AT, JOB, OTHER, USED, a_book, pictured, wrote

DAY = AT.date()


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as made:
        yield made


def changed(book: Book) -> tuple[str, ...]:
    return signing.signed(book, JOB.name)[DAY].changed


def used(book: Book) -> int:
    return next(kept.id for kept in book.entries(JOB.name) if kept.entry.kind == "used")


def test_a_day_stands_as_it_was_signed_until_something_changes(book: Book) -> None:
    assert signing.signed(book, JOB.name) == {}
    signing.sign_off(book, JOB.name, DAY)
    assert changed(book) == ()
    decisions.edit(book, used(book), "quantity", "7")
    [line] = changed(book)
    was, now = (line_of(kept.entry) for kept in book.versions(used(book))[-2:])
    assert line == f"entry {used(book)} was {was}, and is now {now}"
    steps.undo_last(book, JOB.name)
    assert changed(book) == ()


def test_what_comes_or_goes_is_told(book: Book, tmp_path: Path) -> None:
    signing.sign_off(book, JOB.name, DAY)
    gone, moved = used(book), book.entries(JOB.name)[0].id
    decisions.drop(book, gone)
    decisions.move(book, moved, at=AT + timedelta(days=3))
    [new] = wrote(book, Entry("note", note="rain"))
    pictured(book, tmp_path, "late", AT + timedelta(hours=3))
    away = next(one for one in book.photos(JOB.name) if one.name == "wall.jpg")
    decisions.withdraw_photo(book, away.sha256)
    told = "\n".join(changed(book))
    assert f"entry {gone} was dropped" in told
    assert f"entry {moved} is on another day" in told
    assert f"entry {new} is new: " in told
    assert "photo late.jpg is new" in told and "photo wall.jpg is here no more" in told
    assert len(changed(book)) == 5


def test_looking_at_what_was_signed_changes_nothing(book: Book) -> None:
    signing.sign_off(book, JOB.name, DAY)
    for kept in book.entries(JOB.name, DAY):
        decisions.accept(book, kept.id)
    assert changed(book) == ()


def test_signing_again_counts_from_then_on_and_can_be_undone(book: Book) -> None:
    first = signing.sign_off(book, JOB.name, DAY)
    wrote(book, USED)
    assert changed(book)
    assert signing.sign_off(book, JOB.name, DAY).changed == ()
    assert steps.undo_last(book, JOB.name)[0].what == f"signed off once more {DAY}"
    assert changed(book) and signing.signed(book, JOB.name)[DAY].at == first.at


def test_signing_twice_is_signing_once(book: Book) -> None:
    first = signing.sign_off(book, JOB.name, DAY)
    assert signing.sign_off(book, JOB.name, DAY) == first
    assert sum("signed off" in step.what for step in steps.steps(book, JOB.name)) == 1


def test_a_day_with_nothing_on_it_cannot_be_signed(book: Book) -> None:
    with pytest.raises(BookError, match="nothing on"):
        signing.sign_off(book, OTHER.name, DAY)
