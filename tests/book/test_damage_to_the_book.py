"""Damage is named and kept out of the figures; the rest is read, and nothing is deleted."""

from __future__ import annotations

import errno
import random
import shutil
import sqlite3
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from fake_ears import listen, photo, recording

from joblog.book import Book, BookError, closed, decisions, hurt, schema, seals, verify
from joblog.book.database import Database
from joblog.book.intake import take_in
from joblog.model import Entry, Item, Job, Plan, PlannedItem, Reading
from joblog.reconcile import reconcile

JOB = Job("Gull Point cottage", "America/New_York")
PLAN = Plan((PlannedItem(Item("soffit panel", "sheet"), Fraction(15)),))
START = datetime(2026, 10, 5, 12, tzinfo=UTC)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book with a plan and three typed entries: 1, 2 and 3 sheets used."""
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        book.set_plan(JOB.name, PLAN)
        for number in (1, 2, 3):
            used = Entry("used", item="soffit panel", quantity=Fraction(number), unit="sheet")
            at = START + timedelta(minutes=number)
            decisions.add_typed(book, JOB.name, Reading((used,)), f"used {number} sheets", at)
    return tmp_path / "book"


def damage(folder: Path, sql: str) -> None:
    """Changes the file behind joblog's back, as a failing disk does."""
    db = Database(folder / "book.sqlite")
    for [name] in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    db.execute(sql)
    db.execute("DELETE FROM seal WHERE of = ?", [seals.DEFINITIONS])
    db.execute("INSERT INTO seal VALUES (?, '', ?)", [seals.DEFINITIONS, seals._definitions(db)])
    db.close()


ENTRY_2 = "UPDATE entry_version SET content = replace(content, '\"2\"', '\"6\"') WHERE entry = 2"


def counted(book: Book) -> list[Fraction | None]:
    return [one.entry.quantity for one in book.entries(JOB.name) if not one.open]


def told(book: Book) -> list[str]:
    return [f"{found.what}: {found.why}" for found in book.damage()]


def test_a_whole_book_has_no_damage(folder: Path) -> None:
    with Book.open(folder) as book:
        assert list(verify.verify(book)) == []


def test_whatever_is_damaged_has_words(folder: Path) -> None:
    with Book.open(folder) as book:
        assert set(seals.tables(book._db)) <= {*hurt.WORDS, "seen_whole"}


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (OSError(errno.EFBIG, "File too large"), "larger than this disk takes"),
        (OSError(errno.EIO, "Input/output error"), "does not read or write as it should"),
        (sqlite3.OperationalError("disk I/O error"), "does not read or write as it should"),
        (sqlite3.DatabaseError("database disk image is malformed"), "joblog restore FOLDER"),
    ],
)
def test_what_the_disk_refuses_is_told_with_what_to_do(error: Exception, words: str) -> None:
    with pytest.raises(BookError, match=words), schema.plainly(Path("book")):
        raise error


def test_a_changed_number_is_named_doubtful_and_not_counted(folder: Path) -> None:
    damage(folder, ENTRY_2)
    with Book.open(folder) as book:
        assert told(book) == ["entry 2, version 1: its line in the book is damaged"]
        assert counted(book) == [1, 3]
        assert [one.id for one in book.entries(JOB.name)] == [1, 2, 3]
        assert "is damaged in the book" in book.entry(2).doubts[0]
        assert book.entry(2).said == "used 2 sheets"


@pytest.mark.parametrize(
    ("sql", "name"),
    [
        ("UPDATE entry_version SET content = 'no JSON' WHERE entry = 2", "entry 2, version 1"),
        ("DELETE FROM entry_version WHERE entry = 2", "entry 2, version 1"),
        ("UPDATE entry SET at = 'never' WHERE id = 2", "entry 2"),
        ("UPDATE entry_version SET said = CAST(x'ff' AS TEXT) WHERE entry = 2", "entry 2, version"),
    ],
)
def test_an_entry_that_cannot_be_read_keeps_no_other_from_being_read(
    folder: Path, sql: str, name: str
) -> None:
    damage(folder, sql)
    with Book.open(folder) as book:
        assert told(book)[0].startswith(name)
        assert counted(book) == [1, 3]
        assert sorted(one.id for one in book.entries(JOB.name)) == [1, 2, 3]


@pytest.mark.parametrize("sql", [ENTRY_2, "UPDATE entry SET ordinal = 7 WHERE id = 2"])
def test_saying_a_damaged_entry_anew_mends_it(folder: Path, sql: str) -> None:
    damage(folder, sql)
    used = Entry("used", item="soffit panel", quantity=Fraction(2), unit="sheet")
    with Book.open(folder) as book:
        decisions.correct(book, 2, Reading((used,)), "used 2 sheets")
        assert counted(book) == [1, 2, 3]
    with Book.open(folder) as again:
        assert counted(again) == [1, 2, 3]


