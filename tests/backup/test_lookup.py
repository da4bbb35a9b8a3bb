"""What is damaged in the book is found in the backups that are at hand."""

from __future__ import annotations

from pathlib import Path

from made import FIRST, a_day, a_photo

from joblog.backup import Lookup, back_up, glance, taking
from joblog.book import Book, seals
from joblog.book.database import Database


def test_an_original_is_found_and_held_against_its_digest(book: Book, stick: Path):
    photo = a_photo(book, "IMG_7.jpg", FIRST, 5_000)
    whole = book.media(photo.sha256).read_bytes()
    back_up(book, stick)
    with Lookup(book) as lookup:
        found = lookup.original(photo.sha256)
        assert found is not None
        assert (found.read_bytes(), lookup.source) == (whole, f"the backup in {stick}")
        found.write_bytes(b"rotten")
        assert lookup.original(photo.sha256) is None


def test_an_original_in_parts_is_put_together(book: Book, stick: Path, monkeypatch, tmp_path: Path):
    monkeypatch.setattr(taking, "LARGEST", 1 << 20)
    photo = a_photo(book, "film.mp4", FIRST, (2 << 20) + 5)
    back_up(book, stick)
    with Lookup(book) as lookup:
        found = lookup.original(photo.sha256)
        assert found is not None
        assert found.read_bytes() == book.media(photo.sha256).read_bytes()
    assert not found.exists()
    assert not (book.folder / "passing").exists()


def test_rows_come_state_by_state_the_newest_first(book: Book, stick: Path):
    back_up(book, stick)
    a_day(book, 1)
    back_up(book)
    with Lookup(book) as lookup:
        newest, oldest = lookup.rows("entry_version", ["1|1", "6|1"])
    assert (sorted(newest), sorted(oldest)) == (["1|1", "6|1"], ["1|1"])
    assert newest["1|1"] == oldest["1|1"]
    assert newest["6|1"]["said"] == "used 1"


def test_who_asks_for_no_more_states_leaves_nothing_behind(book: Book, stick: Path):
    back_up(book, stick)
    with Lookup(book) as lookup:
        for _ in lookup.rows("entry", ["1"]):
            break
    assert not (book.folder / "passing").exists()


def test_a_row_that_was_found_is_the_one_that_was_sealed(book: Book, stick: Path):
    back_up(book, stick)
    struck = Database(book.folder / "book.sqlite")
    struck.execute("UPDATE entry SET ordinal = 7 WHERE id = 1")
    struck.close()
    with Book.open(book.folder) as damaged, Lookup(damaged) as lookup:
        [rows] = lookup.rows("entry", ["1"])
        struck = damaged._db
        struck.execute("UPDATE entry SET ordinal = ? WHERE id = 1", [rows["1"]["ordinal"]])
        assert seals.unsound(struck, "entry") == {}


def test_a_backup_that_is_not_at_hand_holds_nothing(book: Book, stick: Path):
    back_up(book, stick)
    stick.rename(stick.with_name("unplugged"))
    with Lookup(book) as lookup:
        assert (lookup.folders, list(lookup.rows("entry", ["1"]))) == ((), [])


def test_a_backup_at_hand_is_read_a_little_in_passing(book: Book, stick: Path):
    back_up(book, stick)
    assert glance(book, 1 << 20) == ()
    for path in stick.glob("objects/*/*"):
        path.write_bytes(path.read_bytes()[::-1] + b"rotten")
    assert "in the backup" in glance(book, 1 << 20)[0].what
