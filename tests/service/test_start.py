"""Where a review starts, and beginning and turning to jobs."""

from __future__ import annotations

from pathlib import Path

import pytest

from joblog.book import Book
from joblog.model import Job
from joblog.service import Desk, Place, ServiceError, decide, open_desk
from joblog.service.desk import remember
from joblog.service.jobs import job_lines, turn_to, waiting
from joblog.service.start import begin_at, started
from joblog.service.words import words_known
from tests.service.conftest import MORNING, ZONE


def test_without_a_book_there_is_no_desk_and_none_is_made(tmp_path: Path) -> None:
    with started(Place(tmp_path / "joblog")) as start:
        assert start.desk is None
    assert not (tmp_path / "joblog").exists()


def test_a_book_without_a_job_has_no_desk(tmp_path: Path) -> None:
    Book.create(tmp_path / "joblog").close()
    with started(Place(tmp_path / "joblog")) as start:
        assert start.desk is None


def test_a_job_that_was_named_and_is_not_there_is_refused(tmp_path: Path, desk: Desk) -> None:
    with (
        pytest.raises(ServiceError, match="no book here"),
        started(Place(tmp_path / "joblog"), "Garage"),
    ):
        pass
    with pytest.raises(ServiceError, match="Garage"), started(Place(desk.book.folder), "Garage"):
        pass


def test_where_nothing_tells_which_job_is_meant_that_is_said(book: Book) -> None:
    with started(Place(book.folder)) as start:
        assert start.desk is not None
        assert (start.desk.job.name, start.sure) == ("Mill house", False)
    remember(open_desk(book, "Corner porch"))
    with started(Place(book.folder)) as start:
        assert start.desk is not None
        assert (start.desk.job.name, start.sure) == ("Corner porch", True)


def test_the_first_job_makes_the_book(tmp_path: Path) -> None:
    desk = begin_at(Place(tmp_path / "joblog"), "Garage", "America/Chicago", ["north eave"])
    with desk.book:
        assert desk.book.jobs() == (Job("Garage", "America/Chicago", ("north eave",)),)


def test_a_job_that_cannot_be_begun_leaves_a_book_that_can_be_gone_on_with(tmp_path: Path) -> None:
    place = Place(tmp_path / "joblog")
    with pytest.raises(ServiceError, match="no time zone"):
        begin_at(place, "Garage", "Mars/Olympus")
    begin_at(place, "Garage", "America/Chicago").book.close()


def test_the_words_of_a_first_job_are_those_of_the_starter(tmp_path: Path) -> None:
    words = words_known(Place(tmp_path / "joblog", asked=False))
    assert "soffit panel" in [item.name for item in words.items]


def test_every_job_is_listed_with_what_it_holds(desk: Desk) -> None:
    decide.accept(desk, 1)
    remember(desk)
    [porch, mill] = job_lines(desk.book)
    assert (porch.job.name, porch.days, porch.last_used) == ("Corner porch", 1, True)
    assert porch.decided is not None
    # It was decided now, long after or before the day it is about.
    assert porch.used_on == max(MORNING.date(), porch.decided.astimezone(ZONE).date())
    assert (mill.job.name, mill.days, mill.last_day, mill.decided) == ("Mill house", 0, None, None)


def test_doubts_of_all_jobs_are_counted_beside_other_work(desk: Desk) -> None:
    jobs = ("Corner porch", "Mill house")
    counted = dict(waiting(desk.book.folder, jobs))
    assert counted == {name: _doubts(desk.book, name) for name in jobs}


def _doubts(book: Book, job: str) -> int:
    from joblog.service.record import read_entries

    return sum(one.open for one in read_entries(open_desk(book, job)))


def test_turning_to_another_job_changes_the_desk_that_screens_share(desk: Desk) -> None:
    turn_to(desk, "Mill house")
    assert (desk.job.name, desk.plan.items) == ("Mill house", ())
    with pytest.raises(ServiceError):
        turn_to(desk, "Garage")
    assert desk.job.name == "Mill house"
