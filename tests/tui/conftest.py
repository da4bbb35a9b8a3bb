"""A book with an evening's work in it, and the review opened on it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from evening import JOB, fill

from joblog.book import Book
from joblog.service import open_desk
from joblog_tui.app import ReviewApp


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        fill(made, tmp_path)
        yield made


@pytest.fixture
def app(book: Book) -> ReviewApp:
    return ReviewApp(open_desk(book, JOB))