def test_a_version_that_is_gone_does_not_bring_back_the_one_before(folder: Path) -> None:
    with Book.open(folder) as book:
        decisions.drop(book, 2)
    damage(folder, "DELETE FROM entry_version WHERE entry = 2 AND version = 2")
    with Book.open(folder) as book:
        assert counted(book) == [1, 3]


def test_a_doubt_that_is_gone_leaves_a_doubt(folder: Path) -> None:
    with Book.open(folder) as book, book._writing():
        book._insert("doubt", {"entry": 2, "version": 1, "ordinal": 0, "why": "heard two ways"})
    damage(folder, "DELETE FROM doubt")
    with Book.open(folder) as book:
        assert book.entry(2).open


def test_an_entry_of_another_job_by_damage_is_asked_about_in_both(folder: Path) -> None:
    with Book.open(folder) as book:
        book.add_job(Job("Corner porch", JOB.zone))
    damage(folder, "UPDATE entry SET job = 2 WHERE id = 2")
    with Book.open(folder) as book:
        assert [one.id for one in book.entries("Corner porch") if one.open] == [2]
        assert [one.id for one in book.entries(JOB.name) if one.open] == [2]


def test_a_damaged_plan_line_counts_nowhere_and_is_in_the_way_of_closing(folder: Path) -> None:
    damage(folder, "UPDATE planned_item SET quantity = '51'")
    with Book.open(folder) as book:
        assert told(book) == ["planned item soffit panel: its line in the book is damaged"]
        assert book.plan(JOB.name).items == ()
        entries = book.entries(JOB.name)
        figures = reconcile(JOB, book.plan(JOB.name), entries, book.catalog())
        with pytest.raises(BookError, match="planned item soffit panel"):
            closed.close_job(book, JOB.name, date(2026, 10, 5), figures, entries)


@pytest.mark.parametrize(
    "sql", ["UPDATE planned_item SET quantity = '51'", "DELETE FROM planned_item"]
)
def test_loading_the_plan_again_mends_it(folder: Path, sql: str) -> None:
    damage(folder, sql)
    with Book.open(folder) as book:
        assert book.damage()
        book.set_plan(JOB.name, PLAN)
        assert (book.damage(), book.plan(JOB.name)) == ((), PLAN)


def test_a_damaged_job_line_shows_the_job_and_is_named(folder: Path) -> None:
    damage(folder, "UPDATE job SET zone = 'Amerika', places = '['")
    with Book.open(folder) as book:
        assert book.jobs() == (Job(JOB.name, "UTC"),)
        assert told(book) == ["job Gull Point cottage: its line in the book is damaged"]


def test_what_a_person_accepts_is_asked_no_more(folder: Path) -> None:
    damage(folder, "DELETE FROM entry WHERE id = 2")
    with Book.open(folder) as book:
        assert [found.what for found in verify.accept(book)] == ["entry 2"]
    with Book.open(folder) as book:
        assert book.damage() == ()


def test_a_damaged_index_is_made_anew_and_hides_no_entry(folder: Path) -> None:
    file = folder / "book.sqlite"
    db = Database(file)
    size = db.execute("PRAGMA page_size").fetchone()[0]
    page = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'entry_in_time'").fetchone()[
        0
    ]
    db.close()
    content = bytearray(file.read_bytes())
    place = content.index(b"2026-10-05T12:02", (page - 1) * size)
    assert place < page * size
    content[place] ^= 1  # In the index alone, it was another millennium.
    file.write_bytes(content)
    with Book.open(folder) as book:
        assert counted(book) == [1, 2, 3]
        assert [one.id for one in book.entries(JOB.name, date(2026, 10, 5))] == [1, 2, 3]


def test_a_page_that_is_lost_leaves_the_rest_to_be_read_and_copied(
    folder: Path, tmp_path: Path
) -> None:
    file = folder / "book.sqlite"
    db = Database(file)
    size = db.execute("PRAGMA page_size").fetchone()[0]
    [page] = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'doubt'").fetchone()
    db.close()
    content = bytearray(file.read_bytes())
    content[(page - 1) * size : page * size] = bytes(size)
    file.write_bytes(content)
    with Book.open(folder) as book:
        assert counted(book) == [1, 2, 3]
        assert "its structure is damaged" in told(book)[0]
        with pytest.raises(BookError, match="joblog copy"):
            decisions.drop(book, 2)
        verify.copy(book, tmp_path / "mended")
    with Book.open(tmp_path / "mended") as book:
        decisions.drop(book, 2)
        assert counted(book)[0] == 1


def test_no_flipped_bit_changes_a_figure_unseen(folder: Path, tmp_path: Path) -> None:
    whole = (folder / "book.sqlite").read_bytes()
    with Book.open(folder) as book:
        expected = (counted(book), book.plan(JOB.name), book.catalog())
    chance = random.Random(3)
    # Where rows lie, most flips strike one.
    places = [at for at in range(len(whole)) if whole[at]]
    for number in range(60):
        content = bytearray(whole)
        content[chance.choice(places)] ^= 1 << chance.randrange(8)
        struck = tmp_path / f"struck {number}"
        struck.mkdir()
        (struck / "book.sqlite").write_bytes(content)
        try:
            with Book.open(struck) as book:
                found = (counted(book), book.plan(JOB.name), book.catalog())
                assert found == expected or book.damage()
        except BookError as error:
            assert str(struck) in str(error)
        shutil.rmtree(struck)


