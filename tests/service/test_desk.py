"""Which job is meant where nobody names one."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from joblog.book import Book
from joblog.model import Plan
from joblog.service import Desk, ServiceError, closing, desk_at, open_desk, places, taking_in
from joblog.service.catalog import drop_line
from joblog.service.desk import (
    change_catalog,
    elsewhere,
    meant,
    read_catalog,
    remember,
    use_job,
)
from joblog.service.jobs import begin_job, list_jobs
from joblog.service.words import read_words, words_known


def test_the_only_job_is_meant_without_a_word(tmp_path: Path) -> None:
    with Book.create(tmp_path) as book:
        begin_job(book, "Corner porch", "America/Chicago", ("North Eave",))
        assert meant(book) == ("Corner porch", None)
        assert list_jobs(book).jobs[0].places == ("north eave",)


def test_a_job_takes_this_machine_s_zone_unless_one_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Not by TZ: what it says is asked for once in a process, and other tests asked before.
    monkeypatch.setattr("joblog.service.jobs.own_zone", lambda: "Pacific/Auckland")
    with Book.create(tmp_path) as book:
        assert begin_job(book, "Corner porch").zone == "Pacific/Auckland"


def test_nothing_tells_two_new_jobs_apart(book: Book) -> None:
    with pytest.raises(ServiceError, match="which job"):
        meant(book)


def test_a_book_without_jobs_says_how_to_begin_one(tmp_path: Path) -> None:
    with Book.create(tmp_path) as book, pytest.raises(ServiceError, match="joblog new NAME"):
        meant(book)


def test_the_last_one_used_then_the_days_then_the_settled_one(desk: Desk) -> None:
    book = desk.book
    remember(open_desk(book, "Mill house"))
    assert meant(book) == ("Mill house", "the last one used")
    near = frozenset([date(2026, 10, 6)])
    assert meant(book, near) == ("Corner porch", "the only open one with days like these")
    assert use_job(book, "Mill house") == "Mill house"
    assert meant(book, near) == ("Mill house", "settled with joblog use")
    assert list_jobs(book).settled == "Mill house"
    use_job(book, None)
    assert meant(book)[1] == "the last one used"


def test_a_closed_job_is_meant_only_by_name(desk: Desk) -> None:
    closing.close(desk, closing.draft_closing(desk))
    assert meant(desk.book) == ("Mill house", "the only open one")


def test_a_desk_is_opened_where_the_book_is(desk: Desk) -> None:
    place = places.place_of(desk.book.folder)
    with desk_at(place, "Corner porch") as other:
        assert (other.job, other.why) == (desk.job, None)
    with desk_at(place, days=frozenset([date(2026, 10, 5)])) as other:
        assert other.why == "the only open one with days like these"


def test_a_changed_catalog_changes_the_words_that_are_known(desk: Desk) -> None:
    change_catalog(desk, lambda now: now)
    drop_line(desk.book, "fascia")
    read_catalog(desk)
    assert "fascia" not in [item.name for item in desk.vocabulary.items]


def test_files_tell_their_day_by_name_or_by_their_own_time(tmp_path: Path) -> None:
    (tmp_path / "2026-10-05 09.05.00.wav").write_bytes(b"")
    (tmp_path / "IMG_20261006.jpg").write_bytes(b"")
    plain = tmp_path / "porch.wav"
    plain.write_bytes(b"")
    own = date.fromtimestamp(plain.stat().st_mtime)
    assert taking_in.days_of([tmp_path]) == {date(2026, 10, 5), date(2026, 10, 6), own}
    assert taking_in.days_of([tmp_path / "IMG_20261006.jpg"]) == {date(2026, 10, 6)}
    assert taking_in.days_of([tmp_path / "gone.wav"]) == frozenset()


def test_an_empty_plan_knows_the_starter_s_words(tmp_path: Path) -> None:
    nowhere = places.Place(tmp_path / "nowhere", asked=False)
    known = words_known(nowhere)
    assert known == words_known(nowhere)
    assert Plan().items == ()
    with pytest.raises(ServiceError, match="no book here"):
        words_known(nowhere, "Corner porch")


def test_words_are_written_at_the_job_s_own_clock(desk: Desk) -> None:
    [entry] = taking_in.write_down(desk, "used two fascia", datetime(2026, 10, 5, 23, 30))
    assert entry.at.isoformat() == "2026-10-06T04:30:00+00:00"


def test_words_are_read_without_being_kept(desk: Desk) -> None:
    reading, others = read_words("cut six at fourteen and a half", desk.vocabulary)
    assert [entry.pieces for entry in reading.entries] == [6]
    assert all(other.reading != reading for other in others)


def test_a_reading_that_a_person_saw_is_kept_as_it_was_shown(desk: Desk) -> None:
    words = "used two sheets of soffit"
    reading, _ = read_words(words, desk.vocabulary)
    [entry] = taking_in.keep_typed(desk, reading, words, datetime(2026, 10, 5, 9, tzinfo=UTC))
    assert (entry.entry, entry.said) == (reading.entries[0], words)


def test_an_entry_of_another_job_is_told_apart(desk: Desk) -> None:
    mine = [kept.id for kept in desk.book.entries(desk.job.name)]
    other = open_desk(desk.book, "Mill house")
    assert elsewhere(desk, [*mine, 999]) == {}
    assert elsewhere(other, mine[:1]) == {mine[0]: desk.job.name}
