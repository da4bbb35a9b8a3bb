"""Books of every version so far, each made by the joblog of its day, opened by today's.

What such a joblog said that it holds, entry by entry, is said by today's as well. Only what is made
of it, such as figures and rates, has been worked out otherwise since, and is not held against it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from joblog.book import Book, verify
from joblog.book.schema import MIGRATIONS, database
from tests.bench import older_day
from tests.bench.older_books import LAST, NEVER_OUT, differences, held, laid_out, told

JOB = older_day.JOB
Rows = dict[str, list[dict[str, Any]]]


@pytest.fixture(params=sorted(LAST))
def version(request: pytest.FixtureRequest) -> int:
    number: int = request.param
    return number


@pytest.fixture
def older(version: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "book"
    laid_out(version, folder)
    monkeypatch.setenv("JOBLOG_BOOK", str(folder))
    return folder


def rows(folder: Path) -> Rows:
    """Every row of every table that is not made anew of the others."""
    with closing(sqlite3.connect(folder / "book.sqlite")) as db:
        db.row_factory = sqlite3.Row
        tables = db.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {
            name: [dict(row) for row in db.execute(f"SELECT * FROM {name}")]
            for (name,) in tables
            if not name.startswith(("search", "sqlite_", "seal"))
        }


def lost(before: Rows, now: Rows) -> Iterator[tuple[str, dict[str, Any]]]:
    """The rows that are not there any more as they were; what else is there does not matter."""
    for table, old in before.items():
        columns = old[0].keys() if old else ()
        stand = {tuple(row.get(column) for column in columns) for row in now[table]}
        yield from ((table, row) for row in old if tuple(row.values()) not in stand)


def definitions(file: Path) -> set[tuple[str, str]]:
    with closing(sqlite3.connect(file)) as db:
        told = db.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")
        return {(name, " ".join(sql.split())) for name, sql in told}


def test_it_holds_what_it_held(older: Path, version: int) -> None:
    before = {asked: said for asked, said in told(version).items() if held(f"/{asked}")}
    now = {
        asked: older_day.answer(words)
        for words in older_day.ASKED
        if (asked := " ".join(words)) in before
    }
    assert list(differences(before, now)) == []


def test_bringing_it_up_to_date_loses_no_row_and_happens_once(
    older: Path, of_a_new_book: set[tuple[str, str]]
) -> None:
    before = rows(older)
    with Book.open(older) as book:
        assert book._db.execute("PRAGMA user_version").fetchone()[0] == len(MIGRATIONS)
        assert list(lost(before, rows(older))) == []
        assert list(verify.verify(book)) == []
    once = rows(older)
    Book.open(older).close()
    assert rows(older) == once
    assert definitions(older / "book.sqlite") == of_a_new_book


@pytest.fixture(scope="module")
def of_a_new_book(tmp_path_factory: pytest.TempPathFactory) -> set[tuple[str, str]]:
    file = tmp_path_factory.mktemp("new") / "book.sqlite"
    database(file, new=True).close()
    return definitions(file)


def test_of_every_version_one_is_kept() -> None:
    assert sorted({*LAST, *NEVER_OUT}) == list(range(1, max(LAST) + 1))
    assert max(LAST) <= len(MIGRATIONS)