# --- originals --------------------------------------------------------------------------------


@pytest.fixture
def filled(tmp_path: Path, heard_here: None) -> Iterator[tuple[Book, Path]]:
    phone = tmp_path / "phone"
    recording(phone, "2026-10-05 07-00-00.wav", "used three sheets of soffit")
    photo(phone, "eave.jpg", "2026:10:05 07:00:30")
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        take_in(book, JOB.name, [phone], recognizers=(), listen=listen, workers=1)
        yield book, phone


def originals(book: Book) -> list[Path]:
    kept = [*book.recordings(JOB.name), *book.photos(JOB.name)]
    return [book.media(one.sha256) for one in kept]


def flip(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 4
    path.write_bytes(content)


def test_damaged_and_missing_originals_are_named(filled: tuple[Book, Path]) -> None:
    book, _ = filled
    sound, picture = originals(book)
    flip(sound)
    picture.unlink()
    assert {f"{found.what}: {found.why}" for found in verify.verify(book)} == {
        "recording 2026-10-05 07-00-00.wav: its original in the book is damaged",
        "photo eave.jpg: its original in the book is missing",
    }


def test_adding_the_good_files_again_heals_and_deletes_nothing(filled: tuple[Book, Path]) -> None:
    book, phone = filled
    sound, picture = originals(book)
    good = [sound.read_bytes(), picture.read_bytes()]
    flip(sound)
    damaged = sound.read_bytes()
    picture.unlink()
    again = take_in(book, JOB.name, [phone], recognizers=(), listen=listen, workers=1)
    assert (len(again.healed), again.already_there, again.problems) == (2, 2, ())
    assert [sound.read_bytes(), picture.read_bytes()] == good
    assert [one.read_bytes() for one in (book.store / "damaged").iterdir()] == [damaged]
    assert list(verify.verify(book)) == []


def test_a_glance_looks_at_a_little_and_comes_round_to_all(filled: tuple[Book, Path]) -> None:
    book, _ = filled
    for one in originals(book):
        flip(one)
    first = verify.glance(book, most=1)
    assert len(first) == 1
    assert len(verify.glance(book)) == 2


def test_what_was_seen_whole_lately_is_not_looked_at_again_by_itself(
    filled: tuple[Book, Path],
) -> None:
    book, _ = filled
    assert verify.glance(book) == ()
    flip(originals(book)[0])
    assert verify.glance(book) == ()
    assert len(list(verify.verify(book))) == 1


# --- copies -----------------------------------------------------------------------------------


def test_a_copy_says_what_the_book_says(filled: tuple[Book, Path], tmp_path: Path) -> None:
    book, _ = filled
    assert verify.copy(book, tmp_path / "backups" / "monday") == ()
    with Book.open(tmp_path / "backups" / "monday") as copied:
        assert copied.entries(JOB.name) == book.entries(JOB.name)
        assert [one.read_bytes() for one in originals(copied)] == [
            one.read_bytes() for one in originals(book)
        ]
    assert [one.name for one in (tmp_path / "backups").iterdir()] == ["monday"]


def test_a_copy_writes_over_nothing(filled: tuple[Book, Path], tmp_path: Path) -> None:
    book, _ = filled
    with pytest.raises(BookError, match="is there already"):
        verify.copy(book, tmp_path / "phone")


def test_a_damaged_original_goes_along_and_is_named(
    filled: tuple[Book, Path], tmp_path: Path
) -> None:
    book, _ = filled
    sound, _ = originals(book)
    flip(sound)
    [found] = verify.copy(book, tmp_path / "copy")
    assert found.what == "recording 2026-10-05 07-00-00.wav"
    with Book.open(tmp_path / "copy") as copied:
        assert originals(copied)[0].read_bytes() == sound.read_bytes()


def test_the_file_lies_still_while_it_is_written_so_that_a_plain_copy_fits(folder: Path) -> None:
    with Book.open(folder) as book:
        before = (folder / "book.sqlite").read_bytes()
        for number in range(100):
            note = Entry("note", note=f"{number} " * 1_000)
            decisions.add_typed(book, JOB.name, Reading((note,)), "a note", START)
        assert (folder / "book.sqlite").read_bytes() == before


# --- migrations -------------------------------------------------------------------------------


def test_an_older_book_is_sealed_and_damage_is_not_sealed_over(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from joblog.book import schema

    damage(folder, ENTRY_2)

    def another(db: Database) -> None:
        db.execute("ALTER TABLE entry_version ADD COLUMN colour TEXT")

    monkeypatch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, another))
    with Book.open(folder) as book:
        assert told(book) == ["entry 2, version 1: its line in the book is damaged"]
        assert counted(book) == [1, 3]
