"""A job packed in one book is the same in another, however often and in whatever order it comes."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from uuid import uuid4

import pytest

from joblog.book import Book, decisions, steps
from joblog.book.errors import BookError
from joblog.book.schema_of_packs import BOOK
from joblog.book.verify import verify
from joblog.packing import pack, unpack
from joblog.packing.nouns import PackError
from tests.book.two_jobs import AT, JOB, OTHER, pictured, stock
from tests.packing.books import goes_on, new_book, rows_of, wrote
from tests.packing.telling import apart, told


def packed(book: Book, name: str = "job", job: str = JOB.name) -> Path:
    return pack(book, job, book.folder.parent / f"{name}.jobpack").file


def differs(one: Book, other: Book, job: str = JOB.name) -> list[str]:
    """Of what both do not say the same of the job."""
    words = ("panel", "north eave")
    return apart(told(one, job, *words), told(other, job, *words))


# --- into an empty book -----------------------------------------------------------------------


def test_all_that_is_told_of_a_job_is_the_same_in_another_book(book: Book, other: Book) -> None:
    unpacked = unpack(other, packed(book))
    assert (unpacked.outcome, unpacked.told) == ("new", ())
    assert differs(book, other) == []
    assert list(verify(other)) == []  # Its originals too came byte for byte.
    assert other.jobs() == (book.job(JOB.name),)


def test_every_step_can_be_undone_in_the_other_book_as_in_the_first(
    book: Book, taken: Book
) -> None:
    for one in (book, taken):
        with pytest.raises(BookError, match="nothing to undo"):
            while steps.undo_last(one, JOB.name):
                pass
    one, two = told(book, JOB.name, "panel"), told(taken, JOB.name, "panel")
    assert set(apart(one, two)) <= {"entries", "days", "history", "came"}  # When it was undone.
    assert [kept.entry for kept in book.entries(JOB.name)] == [
        kept.entry for kept in taken.entries(JOB.name)
    ]
    assert list(verify(taken)) == []


def test_a_job_goes_through_a_third_book_and_is_still_the_same(
    book: Book, taken: Book, tmp_path: Path
) -> None:
    with new_book(tmp_path / "third") as third:
        unpack(third, packed(taken, "again"))
        assert differs(book, third) == []
        assert unpack(third, packed(book)).outcome == "same"


def test_both_jobs_come_to_be_what_they_were_in_whatever_order(book: Book, other: Book) -> None:
    for job in (OTHER, JOB):
        assert unpack(other, packed(book, job.name, job.name)).outcome == "new"
    assert {job.name for job in other.jobs()} == {JOB.name, OTHER.name}
    for job in (JOB, OTHER):
        one, two = told(book, job.name, "panel"), told(other, job.name, "panel")
        assert set(apart(one, two)) <= {"history"}  # Its steps came in another order.
        assert sorted(map(repr, one["history"])) == sorted(map(repr, two["history"]))
    assert list(verify(other)) == []


# --- again ------------------------------------------------------------------------------------


def test_the_same_pack_again_changes_nothing(book: Book, taken: Book) -> None:
    file = packed(book)
    before = rows_of(taken)
    assert unpack(taken, file).outcome == "same"
    assert rows_of(taken) == before


def test_a_pack_of_the_book_itself_changes_nothing_in_it(book: Book) -> None:
    file, before = packed(book), rows_of(book)
    assert unpack(book, file).outcome == "same"
    assert rows_of(book) == before


def test_a_later_pack_takes_the_place_of_what_is_here(
    book: Book, taken: Book, made: Path, tmp_path: Path
) -> None:
    goes_on(book, tmp_path / "more")
    unpacked = unpack(taken, packed(book, "later"))
    assert (unpacked.outcome, unpacked.entries, unpacked.originals) == ("went on", 3, 8)
    assert differs(book, taken) == []
    assert list(verify(taken)) == []
    before = rows_of(taken)
    assert unpack(taken, made / "job.jobpack").outcome == "older"
    assert rows_of(taken) == before


def test_what_was_only_undone_since_is_undone_here_too(book: Book, taken: Book, made: Path) -> None:
    decisions.set_fence(book, JOB.name, None)
    unpack(taken, packed(book, "second"))
    steps.undo_last(book, JOB.name)
    assert unpack(taken, packed(book, "third")).outcome == "went on"
    assert differs(book, taken) == []
    for older in (book.folder.parent / "second.jobpack", made / "job.jobpack"):
        assert unpack(taken, older).outcome == "older"
    assert differs(book, taken) == []


def test_a_job_that_went_on_in_the_other_book_comes_back(
    book: Book, taken: Book, tmp_path: Path
) -> None:
    goes_on(taken, tmp_path / "more")
    back = packed(taken, "back")
    assert unpack(book, back).outcome == "went on"
    assert differs(taken, book) == []
    assert unpack(book, back).outcome == "same"
    assert unpack(taken, packed(book, "and again")).outcome == "same"
    assert list(verify(book)) == []


def test_where_both_went_on_nothing_is_changed_and_it_is_told_which_has_what(
    book: Book, taken: Book, tmp_path: Path
) -> None:
    goes_on(taken, tmp_path / "there")
    wrote(book, stock("used", 8))
    wrote(book, stock("used", 9))
    before = rows_of(taken)
    with pytest.raises(PackError, match=r"Only here: 4 decisions.*Only in the pack: 2 decisions"):
        unpack(taken, packed(book, "later"))
    assert rows_of(taken) == before


def test_what_was_set_here_and_added_there_is_not_put_together(book: Book, taken: Book) -> None:
    steps.undo_last(taken, JOB.name)
    wrote(book, stock("used", 8))
    before = rows_of(taken)
    with pytest.raises(PackError, match="Nothing was changed"):
        unpack(taken, packed(book, "later"))
    assert rows_of(taken) == before


def test_what_it_turned_out_to_have_cost_elsewhere_comes_with_the_next_pack(
    book: Book, taken: Book
) -> None:
    priced = replace(stock("delivered", 5), unit_cost=Decimal("20.00"))
    wrote(book, priced, minutes=5, job=OTHER)
    assert differs(book, taken) == ["came"]
    assert unpack(taken, packed(book, "later")).outcome == "same"
    assert differs(book, taken) == []


def test_of_two_copies_of_one_book_that_both_went_on_neither_is_changed(
    book: Book, tmp_path: Path
) -> None:
    shutil.copytree(book.folder, tmp_path / "copy")
    with Book.open(tmp_path / "copy") as copy:
        wrote(copy, stock("used", 8), job=OTHER)
        wrote(book, stock("used", 4))
        before = rows_of(copy)
        with pytest.raises(PackError, match="comes from a copy of this very book"):
            unpack(copy, packed(book))
        assert rows_of(copy) == before


# --- into a full book -------------------------------------------------------------------------


@pytest.fixture
def full(made: Path, tmp_path: Path) -> Iterator[Book]:
    """A book with jobs of the same names, and the same originals, that is another one."""
    shutil.copytree(made / "book", tmp_path / "full")
    with Book.open(tmp_path / "full") as opened:
        opened.set_setting(BOOK, uuid4().hex)
        yield opened


def test_the_jobs_of_a_full_book_stay_as_they_were(book: Book, full: Book) -> None:
    before = told(full, JOB.name, "panel"), told(full, OTHER.name, "panel")
    unpacked = unpack(full, packed(book), "Gull Point again")
    assert unpacked.job == "Gull Point again"
    assert {job.name for job in full.jobs()} == {JOB.name, OTHER.name, "Gull Point again"}
    assert (told(full, JOB.name, "panel"), told(full, OTHER.name, "panel")) == before
    assert list(verify(full)) == []


def test_a_job_of_the_same_name_is_asked_for_another_name(book: Book, full: Book) -> None:
    before = rows_of(full)
    with pytest.raises(PackError, match=r"another job called 'Gull Point cottage'.* --as NAME"):
        unpack(full, packed(book))
    assert rows_of(full) == before


def test_an_original_that_is_on_another_job_here_is_told_and_not_doubled(
    book: Book, full: Book
) -> None:
    unpacked = unpack(full, packed(book), "Gull Point again")
    assert "wall.jpg is in this book already, on Gull Point cottage" in unpacked.told
    before = rows_of(full)
    assert unpack(full, packed(book, "again")).outcome == "same"
    assert rows_of(full) == before


def test_what_was_moved_to_a_job_of_that_name_here_is_not_taken_for_that_job(
    book: Book, full: Book
) -> None:
    unpack(full, packed(book), "Gull Point again")
    contents = [row["content"] for row in full._rows("SELECT content FROM entry_version")]
    assert any('"to_job": "Gull Point again"' in one for one in contents)
    assert any('"to_job": "Some other house (elsewhere)"' in one for one in contents)
    assert any(row["name"] == "Heron House (elsewhere)" for row in full._rows("SELECT * FROM job"))


# --- packing ----------------------------------------------------------------------------------


def test_an_older_pack_of_the_same_job_is_replaced_and_nothing_else(
    book: Book, other: Book, tmp_path: Path
) -> None:
    file = packed(book)
    wrote(book, stock("used", 1))
    assert packed(book) == file
    assert unpack(other, file).entries == len(book.entries(JOB.name))
    with pytest.raises(PackError, match="is no pack of this job"):
        pack(book, OTHER.name, file)
    (tmp_path / "letter.jobpack").write_text("a letter")
    with pytest.raises(PackError, match="is no pack of this job"):
        packed(book, "letter")
    assert (tmp_path / "letter.jobpack").read_text() == "a letter"


def test_an_original_that_is_damaged_is_left_out_and_named(book: Book, other: Book) -> None:
    sha256 = pictured(book, book.folder.parent, "damaged", AT)
    book.media(sha256).write_bytes(b"something else")
    made = pack(book, JOB.name, book.folder.parent / "job.jobpack")
    assert made.missing == ("damaged.jpg",)
    assert "the original of damaged.jpg was not in the pack" in unpack(other, made.file).told


def test_a_damaged_row_is_not_packed(book: Book) -> None:
    [first, *_] = book.entries(JOB.name)
    book.close()
    import sqlite3

    with sqlite3.connect(book.folder / "book.sqlite") as db:
        db.execute("UPDATE entry SET at = replace(at, '2026', '2027') WHERE id = ?", [first.id])
    with Book.open(book.folder) as again:
        again._sound.look_at_all()
        with pytest.raises(PackError, match=f"entry {first.id} is damaged.* joblog check"):
            packed(again)
