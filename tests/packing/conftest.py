"""A book of two jobs, made once, and one to unpack into."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from joblog.book import Book
from joblog.packing import pack, unpack
from tests.book.two_jobs import JOB
from tests.packing.books import full_book, new_book


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the book, the first of its jobs in `job.jobpack`, and in the book `taken`."""
    folder = tmp_path_factory.mktemp("made")
    with full_book(folder) as book:
        pack(book, JOB.name, folder / "job.jobpack")
    with new_book(folder / "taken") as taken:
        unpack(taken, folder / "job.jobpack")
    return folder


@pytest.fixture
def book(made: Path, tmp_path: Path) -> Iterator[Book]:
    """The book that jobs are packed from."""
    shutil.copytree(made / "book", tmp_path / "book")
    with Book.open(tmp_path / "book") as opened:
        yield opened


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Book]:
    """Another book, with nothing in it."""
    with new_book(tmp_path / "other") as opened:
        yield opened


@pytest.fixture
def taken(made: Path, tmp_path: Path) -> Iterator[Book]:
    """Another book, with the job as it is in `book`."""
    shutil.copytree(made / "taken", tmp_path / "taken")
    with Book.open(tmp_path / "taken") as opened:
        yield opened
