"""What does not fit together is named, though each row is as it was written; a sound book fits."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from fake_ears import listen, photo, recording

from joblog.book import Book, closed, decisions, fits, parting, seals, steps, verify
from joblog.book.database import Database
from joblog.book.intake import take_in
from joblog.model import Catalog, Entry, Fence, Item, Job, Plan, PlannedItem, Reading
from joblog.reconcile import reconcile

JOB = Job("Gull Point cottage", "America/New_York")
OTHER = Job("Corner porch", "America/New_York")
PLAN = Plan((PlannedItem(Item("soffit panel", "sheet"), Fraction(15)),))
START = datetime(2026, 10, 5, 12, tzinfo=UTC)


def lived_in(folder: Path) -> Book:
    """A book in which nearly all was done that can be."""
    phone = folder / "phone"
    recording(phone, "2026-10-05 07-00-00.wav", "used three sheets of soffit", "note gap at corner")
    recording(phone, "2026-10-05 09-00-00.wav", "used two sheets of soffit", "scratch that")
    photo(phone, "eave.jpg", "2026:10:05 07:00:30")
    photo(phone, "gable.jpg", "2026:10:05 09:00:30", 40)
    book = Book.create(folder / "book")
    for job in (JOB, OTHER):
        book.add_job(job)
    decisions.load_plan(book, JOB.name, PLAN)
    take_in(book, JOB.name, [phone], recognizers=(), listen=listen, workers=1)
    ids = [
        decisions.add_typed(book, JOB.name, Reading((used(number),)), f"used {number}", START)[0]
        for number in (1, 2, 3, 4)
    ]
    decisions.correct(book, ids[0], Reading((used(5), used(6))), "used 5, used 6")
    parting.merge(book, ids[1], ids[2])
    parting.split(book, ids[3], [used(1), used(3)])
    decisions.move(book, ids[0], at=START + timedelta(hours=3), job=OTHER.name)
    decisions.drop(book, ids[1])
    eave, gable = book.photos(JOB.name)
    decisions.tie(book, eave.sha256, ids[3])
    decisions.withdraw_photo(book, gable.sha256)
    decisions.move_original(book, book.recordings(JOB.name)[0].sha256, OTHER.name)
    decisions.withdraw(book, book.recordings(JOB.name)[0].sha256)
    decisions.change_catalog(book, lambda now: Catalog((*now.items[1:], Item("rake", "each")), ()))
    decisions.load_plan(book, JOB.name, Plan())
    for _ in range(6):
        steps.undo_last(book, JOB.name)
    for _ in range(3):
        steps.redo_last(book, JOB.name)
    decisions.undo(book, ids[0])
    decisions.set_clock(book, JOB.name, "invented camera", [date(2026, 10, 5)], 60)
    decisions.set_fence(book, JOB.name, Fence(40.0, -75.0, 80.0, "by hand"))
    now = book.entries(JOB.name)
    figures = reconcile(JOB, book.plan(JOB.name), now, book.catalog())
    closed.close_job(book, JOB.name, date(2026, 10, 5), figures)
    closed.reopen(book, JOB.name)
    steps.undo_last(book, JOB.name)
    return book


def used(number: int) -> Entry:
    return Entry("used", item="soffit panel", quantity=Fraction(number), unit="sheet")


def at_odds(folder: Path, *statements: str) -> None:
    """Changes the book by another way, and seals it as it is then."""
    db = Database(folder / "book.sqlite")
    seals.know(db)
    for [name] in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    for sql in statements:
        db.execute(sql)
    seals.seal_all(db)
    db.close()


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a book as `lived_in`."""
    folder = tmp_path_factory.mktemp("lived in")
    with pytest.MonkeyPatch.context() as patch:
        from joblog.book import intake
        from tests.in_process import Here

        patch.setattr(intake, "Pool", Here)
        lived_in(folder).close()
    return folder / "book" / "book.sqlite"


