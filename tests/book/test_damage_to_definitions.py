"""Damage to the tables' definitions hides no row: what they say is known of each version."""

from __future__ import annotations

import random
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, decisions, mending, schema, seals, searching, verify
from joblog.book.database import Database
from joblog.book.soundness import legible
from joblog.model import BookEntry, Entry, Job, Reading

JOB = Job("Gull Point cottage", "America/New_York")
START = datetime(2026, 10, 5, 12, tzinfo=UTC)
HEAD = 100
"""Bytes of the file before its first page's own head (SQLite's published format of files)."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book with three typed entries: 1, 2 and 3 sheets used."""
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        for number in (1, 2, 3):
            used = Entry("used", item="soffit panel", quantity=Fraction(number), unit="sheet")
            at = START + timedelta(minutes=number)
            decisions.add_typed(book, JOB.name, Reading((used,)), f"used {number} sheets", at)
    return tmp_path / "book"


def entries(folder: Path) -> tuple[BookEntry, ...]:
    with Book.open(folder) as book:
        return book.entries(JOB.name)


def reads_on_and_is_mended(folder: Path, whole: bytes, at: int, turned: bytes) -> None:
    written = entries(folder)
    file = folder / "book.sqlite"
    file.write_bytes(whole[:at] + turned + whole[at + len(turned) :])
    assert entries(folder) == written
    with Book.open(folder) as book:
        assert [one.what for one in verify.verify(book)] == [str(file)]
    with Book.open(folder) as book:
        assert [one.what for one in mending.mend(book, mending.Nowhere())] == [str(file)]
    assert entries(folder) == written
    with Book.open(folder) as book:
        assert not tuple(verify.verify(book))


PLACES = {
    "what a column must be": (b"job (\n    id INTEGER PRIMARY KEY,\n    name TEXT N", b"P"),
    "the name of a column": (b"CREATE TABLE job (\n    id INTEGER PRIMARY KEY,\n    n", b"b"),
    "the name of a table": (b"tablejobj", b"O"),
    "no text at all": (b"tableentry_versionentry_version\x33CREATE TABLE", b"\xdf"),
    "where a table begins": (b"tableentry_versionentry_version", b"\x34"),
    "where one begins that begins where another does": (b"tabledoubtdoubt", b"\x14"),
    "an index": (b"CREATE IND", b"F"),
}


@pytest.mark.parametrize("place", PLACES)
def test_a_byte_turned_in_a_definition_hides_no_row(folder: Path, place: str) -> None:
    whole = (folder / "book.sqlite").read_bytes()
    before, turned = PLACES[place]
    at = whole.index(before) + len(before)
    assert whole[at : at + 1] != turned
    reads_on_and_is_mended(folder, whole, at, turned)


def pages_of_definitions(whole: bytes) -> list[int]:
    """Where each page begins that holds definitions, behind the first, which leads to them."""
    cells = int.from_bytes(whole[HEAD + 3 : HEAD + 5], "big")
    places = [HEAD + 8]
    for at in range(HEAD + 12, HEAD + 12 + 2 * cells, 2):
        places.append(int.from_bytes(whole[at : at + 2], "big"))
    return [(int.from_bytes(whole[at : at + 4], "big") - 1) * 4096 for at in places]


def test_a_page_of_definitions_lost_hides_no_row(folder: Path) -> None:
    whole = (folder / "book.sqlite").read_bytes()
    lost = whole.index(b"tablejobjob") // 4096 * 4096
    assert lost in pages_of_definitions(whole)
    reads_on_and_is_mended(folder, whole, lost, bytes(4096))


@pytest.mark.parametrize("seed", range(4))
def test_a_bit_turned_anywhere_among_the_definitions_hides_no_row(folder: Path, seed: int) -> None:
    whole = (folder / "book.sqlite").read_bytes()
    draw = random.Random(seed)
    page = draw.choice(pages_of_definitions(whole))
    cells = int.from_bytes(whole[page + 5 : page + 7], "big")
    # The index of the search is made anew, and may be left out.
    searched = (at for at in (whole.find(b"said_words", page, page + 4096),) if at >= 0)
    first = max([cells, *(at - page for at in searched)])
    at = page + draw.randrange(first, 4096)
    reads_on_and_is_mended(folder, whole, at, bytes([whole[at] ^ 1 << draw.randrange(7)]))


def test_an_older_book_is_read_as_it_was_written(tmp_path: Path) -> None:
    file = tmp_path / "older.sqlite"
    older = len(schema.MIGRATIONS) - 3
    with closing(sqlite3.connect(file)) as made:
        db = Database(made)
        seals.know(db)
        searching.know(db)
        schema.migrate(db, older)
        seals.watch(db)
        searching.catch_up(db)
        db.execute("INSERT INTO job (name, zone, places) VALUES (?, ?, '[]')", [JOB.name, JOB.zone])
    whole = file.read_bytes()
    assert whole.count(b"CREATE TABLE job (") == 1
    file.write_bytes(whole.replace(b"CREATE TABLE job (", b"CREATE TABPE job ("))
    with closing(legible(file)) as read:
        assert schema.version(read) == len(schema.MIGRATIONS)
        assert [row[0] for row in read.execute("SELECT name FROM job")] == [JOB.name]
        assert not seals.all_unsound(read)
