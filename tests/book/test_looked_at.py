"""A book that nobody else wrote in is not looked over a second time within a day."""

from __future__ import annotations

import sqlite3
from collections import Counter
from datetime import timedelta
from pathlib import Path

import pytest

from joblog.book import Book, looked_at, seals, verify
from tests.book.two_jobs import JOB, USED, a_book, wrote


@pytest.fixture
def looks(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each table is looked over."""
    counted: Counter[str] = Counter()
    real = seals.unsound

    def counting(db: object, table: str) -> dict[str, bool]:
        counted[table] += 1
        return real(db, table)  # type: ignore[arg-type]

    monkeypatch.setattr(seals, "unsound", counting)
    return counted


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book that was read and closed."""
    a_book(tmp_path).close()
    read(tmp_path / "book")
    return tmp_path / "book"


def read(folder: Path) -> tuple[str, ...]:
    with Book.open(folder) as book:
        book.entries(JOB.name)
        return tuple(one.what for one in book.damage())


def test_what_was_sound_and_lies_as_it_was_closed_is_not_looked_at(
    folder: Path, looks: Counter[str]
) -> None:
    assert read(folder) == () and not looks


def test_what_joblog_wrote_itself_needs_no_look(folder: Path, looks: Counter[str]) -> None:
    with Book.open(folder) as book:
        wrote(book, USED)
    looks.clear()
    assert read(folder) == () and not looks


def test_what_another_program_wrote_is_looked_at_and_told(
    folder: Path, looks: Counter[str]
) -> None:
    raw = sqlite3.connect(folder / "book.sqlite")
    raw.execute("UPDATE entry SET ordinal = 7 WHERE id = 2")
    raw.commit()
    raw.close()
    assert read(folder) and looks["entry"]
    # It is not forgotten by the next who opens it.
    assert read(folder)


def test_a_flipped_bit_is_looked_at(folder: Path, looks: Counter[str]) -> None:
    file = folder / "book.sqlite"
    held = bytearray(file.read_bytes())
    held[-1] ^= 1
    file.write_bytes(held)
    read(folder)
    assert looks["entry_version"]


def test_another_file_of_the_same_bytes_is_looked_at(folder: Path, looks: Counter[str]) -> None:
    file = folder / "book.sqlite"
    other = file.with_name("other")
    other.write_bytes(file.read_bytes())
    other.replace(file)
    read(folder)
    assert looks["entry_version"]


def test_after_a_day_it_is_looked_at_again(
    folder: Path, looks: Counter[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(looked_at, "FRESH", timedelta(0))
    read(folder)
    assert looks["entry_version"]


def test_a_check_trusts_no_earlier_look(folder: Path, looks: Counter[str]) -> None:
    with Book.open(folder) as book:
        assert not tuple(verify.verify(book))
    assert looks["entry_version"] and looks["hearing"]


def test_a_note_that_makes_no_sense_is_no_note(folder: Path, looks: Counter[str]) -> None:
    (folder / "book.sqlite.seen").write_text("[1, 2")
    assert read(folder) == () and looks["entry_version"]


def test_while_another_has_the_book_open_nothing_is_noted(
    folder: Path, looks: Counter[str]
) -> None:
    with Book.open(folder) as other:
        wrote(other, USED)
        read(folder)
        looks.clear()
        read(folder)
        assert looks["entry_version"]
