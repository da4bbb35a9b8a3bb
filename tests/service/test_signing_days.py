"""A day is signed off when nothing on it waits, and what changed is told; polling is cheap."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from joblog.book import Book
from joblog.dictation import read
from joblog.model import Plan
from joblog.service import Desk, ServiceError, closing, decide
from joblog.service.desk import change_catalog
from joblog.service.record import changed_since
from joblog.service.signing import sign_off, signed
from joblog.service.taking_in import keep_typed

MORNING = datetime(2026, 10, 5, 8, 0, tzinfo=ZoneInfo("America/Chicago"))
DAY = MORNING.date()


def wrote(desk: Desk, text: str) -> int:
    return keep_typed(desk, read(text, desk.vocabulary), text, MORNING)[0].id


def test_a_day_that_is_signed_says_what_changed(desk: Desk) -> None:
    assert signed(desk) == {}
    sign_off(desk, DAY)
    assert signed(desk)[DAY].changed == ()
    id = wrote(desk, "used one sheet of soffit")
    assert len(signed(desk)[DAY].changed) == 1
    decide.drop(desk, id)
    assert signed(desk, DAY)[DAY].changed == ()


def test_a_day_on_which_something_waits_is_not_signed(desk: Desk) -> None:
    wrote(desk, "used seven of something")
    with pytest.raises(ServiceError, match="1 entry waits"):
        sign_off(desk, DAY)


def test_a_job_that_was_closed_is_opened_again(desk: Desk) -> None:
    draft = closing.draft_closing(desk)
    closing.close(desk, draft)
    closing.reopen(desk)
    with pytest.raises(ServiceError, match="nothing to reopen"):
        closing.reopen(desk)


def test_a_photo_is_withdrawn_and_comes_back(desk: Desk) -> None:
    [photo] = desk.book.photos(desk.job.name)
    decide.withdraw(desk, photo.sha256)
    assert [one.sha256 for one in decide.withdrawn_photos(desk)] == [photo.sha256]
    assert decide.original_named(desk, photo.name) == photo.sha256
    decide.bring_back(desk, photo.sha256)
    assert decide.withdrawn_photos(desk) == () and len(desk.book.photos(desk.job.name)) == 1


def test_a_change_is_seen_from_here_and_from_another_program(desk: Desk) -> None:
    changed_since(desk)
    assert not changed_since(desk)
    wrote(desk, "used one sheet of soffit")
    assert changed_since(desk) and not changed_since(desk)
    with Book.open(desk.book.folder) as other:
        other.set_plan(desk.job.name, Plan(places=("barn",)))
    assert changed_since(desk) and not changed_since(desk)
    assert desk.plan == Plan(places=("barn",)) and "barn" in desk.vocabulary.places


def test_what_is_undone_is_not_on_the_desk_any_more(desk: Desk) -> None:
    was = desk.catalog
    change_catalog(desk, lambda now: type(now)(now.items[1:], now.tasks))
    assert desk.catalog != was
    decide.undo(desk)
    assert desk.catalog == was


def test_asking_whether_anything_changed_reads_no_row(desk: Desk) -> None:
    changed_since(desk)
    asked: list[str] = []
    desk.book._db.conn.set_trace_callback(asked.append)
    for _ in range(5):
        changed_since(desk)
    assert asked == ["PRAGMA data_version"] * 5


def test_the_moment_of_signing_is_kept(desk: Desk) -> None:
    assert sign_off(desk, DAY).at.astimezone(UTC) == signed(desk)[DAY].at
