"""What the drills share: a small book, and a stick."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from made import small_book

from joblog.book import Book


@pytest.fixture(autouse=True)
def no_waiting_for_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """Waiting for the disk is what takes the time here, and no test pulls the plug."""
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.open(small_book(tmp_path / "book")) as book:
        yield book
