"""What is damaged is put back as it was written, from a backup, a named file or the rest."""

from __future__ import annotations

import os
import shutil
from collections.abc import Collection, Iterator
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from fake_ears import listen, photo, recording

from joblog.book import Book, decisions, intake, mending, owner, seals, verify
from joblog.book.database import Database
from joblog.model import Entry, Item, Job, Plan, PlannedItem, Reading
from tests.in_process import Here

JOB = Job("Gull Point cottage", "America/New_York")
PLAN = Plan((PlannedItem(Item("soffit panel", "sheet"), Fraction(15)),))
START = datetime(2026, 10, 5, 12, tzinfo=UTC)


class Copies:
    """A lookup over copies of the book's folder, the newest first."""

    def __init__(self, *folders: Path) -> None:
        self.folders = folders
        self.source = ""

    def original(self, sha256: str) -> Path | None:
        for folder in self.folders:
            for path in folder.rglob(f"{sha256}.*"):
                self.source = folder.name
                return path
        return None

    def rows(self, table: str, keys: Collection[str]) -> Iterator[dict[str, Any]]:
        for folder in self.folders:
            db = Database(folder / "book.sqlite")
            seals.know(db)
            columns = seals.tables(db)[table]
            sql = (
                f"SELECT {seals.key(columns)} AS its_key, * FROM {table}"
                f" WHERE {seals.is_sound(columns, table)}"
            )
            found = {str(row.pop("its_key")): row for row in db.query(sql)}
            db.close()
            self.source = folder.name
            yield {key: row for key, row in found.items() if key in keys}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a phone's files, the book that they were taken into, and a copy of that."""
    folder = tmp_path_factory.mktemp("made")
    phone = folder / "phone"
    recording(phone, "2026-10-05 07-00-00.wav", "used three sheets of soffit")
    photo(phone, "eave.jpg", "2026:10:05 07:00:30")
    with Book.create(folder / "book") as book, pytest.MonkeyPatch.context() as patch:
        patch.setattr(intake, "Pool", Here)
        book.add_job(JOB)
        decisions.load_plan(book, JOB.name, PLAN)
        for number in (1, 2, 3):
            used = Entry("used", item="soffit panel", quantity=Fraction(number), unit="sheet")
            at = START + timedelta(minutes=number)
            decisions.add_typed(book, JOB.name, Reading((used,)), f"used {number} sheets", at)
        intake.take_in(book, JOB.name, [phone], recognizers=(), listen=listen, workers=1)
    shutil.copytree(folder / "book", folder / "monday")
    return folder


@pytest.fixture
def book(made: Path, tmp_path: Path) -> Path:
    shutil.copytree(made, tmp_path / "made")
    return tmp_path / "made" / "book"


def damage(folder: Path, sql: str) -> None:
    """Changes the file behind joblog's back, as a failing disk does."""
    db = Database(folder / "book.sqlite")
    guards = db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for name, _ in guards:
        db.execute(f"DROP TRIGGER {name}")
    db.execute(sql)
    for _, again in guards:
        db.execute(again)
    db.close()


def content(folder: Path) -> dict[str, list[tuple[Any, ...]]]:
    db = Database(folder / "book.sqlite")
    tables = [*seals.tables(db), "seal"]
    found = {table: sorted(db.execute(f"SELECT * FROM {table}"), key=repr) for table in tables}
    db.close()
    found.pop("setting")
    return found


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE entry_version SET content = replace(content, '\"2\"', '\"6\"') WHERE entry = 2",
        "DELETE FROM entry_version WHERE entry = 2",
        "UPDATE planned_item SET quantity = '51'",
        "DELETE FROM planned_item",
        "UPDATE job SET zone = 'Amerika', places = '['",
        "UPDATE utterance SET \"end\" = 9e9",
        "UPDATE entry_version SET said = CAST(x'ff' AS TEXT) WHERE entry = 2",
        "DELETE FROM step_effect",
        "UPDATE seal SET checksum = checksum + 1 WHERE of = 'entry_version'",
    ],
)  # fmt: skip
def test_a_damaged_row_is_put_back_from_the_state_that_has_it(book: Path, sql: str) -> None:
    whole = content(book)
    damage(book, sql)
    with Book.open(book) as opened:
        lookup = Copies(book.parent / "monday")
        found = mending.to_be_had(opened, tuple(verify.verify(opened)), lookup)
        assert {one.again for one in found} == {"monday"}
        done = list(mending.mend(opened, lookup))
        assert {one.how for one in done} == {"monday"}
        assert {one.what for one in done} == {one.what for one in found}
        assert list(verify.verify(opened)) == []
        assert list(mending.mend(opened, lookup)) == []
    assert content(book) == whole


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE seal SET key = '6' WHERE of = 'entry' AND key = '2'",
        "UPDATE seal SET of = 'entsy' WHERE of = 'entry' AND key = '2'",
        "UPDATE entry SET id = 18 WHERE id = 2",
    ],
)
def test_a_damaged_key_is_told_by_the_checksum_without_any_backup(book: Path, sql: str) -> None:
    whole = content(book)
    damage(book, sql)
    with Book.open(book) as opened:
        assert list(verify.verify(opened))
        assert {one.how for one in mending.mend(opened, mending.Nowhere())} == {mending.BY_ITSELF}
        assert list(verify.verify(opened)) == []
    assert content(book) == whole


