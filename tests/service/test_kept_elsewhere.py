"""A backup is taken, listed, made a book of again, and gives back what was damaged."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from joblog.book import Book
from joblog.service import Desk, ServiceError, checking, keeping_safe
from joblog.service.places import Place


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


def test_a_backup_is_listed_and_made_a_book_of_again(desk: Desk, stick: Path, tmp_path: Path):
    assert keeping_safe.states_at_hand(desk.book) == ("", ())
    outcome = keeping_safe.back_up(desk.book, stick)
    states, damaged = keeping_safe.states(stick)
    assert (states, damaged) == ((outcome.state,), ())
    assert keeping_safe.states_at_hand(desk.book) == (str(stick), states)
    keeping_safe.restore(stick, Place(tmp_path / "new"))
    with Book.open(tmp_path / "new") as again:
        assert again.entries(desk.job.name) == desk.book.entries(desk.job.name)


def test_a_folder_that_is_gone_has_no_states_and_is_still_named(desk: Desk, stick: Path):
    keeping_safe.back_up(desk.book, stick)
    stick.rename(stick.with_name("pulled"))
    assert keeping_safe.states_at_hand(desk.book) == (str(stick), ())


def test_nothing_is_restored_over_a_book(desk: Desk, stick: Path):
    keeping_safe.back_up(desk.book, stick)
    desk.book.add_job(replace(desk.job, name="another job"))
    with pytest.raises(ServiceError, match="a book is here already"):
        keeping_safe.restore(stick, Place(desk.book.folder))


def test_what_is_damaged_is_put_back_from_the_backup(desk: Desk, stick: Path):
    keeping_safe.back_up(desk.book, stick)
    photo = desk.book.media(desk.book.photos(desk.job.name)[0].sha256)
    good = photo.read_bytes()
    photo.write_bytes(b"rotten")
    [damage] = checking.look_at_all(desk.book).damage
    assert str(stick) in damage.again
    assert checking.mend(desk.book) == 1
    assert (photo.read_bytes(), checking.check(desk.book)) == (good, ())


def test_all_was_looked_at_before_once_it_was(desk: Desk):
    assert checking.look_at_all(desk.book).since == "never"
    assert str(datetime.now().year) in checking.look_at_all(desk.book).since
