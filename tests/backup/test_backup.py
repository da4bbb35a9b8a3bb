"""What is backed up comes back as it was, and what is there already is not written again."""

from __future__ import annotations

import hashlib
import os
import threading
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from made import FIRST, JOB, a_day, a_photo, content, objects

from joblog.backup import back_up, restore, states, taking
from joblog.backup.nouns import Far
from joblog.backup.pruning import to_stay
from joblog.book import Book, BookError
from joblog.book.verify import verify


def test_a_restored_book_holds_every_row_and_every_file(book: Book, stick: Path, tmp_path: Path):
    outcome = back_up(book, stick)
    restored = restore(stick, tmp_path / "new machine" / "joblog")
    assert (outcome.damaged, restored.damaged) == ((), ())
    assert content(restored.folder) == content(book.folder)
    with Book.open(restored.folder) as again:
        assert list(verify(again)) == []
        assert again.entries(JOB.name) == book.entries(JOB.name)


def test_only_what_is_new_is_written(book: Book, stick: Path):
    back_up(book, stick)
    before = {path: path.stat().st_mtime_ns for path in objects(stick)}
    a_day(book, 1)
    outcome = back_up(book)
    assert {path: path.stat().st_mtime_ns for path in before} == before
    assert len(objects(stick)) == len(before) + outcome.objects
    assert 0 < outcome.objects < len(before)


def test_where_nothing_is_new_no_state_is_written(book: Book, stick: Path):
    assert back_up(book, stick).new
    again = back_up(book)
    assert (again.new, again.objects, len(states(stick)[0])) == (False, 0, 1)


def test_a_restored_book_goes_on_in_the_same_backup(book: Book, stick: Path, tmp_path: Path):
    back_up(book, stick)
    with Book.open(restore(stick, tmp_path / "again").folder) as again:
        assert not back_up(again).new
        a_day(again, 1)
        assert back_up(again).new


def test_an_earlier_day_can_be_had(book: Book, stick: Path, tmp_path: Path):
    back_up(book, stick)
    then = content(book.folder)
    a_day(book, 1)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(taking, "datetime", Later)
        back_up(book)
    restored = restore(stick, tmp_path / "then", at=date.today())
    assert content(restored.folder) == then
    with pytest.raises(BookError, match="its first backup is of"):
        restore(stick, tmp_path / "before", at=date(2020, 1, 1))


class Later(taking.datetime):
    @classmethod
    def now(cls, tz=None):
        return super().now(tz) + timedelta(days=2)


def test_a_restore_never_goes_over_a_book(book: Book, stick: Path):
    back_up(book, stick)
    before = content(book.folder)
    with pytest.raises(BookError, match="is there already, and stays as it is"):
        restore(stick, book.folder)
    assert content(book.folder) == before


def test_an_original_too_large_for_fat_lies_in_parts(
    book: Book, stick: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(taking, "LARGEST", 1 << 20)
    photo = a_photo(book, "film.mp4", FIRST, (2 << 20) + 5)
    back_up(book, stick)
    assert max(path.stat().st_size for path in objects(stick)) == 1 << 20
    assert back_up(book).objects == 0
    with Book.open(restore(stick, tmp_path / "again").folder) as again:
        film = again.media(photo.sha256).read_bytes()
    assert hashlib.sha256(film).hexdigest() == photo.sha256


def test_a_stick_with_other_things_on_it_gets_a_folder(book: Book, stick: Path, tmp_path: Path):
    (stick / "holiday.txt").write_text("not ours")
    assert back_up(book, stick).folder == stick / "joblog backup"
    assert restore(stick, tmp_path / "again").damaged == ()


def test_a_folder_that_is_not_plugged_in_is_not_made(book: Book, stick: Path):
    with pytest.raises(BookError, match="Plug it in, or make the folder"):
        back_up(book, stick / "E")
    back_up(book, stick)
    for path in sorted(stick.rglob("*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    with pytest.raises(BookError, match="Is the right stick plugged in"):
        back_up(book)
    assert not any(stick.iterdir())
    assert back_up(book, anew=True).new


@pytest.mark.skipif(os.name == "nt", reason="Windows renames no folder whose files are open.")
def test_a_stick_pulled_in_the_middle_is_asked_for(book: Book, stick: Path):
    away = stick.with_name("pulled")

    def pulled(far: Far) -> None:
        if far.doing == "writing" and stick.is_dir():
            stick.rename(away)

    with pytest.raises(BookError, match="is not there any more"):
        back_up(book, stick, tell=pulled)
    away.rename(stick)
    assert back_up(book, stick).new


def test_another_books_backup_is_left_alone(book: Book, stick: Path, tmp_path: Path):
    back_up(book, stick)
    before = objects(stick)
    with Book.create(tmp_path / "other") as other:
        other.set_setting("book", "another one")
        with pytest.raises(BookError, match=r"of another book \(1 job, 4 entries, 3 photos\)"):
            back_up(other, stick)
    assert objects(stick) == before


def test_the_book_itself_is_no_place_for_its_backup(book: Book):
    with pytest.raises(BookError, match="lies in the book itself"):
        back_up(book, book.folder)


def test_a_backup_taken_while_another_program_writes_is_whole(
    book: Book, stick: Path, tmp_path: Path
):
    written = threading.Event()

    def write() -> None:
        with Book.open(book.folder) as other:
            for day in range(5):
                a_day(other, day, 0)
                written.set()

    writer = threading.Thread(target=write)
    writer.start()
    written.wait(60)
    back_up(book, stick)
    writer.join(60)
    assert restore(stick, tmp_path / "again").damaged == ()


def test_what_is_kept_is_bounded_where_a_person_says_so(
    book: Book, stick: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("joblog.backup.pruning.YOUNG", -60)
    for day in range(4):
        a_day(book, day)
        back_up(book, stick)
    before = len(objects(stick))
    a_day(book, 4)
    back_up(book, keep=2)
    assert len(states(stick)[0]) == 2
    assert len(objects(stick)) < before
    assert content(restore(stick, tmp_path / "again").folder) == content(book.folder)


def test_the_last_state_of_each_month_stays(book: Book, stick: Path):
    one = back_up(book, stick).state
    days = ("2026-10-05", "2026-10-04", "2026-09-30", "2026-09-01", "2025-09-02")
    states = [
        replace(one, file=day, at=datetime.fromisoformat(f"{day}T12:00+00:00")) for day in days
    ]
    assert [state.file for state in to_stay(states, 1)] == [
        "2026-10-05",
        "2026-09-30",
        "2025-09-02",
    ]
    assert [state.file for state in to_stay(states, 2)] == [
        "2026-10-05", "2026-10-04", "2026-09-30", "2025-09-02",
    ]  # fmt: skip
    assert to_stay(states, 5) == tuple(states)


def test_a_full_stick_is_made_room_on_where_a_person_says_so(
    book: Book, stick: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("joblog.backup.pruning.YOUNG", -60)
    for day in range(3):
        a_day(book, day)
        back_up(book, stick)
    before = {path.name for path in objects(stick)}
    a_day(book, 3)
    # There is room once anything is gone.
    full = lambda place: 0 if before <= {path.name for path in objects(stick)} else 1 << 30  # noqa: E731
    monkeypatch.setattr(taking, "room", full)
    with pytest.raises(BookError, match="has no room"):
        back_up(book)
    assert back_up(book, keep=1).damaged == ()
    assert len(states(stick)[0]) == 1
