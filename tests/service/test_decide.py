"""Decisions: each whole, a step of the history, and undoable."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from joblog.dictation import read
from joblog.model import Job
from joblog.service import Desk, ServiceError, decide, open_desk, record, taking_in
from joblog.service.rereading import Revision

ZONE = ZoneInfo("America/Chicago")


def used(desk: Desk) -> Fraction:
    [line] = [one for one in record.read_balance(desk).stock if one.item == "soffit panel"]
    return line.placed


def first(desk: Desk) -> int:
    return record.read_entries(desk)[0].id


def test_a_dropped_entry_counts_no_more_and_again_when_it_is_restored(desk: Desk) -> None:
    assert used(desk) == 3
    decide.drop(desk, first(desk))
    assert used(desk) == 0
    decide.restore(desk, first(desk))
    assert used(desk) == 3


def test_undo_takes_back_step_by_step_and_redo_does_them_again(desk: Desk) -> None:
    decide.drop(desk, first(desk))
    taking_in.write_down(desk, "used two sheets of soffit", datetime(2026, 10, 5, 10, 0))
    assert used(desk) == 2
    [last] = decide.undo(desk)
    assert last.what.startswith("wrote")
    assert used(desk) == 0
    decide.undo(desk)
    assert used(desk) == 3
    decide.redo(desk)
    decide.redo(desk)
    assert used(desk) == 2
    with pytest.raises(ServiceError):
        decide.redo(desk)


def test_the_last_step_of_one_entry_is_undone_and_redone_by_itself(desk: Desk) -> None:
    entry = first(desk)
    decide.edit(desk, entry, "quantity", "4")
    taking_in.write_down(desk, "used two sheets of soffit", datetime(2026, 10, 5, 10, 0))
    decide.undo_entry(desk, entry)
    assert used(desk) == 5
    decide.redo_entry(desk, entry)
    assert used(desk) == 6


def test_one_field_is_changed_and_the_rest_stays(desk: Desk) -> None:
    before = record.read_entries(desk)[0].entry
    after = decide.edit(desk, first(desk), "quantity", "4").entry
    assert (after.quantity, after.item, after.place) == (Fraction(4), before.item, before.place)


@pytest.mark.parametrize(("field", "value"), [("quantity", "many"), ("flavour", "red")])
def test_a_field_or_value_that_is_none_is_refused(desk: Desk, field: str, value: str) -> None:
    with pytest.raises(ServiceError):
        decide.edit(desk, first(desk), field, value)


def test_what_a_person_doubted_already_is_not_asked_again_after_a_correction(desk: Desk) -> None:
    [entry] = taking_in.write_down(desk, "used seven of something", datetime(2026, 10, 5, 10, 0))
    assert entry.open
    again = Revision("used seven of something", read("used seven of something", desk.vocabulary))
    [now, *_] = decide.correct(desk, entry, again)
    assert not now.open


def test_a_correction_with_a_new_doubt_is_asked(desk: Desk) -> None:
    entry = record.read_entries(desk)[0]
    words = "used seven of something"
    [now, *_] = decide.correct(desk, entry, Revision(words, read(words, desk.vocabulary)))
    assert now.open
    assert not decide.accept(desk, now.id).open


def test_an_entry_is_moved_to_another_day_and_another_job(desk: Desk) -> None:
    entry = first(desk)
    decide.move_entry(desk, entry, at=datetime(2026, 10, 6, 9, 0, tzinfo=ZONE))
    assert record.day_named(desk, None).isoformat() == "2026-10-06"
    decide.move_entry(desk, entry, job="Mill house")
    assert entry not in [one.id for one in record.read_entries(desk)]
    assert entry in [one.id for one in record.read_entries(open_desk(desk.book, "Mill house"))]


def test_a_recording_goes_to_another_job_with_its_entries_and_comes_back(desk: Desk) -> None:
    sha256 = decide.original_named(desk, "monday.wav")
    decide.move_original(desk, sha256, "Mill house")
    assert record.read_entries(desk) == ()
    assert len(record.read_entries(open_desk(desk.book, "Mill house"))) == 2
    decide.undo(desk)
    assert used(desk) == 3


def test_a_withdrawn_recording_counts_nowhere_until_it_is_brought_back(desk: Desk) -> None:
    sha256 = decide.original_named(desk, "monday.wav")
    assert decide.withdraw(desk, sha256).standing == "withdrawn"
    assert used(desk) == 0
    assert decide.bring_back(desk, sha256).standing == "kept"
    assert used(desk) == 3


def test_a_tie_made_or_cut_by_hand_stays(desk: Desk) -> None:
    [tied] = record.ties(desk)
    other = next(one.id for one in record.read_entries(desk) if one.id != tied.entry)
    decide.untie(desk, tied.photo, tied.entry)
    decide.tie(desk, tied.photo, other)
    decide.accept(desk, other)
    assert [(one.photo, one.entry) for one in record.ties(desk)] == [(tied.photo, other)]


def test_every_decision_is_told_in_words(desk: Desk) -> None:
    decide.drop(desk, first(desk))
    step = decide.steps(desk)[-1]
    assert step.what.startswith("dropped: installed 3 soffit panels")
    assert (step.who, step.state) == ("you", "done")


def test_an_original_is_found_by_its_name_or_the_start_of_its_hash(desk: Desk) -> None:
    sha256 = decide.original_named(desk, "monday.wav")
    assert decide.original_named(desk, sha256[:12]) == sha256
    with pytest.raises(ServiceError, match="no recording or photo called 'x"):
        decide.original_named(desk, "x.wav")
    desk.book.add_job(Job("Attic", "America/Chicago"))
    with pytest.raises(ServiceError, match=f"it is in {desk.job.name}: say --job"):
        decide.original_named(open_desk(desk.book, "Attic"), "monday.wav")
