"""What the record of a job holds."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from joblog.service import Desk, ServiceError, closing, open_desk, record, taking_in
from joblog.service.learning import jobs_that_teach

MONDAY = date(2026, 10, 5)


def test_a_day_holds_what_was_said_and_photographed_on_it(desk: Desk) -> None:
    day = record.read_day(desk, MONDAY)
    assert [entry.entry.kind for entry in day.entries] == ["used", "photo"]
    assert [photo.name for photo in day.photos] == ["eave.jpg"]
    [line] = record.read_days(desk)
    assert (line.day, line.entries, line.photos) == (MONDAY, 2, 1)
    assert record.read_entries(desk, date(2026, 10, 6)) == ()


def test_behind_an_entry_stand_its_recording_and_its_photos(desk: Desk) -> None:
    used, photo = record.read_entries(desk)
    assert record.behind(desk)[used.id] == "monday.wav at 0:00"
    assert record.behind(desk)[photo.id] == "monday.wav at 0:20, photo eave.jpg"
    evidence = record.read_evidence(desk, [photo.id])[photo.id]
    assert (evidence.recording, [one.name for one in evidence.photos]) == (
        "monday.wav",
        ["eave.jpg"],
    )


def test_originals_and_versions_can_be_had(desk: Desk) -> None:
    [sound] = record.recordings(desk)
    assert record.original(desk, sound.sha256).read_bytes() == b"monday"
    assert [photo.name for photo in record.photos(desk)] == ["eave.jpg"]
    [entry, _] = record.read_entries(desk)
    assert [one.version for one in record.versions(desk, entry.id)] == [1]


def test_the_last_day_is_meant_unless_one_is_named(desk: Desk) -> None:
    assert record.day_named(desk, None) == MONDAY
    assert record.day_named(desk, date(2026, 1, 1)) == date(2026, 1, 1)
    with pytest.raises(ServiceError, match="nothing was said yet"):
        record.day_named(open_desk(desk.book, "Mill house"), None)


def test_closing_freezes_the_figures_and_teaches(desk: Desk) -> None:
    taking_in.write_down(desk, "used two sheets of soffit")
    taking_in.write_down(desk, "two sheets of soffit left")
    taking_in.write_down(desk, "delivered seven sheets of soffit")
    draft = closing.draft_closing(desk)
    frozen, lessons = closing.close(desk, draft)
    assert record.last_closing(desk) == frozen
    assert [use.item for use in lessons.uses] == ["soffit panel"]
    assert jobs_that_teach(desk.book.folder) == 1


def test_a_job_that_changed_meanwhile_is_not_closed(desk: Desk) -> None:
    draft = closing.draft_closing(desk)
    taking_in.write_down(desk, "used two sheets of soffit")
    with pytest.raises(ServiceError, match="changed while it was being closed"):
        closing.close(desk, draft)


def test_nothing_said_is_nothing_to_close(desk: Desk) -> None:
    with pytest.raises(ServiceError, match="there is nothing to close"):
        closing.draft_closing(open_desk(desk.book, "Mill house"))
    with pytest.raises(ServiceError, match="has not come yet"):
        closing.draft_closing(desk, date(2199, 1, 1))


def test_photos_come_in_through_the_door(desk: Desk, tmp_path: Path) -> None:
    demo = Path(__file__).parents[2] / "fixtures" / "demo" / "photos" / "yard.jpg"
    intake = taking_in.take_in(desk, [demo])
    assert (intake.photos, intake.problems) == (1, ())
    assert len(record.photos(desk)) == 2
