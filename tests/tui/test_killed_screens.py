"""A screen that dies right after a key, and is opened again, shows what that key decided."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from evening import JOB, SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book, store
from joblog.book.database import Database
from joblog.book.schema import writing
from joblog.service import open_desk
from joblog_tui.app import ReviewApp

DECIDED = ("entry_version", "step", "step_effect", "signing", "closing", "planned_item", "tie")


class Commits:
    """The folder of a book as a kill right after each commit would leave it."""

    def __init__(self, book: Book, scratch: Path) -> None:
        self.book, self.scratch = book, scratch
        self.left: list[Path] = []

    @contextmanager
    def writing(self, db: Database) -> Iterator[None]:
        with writing(db):
            yield
        self.left.append(self.scratch / f"after commit {len(self.left)}")
        shutil.copytree(self.book.folder, self.left[-1])


@pytest.fixture
def commits(book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Commits:
    found = Commits(book, tmp_path)
    monkeypatch.setattr(store, "writing", found.writing)
    return found


@pytest.mark.parametrize("key", ["d"])
async def test_what_a_key_decided_is_there_after_one_commit(
    app: ReviewApp, book: Book, commits: Commits, key: str
) -> None:
    before = held(book)
    async with app.run_test(size=SIZE) as pilot:
        asked = screen_text(app)
        await pressed(pilot, key)
        next_one = screen_text(app)
    assert held(book) != before
    stood = [before]
    for folder in commits.left:
        with Book.open(folder) as left:
            stood.append(held(left))
    # Only one of the commits decided anything: killed at any instant, the key did all or nothing.
    assert [one for one, last in zip(stood[1:], stood, strict=False) if one != last] == [held(book)]
    with Book.open(commits.left[-1]) as left:
        again = ReviewApp(open_desk(left, JOB))
        async with again.run_test(size=SIZE):
            assert question(screen_text(again)) == question(next_one) != question(asked)


async def pressed(pilot: Pilot[None], key: str) -> None:
    await pilot.press(key)
    await pilot.pause()


def held(book: Book) -> dict[str, list[object]]:
    return {table: book._rows(f"SELECT * FROM {table}") for table in DECIDED}


def question(screen: str) -> str:
    """What is asked, without how many were asked before."""
    return screen.splitlines()[2:6].__repr__()