def test_a_row_that_may_have_been_changed_since_is_not_taken_for_good(book: Path) -> None:
    damage(book, "UPDATE seal SET checksum = checksum + 5 WHERE of = 'planned_item'")
    with Book.open(book) as opened:
        assert list(mending.mend(opened, Copies(book.parent / "monday"))) == []


def test_a_row_that_no_state_has_as_it_was_written_stays_in_doubt(book: Path) -> None:
    with Book.open(book) as opened:
        decisions.drop(opened, 2)
    damage(book, "UPDATE entry_version SET said = 'x' WHERE entry = 2 AND version = 2")
    with Book.open(book) as opened:
        lookup = Copies(book.parent / "monday")
        [found] = mending.to_be_had(opened, tuple(verify.verify(opened)), lookup)
        assert found.again == ""
        assert list(mending.mend(opened, lookup)) == []
        assert opened.entry(2).open


def test_a_row_that_is_gone_with_its_seal_is_put_back_where_something_rests_on_it(
    book: Path,
) -> None:
    whole = content(book)
    damage(book, "DELETE FROM utterance WHERE id = 1")
    damage(book, "DELETE FROM seal WHERE of = 'utterance'")
    with Book.open(book) as opened:
        done = list(mending.mend(opened, Copies(book.parent / "monday")))
        assert {one.how for one in done} == {"monday"}
        assert list(verify.verify(opened)) == []
    assert content(book) == whole


def test_a_lost_page_is_made_good_and_the_damaged_file_is_kept(book: Path) -> None:
    whole = content(book)
    file = book / "book.sqlite"
    db = Database(file)
    size = db.execute("PRAGMA page_size").fetchone()[0]
    sql = "SELECT rootpage FROM sqlite_master WHERE name = 'entry_version'"
    [page] = db.execute(sql).fetchone()
    db.close()
    damaged = bytearray(file.read_bytes())
    damaged[(page - 1) * size : page * size] = bytes(size)
    file.write_bytes(damaged)
    with Book.open(book) as opened:
        done = list(mending.mend(opened, Copies(book.parent / "monday")))
        assert done[0].what == str(file)
        assert list(verify.verify(opened)) == []
        decisions.drop(opened, 2)
        decisions.undo(opened, 2)
    with Book.open(book) as again:
        assert again.damage() == ()
        assert [one.id for one in again.entries(JOB.name)] == [4, 1, 2, 3]
    [kept] = (book / "media" / "damaged").glob("book.*.sqlite")
    assert kept.read_bytes() == damaged
    assert content(book)["entry"] == whole["entry"]


def test_originals_come_from_a_backup_or_a_named_file(book: Path) -> None:
    with Book.open(book) as opened:
        [sound], [picture] = opened.recordings(JOB.name), opened.photos(JOB.name)
        sound_file, picture_file = (opened.media(one.sha256) for one in (sound, picture))
        good = [sound_file.read_bytes(), picture_file.read_bytes()]
        sound_file.write_bytes(b"rotten")
        picture_file.unlink()
        phone = book.parent / "phone"
        done = list(mending.mend(opened, mending.Nowhere(), [phone / "eave.jpg"]))
        assert [one.what for one in done] == ["photo eave.jpg"]
        lookup = Copies(book.parent / "monday")
        [found] = mending.to_be_had(opened, tuple(verify.verify(opened)), lookup)
        assert (found.what, found.again) == ("recording 2026-10-05 07-00-00.wav", "monday")
        list(mending.mend(opened, lookup))
        assert [sound_file.read_bytes(), picture_file.read_bytes()] == good
        assert [one.read_bytes() for one in (book / "media" / "damaged").iterdir()] == [b"rotten"]


def test_a_book_that_others_may_read_is_closed(book: Path) -> None:
    with Book.open(book) as opened:
        assert owner.open_to_others(book) == ()
        book.chmod(0o755)
        (book / "book.sqlite").chmod(0o644)
        assert len(list(mending.mend(opened, mending.Nowhere()))) == (os.name == "posix")
        assert owner.open_to_others(book) == ()
