"""Whether a book is as it was written, and a copy of it that fits together."""

from __future__ import annotations

from pathlib import Path

from joblog.book import Book, verify
from joblog.book.verify import Damage as Damage
from joblog.service.errors import use_case


@use_case
def seen_damage(book: Book) -> tuple[Damage, ...]:
    """What can be seen of damage in passing: rows that figures rest on, and a few originals."""
    return (*book.damage(), *verify.glance(book))


@use_case
def check(book: Book) -> tuple[Damage, ...]:
    """All that is damaged: every row and every original is read."""
    return tuple(verify.verify(book))


@use_case
def accept_damage(book: Book) -> tuple[Damage, ...]:
    """Takes damaged rows as they now read, for good; which they were."""
    return verify.accept(book)


@use_case
def copy_book(book: Book, folder: Path) -> tuple[Damage, ...]:
    """Copies a book, its originals too, into a new folder, even while it is written in.

    What is damaged in the copy. Raises `ServiceError` for a folder that is there already.
    """
    return verify.copy(book, folder)
