"""A bit that turns where nothing is written is named too, and nothing that anybody wrote is."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from joblog.book import Book, looked_at, mending, pages, verify
from joblog.model import Job

JOB = Job("Gull Point cottage", "America/New_York")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """The file of a book that was looked at and closed."""
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        assert list(verify.verify(book)) == []
    made = tmp_path / "book" / "book.sqlite"
    if looked_at.unchanged(made) is None or pages._sums(made, 1 << 30) is None:
        pytest.skip("files have no exact times here, or SQLite cannot be asked for its pages")
    return made


def rot(file: Path) -> None:
    """Turns a bit in the middle of a page, where a young book has nothing; no time tells it."""
    before = file.stat()
    content = bytearray(file.read_bytes())
    place = next(
        at + 2048 for at in range(0, len(content), 4096) if not any(content[at + 1024 : at + 3072])
    )
    content[place] ^= 4
    with file.open("r+b") as writing:
        writing.write(content)
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))


def test_a_bit_that_turned_where_nothing_is_written_is_named_and_the_file_written_anew(
    file: Path,
) -> None:
    rot(file)
    with Book.open(file.parent) as book:
        [found] = verify.verify(book)
        assert (found.what, "changed by itself" in found.why) == (str(file), True)
    with Book.open(file.parent) as book:
        assert [one.what for one in mending.mend(book, mending.Nowhere())] == [str(file)]
    with Book.open(file.parent) as book:
        assert list(verify.verify(book)) == []


def test_what_anybody_wrote_since_is_no_rot(file: Path, tmp_path: Path) -> None:
    with Book.open(file.parent) as book:
        book.set_setting("job", JOB.name)
        with Book.open(file.parent) as other:
            assert list(verify.verify(other)) == []
        assert pages.turned(file) == ()
    shutil.copytree(file.parent, tmp_path / "copied")
    for folder in (file.parent, tmp_path / "copied"):
        with Book.open(folder) as book:
            assert list(verify.verify(book)) == []
        assert pages.turned(folder / "book.sqlite") == ()


def test_a_note_that_is_damaged_itself_tells_nothing(file: Path) -> None:
    rot(file)
    beside = file.with_name("book.sqlite.pages")
    content = bytearray(beside.read_bytes())
    content[-1] ^= 1
    beside.write_bytes(content)
    assert pages.turned(file) == ()


def test_before_anything_is_written_the_checksums_are_gone(file: Path) -> None:
    with Book.open(file.parent) as book:
        assert file.with_name(f"{file.name}{pages.ENDING}").exists()
        book.set_setting("job", JOB.name)
        assert not file.with_name(f"{file.name}{pages.ENDING}").exists()