def test_a_book_in_which_all_was_done_fits(sound: Path, tmp_path: Path) -> None:
    (tmp_path / "book.sqlite").write_bytes(sound.read_bytes())
    with Book.open(tmp_path) as book:
        assert [f"{found.what}: {found.why}" for found in fits.misfits(book)] == []
    with Book.open(sound.parent) as book:
        assert fits.strays(book) == ()
        assert list(verify.verify(book)) == []


FIRST = "(SELECT min(entry) FROM entry_version WHERE version = 2)"


@pytest.mark.parametrize(
    ("sql", "told"),
    [
        ("DELETE FROM entry_version WHERE version = 2 AND entry = " + FIRST, "it is gone"),
        ("UPDATE entry SET at = '2026-01-01T00:00:00+00:00' WHERE id = 3", "newest version"),
        ("UPDATE entry SET job = 2 WHERE job = 1", "newest version"),
        ("DELETE FROM utterance WHERE id = 1", "utterance 1, which it rests on, is gone"),
        ("DELETE FROM recording", "recording "),
        ("DELETE FROM utterance WHERE ordinal = 0", "1 of 2 lines of it is gone"),
        ('UPDATE utterance SET "end" = 900 WHERE id = 1', "is no part of"),
        ("UPDATE recording SET made_at = '2026-01-01T00:00:00+00:00'", "was not said when"),
        ("DELETE FROM photo WHERE standing = 'kept'", "is gone"),
        ("UPDATE photo SET standing = 'kept'", "not what its history led to"),
        ("UPDATE fence SET radius = 9.0", "not what its history led to"),
        ("UPDATE planned_item SET quantity = '51'", "not what its history led to"),
        ("DELETE FROM step_effect WHERE step = 3", "what it changed is gone"),
        ("UPDATE closing SET figures = '{'", "cannot be read"),
        ("UPDATE closing SET rests_on = '[[1, 7, \"counted\"]]'", "entry 1, version 7"),
    ],
)
def test_what_is_at_odds_is_named(sound: Path, tmp_path: Path, sql: str, told: str) -> None:
    (tmp_path / "book.sqlite").write_bytes(sound.read_bytes())
    at_odds(tmp_path, "PRAGMA foreign_keys = OFF", sql)
    with Book.open(tmp_path) as book:
        assert book.damage() == ()
        said = [f"{found.what}: {found.why}" for found in fits.misfits(book)]
        assert any(told in line for line in said), said


def test_what_does_not_fit_and_a_person_takes_is_named_no_more(sound: Path, tmp_path: Path) -> None:
    (tmp_path / "book.sqlite").write_bytes(sound.read_bytes())
    at_odds(tmp_path, "UPDATE fence SET radius = 9.0")
    with Book.open(tmp_path) as book:
        assert [found.what for found in verify.accept(book)] == [f"the fence of {JOB.name}"]
        assert list(fits.misfits(book)) == []


def test_what_is_named_as_damaged_is_not_named_twice(sound: Path, tmp_path: Path) -> None:
    (tmp_path / "book.sqlite").write_bytes(sound.read_bytes())
    db = Database(tmp_path / "book.sqlite")
    db.execute("PRAGMA foreign_keys = OFF")
    db.execute("DELETE FROM utterance WHERE id = 1")
    db.execute("UPDATE fence SET radius = 9.0")
    db.close()
    with Book.open(tmp_path) as book:
        assert list(fits.misfits(book)) == []
        assert {found.what for found in verify.damaged_rows(book, ("utterance", "fence"))} == {
            "utterance 1",
            "the fence of job 1",
        }


def test_a_file_that_the_book_does_not_hold_is_named_and_left(tmp_path: Path) -> None:
    with Book.create(tmp_path / "book") as book:
        stray = book.store / "ab" / "abc.jpg"
        stray.parent.mkdir(parents=True)
        stray.write_bytes(b"picture")
        assert fits.strays(book) == (stray,)
        assert list(verify.verify(book)) == []
        assert stray.exists()
