"""Notes that are written down go on with what was said that day."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from joblog.service import Desk
from joblog.service.reading import reader_at, reader_instead
from joblog.service.said import said_before
from joblog.service.taking_in import Written, keep_typed, write_down, write_notes

DAY = date(2026, 10, 5)
MORNING = datetime(2026, 10, 5, 8, tzinfo=ZoneInfo("America/Chicago"))


def changed(written: tuple[Written, ...]) -> list[str]:
    return [entry.entry.kind for one in written for entry in one.entries]


def test_a_note_puts_right_what_a_recording_said(desk: Desk) -> None:
    used, *_ = said_before(desk, MORNING + timedelta(hours=1))
    [one] = write_notes(desk, "the soffit was seven not three", DAY, time(17))
    first = one.entries[0]
    assert (first.id, first.entry.quantity) == (used.id, 7)


def test_each_sentence_tells_what_it_made_and_what_was_not_read(desk: Desk) -> None:
    text = "used three sheets of soffit. quit at 4"
    first, second = write_notes(desk, text, DAY, time(17))
    assert (first.said, second.said) == ("used three sheets of soffit.", "quit at 4")
    assert changed((first, second)) == ["used", "stop"]


def test_a_text_without_a_word_keeps_nothing(desk: Desk) -> None:
    before = desk.book.entries(desk.job.name)
    assert write_notes(desk, " ... \n", DAY, time(17)) == ()
    assert write_down(desk, "") == ()
    assert desk.book.entries(desk.job.name) == before


def test_what_was_said_before_is_what_stands_until_then(desk: Desk) -> None:
    later = write_down(desk, "used nine sheets of soffit", datetime(2026, 10, 5, 18))
    until = MORNING + timedelta(hours=1)
    assert not {entry.id for entry in later} & {entry.id for entry in said_before(desk, until)}
    write_down(desk, "scratch that", datetime(2026, 10, 5, 19))
    evening = datetime(2026, 10, 5, 20, tzinfo=ZoneInfo(desk.job.zone))
    assert later[0].id not in {entry.id for entry in said_before(desk, evening)}


def test_words_typed_at_a_moment_are_read_after_what_was_said_until_then(desk: Desk) -> None:
    write_down(desk, "used nine sheets of soffit on the south eave", datetime(2026, 10, 5, 18))
    at = datetime(2026, 10, 5, 19, tzinfo=ZoneInfo(desk.job.zone))
    reading = reader_at(desk, at)("same on the north eave")
    assert (reading.entries[0].quantity, reading.entries[0].place) == (9, "north eave")
    [changed] = [
        entry
        for entry in keep_typed(desk, reader_at(desk, at)("make it four"), "make it four", at)
        if entry.entry.kind != "correction"
    ]
    assert (changed.entry.quantity, changed.change) == (4, "corrected")


def test_an_entry_is_read_anew_after_what_was_said_before_it(desk: Desk) -> None:
    write_down(desk, "used nine sheets of soffit on the south eave", datetime(2026, 10, 5, 18))
    [same] = write_down(desk, "same on the north eave", datetime(2026, 10, 5, 19))
    read = reader_instead(desk, same)
    assert read("same on the north eave").entries[0].quantity == 9


def test_what_is_written_for_earlier_says_what_it_changes_for_later_words(desk: Desk) -> None:
    write_down(desk, "used nine sheets of soffit", datetime(2026, 10, 5, 15))
    write_down(desk, "make it four", datetime(2026, 10, 5, 18))
    write_down(desk, "used two rolls of house wrap", datetime(2026, 10, 5, 17))
    doubts = [why for one in desk.book.entries(desk.job.name) for why in one.doubts]
    assert any(
        why.startswith("what was said at 5:00 PM came in later: was installed") for why in doubts
    )
