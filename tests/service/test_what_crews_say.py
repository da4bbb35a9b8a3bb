"""What crews say of hours, pay and waste: words, book, squared up, closed, taught."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from joblog.book import Book, closed
from joblog.model import (
    History,
    Item,
    Job,
    PastWork,
    Plan,
    PlannedItem,
    PlannedTask,
    Reconciliation,
    Task,
    TaskLine,
)
from joblog.service import Desk, ServiceError, decide, open_desk
from joblog.service.closing import close, draft_closing
from joblog.service.done import done_in_all, say_done
from joblog.service.filling_in import missing_of
from joblog.service.record import last_closing, read_balance
from joblog.service.taking_in import write_notes

JOB = Job("Corner porch", "America/Chicago", ("north eave", "south eave"))
AT = datetime(2026, 10, 5, 16, 0, tzinfo=ZoneInfo(JOB.zone))
PANEL = Item("soffit panel", "sheet", spoken=("soffit",))
HANG = Task("hang soffit", spoken=("hanging soffit", "hung soffit"), unit="ft")
PLAN = Plan(
    (PlannedItem(PANEL, Fraction(8), Decimal("24.50"), net=Fraction(7)),),
    (PlannedTask(HANG, Fraction(16), Decimal("30.00"), Fraction(160)),),
)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        made.add_job(JOB)
        made.set_plan(JOB.name, PLAN)
        yield made


@pytest.fixture
def desk(book: Book) -> Desk:
    return open_desk(book, JOB.name)


def told(desk: Desk, *sentences: str) -> Reconciliation:
    """The job squared up after these were written down, one after another."""
    for sentence in sentences:
        write_notes(desk, sentence, AT.date(), AT.time())
    return read_balance(desk)


def hours_of(desk: Desk, *sentences: str) -> TaskLine:
    [line] = told(desk, *sentences).tasks
    return line


def taught(desk: Desk) -> History:
    """What the job teaches once it is closed, as the book has it for the next bid."""
    _, lessons = close(desk, draft_closing(desk))
    assert closed.history(desk.book)[0] == lessons
    return lessons


# --- pay


def test_a_helper_s_pay_is_his_and_the_other_costs_as_planned(desk: Desk) -> None:
    line = hours_of(desk, "two of us, six hours hanging soffit, the helper at eighteen an hour")
    # 6 h at 18.00 and 6 h at the planned 30.00; both at 18.00 would be 216.00.
    assert (line.actual, line.actual_cost) == (12, Decimal("288.00"))
    assert line.variance is not None and line.variance.rate == Decimal("-72.00")


def test_the_pay_of_both_is_that_of_both(desk: Desk) -> None:
    line = hours_of(desk, "six hours hanging soffit, two of us, at thirty five an hour each")
    assert line.actual_cost == Decimal("420.00")


def test_a_helper_with_his_pay_in_one_breath_is_not_the_pay_of_two(desk: Desk) -> None:
    line = hours_of(desk, "six hours hanging soffit with a helper at eighteen an hour")
    assert line.actual_cost == Decimal("288.00")


def test_whose_pay_it_is_is_asked_where_nobody_can_tell(desk: Desk) -> None:
    result = told(desk, "six hours hanging soffit with a helper, at eighteen an hour")
    assert (result.open_doubts, result.tasks[0].left_out) == (1, (1,))


# --- hours without an amount


def test_a_quarter_hour_without_an_amount_has_no_pace_and_teaches_nothing(desk: Desk) -> None:
    line = hours_of(desk, "a quarter hour hanging soffit")
    # 160 ft planned in it would be 640 ft an hour.
    assert (line.actual, line.done, line.actual_rate) == (Fraction(1, 4), None, None)
    [gap] = [gap for gap in read_balance(desk).gaps if gap.settled_by == "done"]
    assert gap.text == (
        "hang soffit: nobody said how much was done in 1/4 man-hours; they teach nothing"
    )
    assert taught(desk).work == ()


def test_all_of_it_as_planned_is_one_step_and_teaches(desk: Desk) -> None:
    told(desk, "six hours hanging soffit, two of us", "four hours hanging soffit")
    kept = say_done(desk, "soffit")
    assert (kept.entry.quantity, kept.entry.unit, kept.entry.hours) == (160, "ft", None)
    [line] = read_balance(desk).tasks
    assert (line.done, line.actual_rate, line.without_amount) == (160, 10, ())
    assert line.variance is not None
    assert (line.variance.scope_hours, line.variance.efficiency_hours) == (0, 0)
    assert taught(desk).work == (
        PastWork(JOB.name, AT.date(), "hang soffit", Fraction(160), Fraction(16), crew=2),
    )
    decide.undo(desk)
    decide.undo(desk)
    assert read_balance(desk).tasks[0].done is None


def test_another_amount_is_that_of_all_hours_less_what_was_told(desk: Desk) -> None:
    told(desk, "hung forty feet of soffit in three hours", "two hours hanging soffit")
    assert done_in_all(desk, "hang soffit", "64 ft").quantity == 24
    say_done(desk, "hang soffit", "64")
    [line] = read_balance(desk).tasks
    assert (line.done, line.done_hours) == (64, 5)


def test_only_hours_with_an_amount_teach(desk: Desk) -> None:
    told(desk, "hung forty feet of soffit in three hours", "two hours hanging soffit")
    [work] = taught(desk).work
    assert (work.quantity, work.crew_hours) == (40, 3)


@pytest.mark.parametrize(
    ("task", "amount", "why"),
    [
        ("gutter", "", "'gutter' is no task: hang soffit"),
        ("hang soffit", "thirty", "'thirty' is no amount; write it as 82, or 82 ft"),
        ("hang soffit", "3 lb", "hang soffit is measured in ft: '3 lb' is none of it"),
        ("hang soffit", "30", "40 ft were told to be done already, so it was not 30 ft in all"),
    ],
)
def test_what_cannot_be_done_is_refused(desk: Desk, task: str, amount: str, why: str) -> None:
    told(desk, "hung forty feet of soffit in three hours", "two hours hanging soffit")
    with pytest.raises(ServiceError, match=why):
        say_done(desk, task, amount)


def test_what_is_known_of_all_hours_is_not_said_again(desk: Desk) -> None:
    told(desk, "hung forty feet of soffit in three hours")
    with pytest.raises(ServiceError, match="40 ft were told to be done, in all its hours"):
        say_done(desk, "hang soffit")


def test_the_squared_up_job_offers_to_say_it(desk: Desk) -> None:
    result = told(desk, "two hours hanging soffit")
    [gap] = [gap for gap in result.gaps if gap.settled_by == "done"]
    missing = missing_of(gap, result)
    assert missing is not None and (missing.what, missing.name) == ("done", "hang soffit")


# --- why it was spoiled


@pytest.mark.parametrize(
    ("sentence", "why"),
    [
        ("spoiled one sheet of soffit on the north eave, cut too short", "cut too short"),
        ("spoiled one sheet of soffit, cut too short, on the north eave", "cut too short"),
        (
            "spoiled one sheet of soffit on the north eave, my helper cut it too short",
            "my helper cut it too short",
        ),
        ("spoiled one sheet of soffit on the north eave, measured wrong", "measured wrong"),
    ],
)
def test_why_it_was_spoiled_is_kept_where_the_place_stands_before_it(
    desk: Desk, sentence: str, why: str
) -> None:
    result = told(desk, sentence)
    [reason] = result.reasons
    assert (reason.text, reason.quantity, result.open_doubts) == (why, 1, 0)
    assert ("north eave", 1) in [(part.place, part.spoiled) for part in result.parts]


# --- after closing


@pytest.mark.parametrize(
    "sentence",
    [
        "note the light was good all day",
        "to do call the inspector about the porch",
        "problem the north eave drips",
        "covered the flashing on the north eave",
        "need four sheets of soffit",
    ],
)
def test_what_no_figure_is_made_of_leaves_a_job_closed_and_teaching(
    desk: Desk, sentence: str
) -> None:
    told(desk, "hung forty feet of soffit in three hours")
    lessons = taught(desk)
    told(desk, sentence)
    closing = last_closing(desk)
    assert closing is not None and not closing.reopened
    assert closed.history(desk.book) == (lessons, ())
    assert closed.closed_jobs(desk.book) == {JOB.name}


@pytest.mark.parametrize(
    "sentence",
    [
        "used three sheets of soffit",
        "two hours hanging soffit",
        "it was ninety five degrees",
        "extra for the customer a hundred dollars for the mailbox",
        "nine or so of the, no wait, twelve soffit",
    ],
)
def test_what_may_change_a_figure_opens_it_again(desk: Desk, sentence: str) -> None:
    told(desk, "hung forty feet of soffit in three hours")
    taught(desk)
    told(desk, sentence)
    closing = last_closing(desk)
    assert closing is not None and closing.reopened
    assert closed.history(desk.book)[0] == History()


def test_a_note_dropped_or_put_right_after_closing_leaves_it_closed(desk: Desk) -> None:
    told(desk, "hung forty feet of soffit in three hours", "note the light was good all day")
    taught(desk)
    [note] = [one for one in desk.book.entries(JOB.name) if one.entry.kind == "note"]
    decide.edit(desk, note.id, "note", "the light was good till four")
    assert closed.closed_jobs(desk.book) == {JOB.name}
    decide.drop(desk, note.id)
    assert closed.closed_jobs(desk.book) == {JOB.name}


def test_a_note_that_turns_out_to_be_a_fact_opens_it_again(desk: Desk) -> None:
    told(desk, "hung forty feet of soffit in three hours", "note the light was good all day")
    taught(desk)
    [note] = [one for one in desk.book.entries(JOB.name) if one.entry.kind == "note"]
    decide.edit(desk, note.id, "kind", "extra")
    closing = last_closing(desk)
    assert closing is not None and closing.changed == (note.id,)


def test_words_beside_a_fact_leave_it_closed_and_another_number_does_not(desk: Desk) -> None:
    told(desk, "hung forty feet of soffit in three hours")
    taught(desk)
    [hours] = [one for one in desk.book.entries(JOB.name) if one.entry.kind == "labor"]
    decide.edit(desk, hours.id, "note", "the long side")
    assert closed.closed_jobs(desk.book) == {JOB.name}
    decide.edit(desk, hours.id, "hours", "4")
    assert closed.closed_jobs(desk.book) == frozenset()
