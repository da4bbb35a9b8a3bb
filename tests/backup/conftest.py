"""What the drills share: a small book, and a stick."""

from __future__ import annotations

import os
import shutil
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


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_book(tmp_path_factory.mktemp("made") / "book")


@pytest.fixture
def folder(made_once: Path, tmp_path: Path) -> Path:
    """A book that nobody has open."""
    return shutil.copytree(made_once, tmp_path / "book")


@pytest.fixture
def book(folder: Path) -> Iterator[Book]:
    with Book.open(folder) as book:
        yield book
