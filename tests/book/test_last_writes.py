"""What was written last before joblog was stopped outlives a turned bit; a torn end is let be."""

from __future__ import annotations

import random
import shutil
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, decisions, last_writes, seals, verify
from joblog.model import Entry, Job, Reading

JOB = Job("Gull Point cottage", "America/New_York")
START = datetime(2026, 10, 5, 12, tzinfo=UTC)
LOG = "book.sqlite-wal"


@pytest.fixture(scope="module")
def stopped(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a book whose joblog was killed after three entries."""
    folder = tmp_path_factory.mktemp("stopped")
    with Book.create(folder / "book") as book:
        book.add_job(JOB)
    with Book.open(folder / "book") as book:
        for number in range(3):
            used = Entry("used", item="panel", quantity=Fraction(number + 1), unit="sheet")
            decisions.add_typed(book, JOB.name, Reading((used,)), f"used {number}", START)
        shutil.copytree(folder / "book", folder / "stopped")
    (folder / "stopped" / "book.sqlite-shm").unlink()
    return folder / "stopped"


def struck(stopped: Path, to: Path, log: bytes) -> Path:
    shutil.copytree(stopped, to)
    (to / LOG).write_bytes(log)
    return to


def counted(folder: Path) -> tuple[list[int], int, list[str]]:
    """The entries, how many were put right, and what is damaged."""
    with Book.open(folder) as book:
        turned = book._sound.turned_back
        told = [found.what for found in verify.verify(book)]
        ids = [one.id for one in book.entries(JOB.name)]
        assert seals.all_unsound(book._db) == {} or told
        return ids, turned.bits if turned else 0, told


def test_no_turned_bit_in_the_log_loses_a_write(stopped: Path, tmp_path: Path) -> None:
    whole = (stopped / LOG).read_bytes()
    chance = random.Random(5)
    page = 4096 + last_writes.FRAME
    # Of what it begins with, of a page's head, of its checksum, of the last page, and anywhere.
    places = [17, last_writes.HEAD + 9, last_writes.HEAD + 18, len(whole) - page + 17]
    places += [chance.randrange(len(whole)), chance.randrange(len(whole))]
    for number, at in enumerate(places):
        log = bytearray(whole)
        log[at] ^= 1 << chance.randrange(8)
        folder = struck(stopped, tmp_path / str(number), bytes(log))
        ids, bits, told = counted(folder)
        assert bits == 1
        assert ids == [1, 2, 3] or told
        [kept] = (folder / "media" / "damaged").iterdir()
        assert kept.read_bytes() == bytes(log)


def test_a_log_that_is_whole_or_torn_at_its_end_is_let_be(stopped: Path, tmp_path: Path) -> None:
    whole = (stopped / LOG).read_bytes()
    for number, log in enumerate(
        (whole, whole[:-1000], whole[:-4096], whole[:-3000] + bytes(3000), whole[:40], b"")
    ):
        folder = struck(stopped, tmp_path / str(number), log)
        assert last_writes.put_right(folder / "book.sqlite", folder / "media") is None
        assert (folder / LOG).read_bytes() == log


def test_writes_that_are_lost_behind_a_damaged_page_are_told(stopped: Path, tmp_path: Path) -> None:
    log = bytearray((stopped / LOG).read_bytes())
    log[500:900] = b"?" * 400
    folder = struck(stopped, tmp_path / "book", bytes(log))
    with Book.open(folder) as book:
        assert "what was written last" in [found.what for found in verify.verify(book)]
    with Book.open(folder) as book:
        assert "what was written last" in [found.what for found in verify.accept(book)]
        assert list(verify.verify(book)) == []
