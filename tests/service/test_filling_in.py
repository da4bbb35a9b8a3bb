"""What is filled in line by line: a new fact, and what the record turned out to miss."""

from __future__ import annotations

from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from joblog.form import FIELDS
from joblog.model import Entry, Kind
from joblog.service import Desk, decide, record
from joblog.service.editing import lines, names
from joblog.service.errors import FieldError
from joblog.service.filling_in import Missing, filled_in, filling, keep_filled_in, missing_of
from joblog.service.moments import (
    after_all_said,
    clock_typed,
    day_typed,
    days_known,
    jobs_known,
    moment_read,
)
from joblog.service.taking_in import write_down
from tests.book.every_kind import EVERY_KIND

ZONE = ZoneInfo("America/Chicago")
NOON = datetime(2026, 10, 5, 12, 0, tzinfo=ZONE)


# --- a new fact -------------------------------------------------------------------------------


@pytest.mark.parametrize("entry", EVERY_KIND, ids=lambda entry: entry.kind)
def test_a_fact_of_any_kind_is_filled_in_from_its_lines(desk: Desk, entry: Entry) -> None:
    values = {line.field: line.typed for line in lines(entry)}
    told = filled_in(desk, entry.kind, values, NOON)
    assert [(line.field, line.typed) for line in lines(told)] == list(values.items())


@pytest.mark.parametrize("kind", [kind for kind in FIELDS if kind != "correction"])
def test_an_empty_form_says_which_line_it_needs(desk: Desk, kind: Kind) -> None:
    with pytest.raises(FieldError) as refused:
        filled_in(desk, kind, {}, NOON)
    assert refused.value.field in names(kind)


def test_a_wrong_line_is_named(desk: Desk) -> None:
    with pytest.raises(FieldError, match="'a few' is not a number") as refused:
        filled_in(desk, "used", {"item": "soffit", "quantity": "a few"}, NOON)
    assert refused.value.field == "quantity"


def test_so_many_of_an_item_are_counted_in_its_own_unit(desk: Desk) -> None:
    assert filled_in(desk, "used", {"item": "soffit", "quantity": "2"}, NOON).unit == "sheet"


def test_an_item_that_nobody_knows_is_asked_about(desk: Desk) -> None:
    told = filled_in(desk, "used", {"item": "zinc strip", "quantity": "2", "unit": "ft"}, NOON)
    [kept] = keep_filled_in(desk, [told], NOON)
    assert kept.open
    assert "'zinc strip' is not in the catalog" in kept.doubts[0]


def test_money_is_read_to_the_cent(desk: Desk) -> None:
    assert filled_in(desk, "expense", {"price": "$13.50"}, NOON).price == Decimal("13.50")


# --- what is missing --------------------------------------------------------------------------


def test_a_count_closes_the_balance_and_is_taken_back_in_one_step(desk: Desk) -> None:
    write_down(desk, "delivered nine sheets of soffit", datetime(2026, 10, 5, 7, 30))
    [gap] = [one for one in record.read_balance(desk).gaps if one.settled_by == "count"]
    missing = missing_of(gap, record.read_balance(desk))
    assert missing == Missing("count", "soffit panel", "sheet")
    told = filling(desk, missing, {"quantity": "5", "unit": "panels"}, NOON)
    keep_filled_in(desk, told, after_all_said(desk))
    assert record.read_balance(desk).stock[0].on_hand == 5
    decide.undo(desk)
    assert record.read_balance(desk).stock[0].on_hand is None


def test_nothing_left_is_a_count_too(desk: Desk) -> None:
    missing = Missing("count", "soffit panel", "sheet")
    [told] = filling(desk, missing, {"quantity": "0", "unit": "sheet"}, NOON)
    assert told.quantity == 0


def test_hours_of_a_task_come_with_how_much_was_done(desk: Desk) -> None:
    missing = Missing("hours", "hang soffit", "ft")
    told = filling(desk, missing, {"hours": "7 1/2", "workers": "2", "quantity": "90"}, NOON)
    assert told == (
        Entry(
            "labor",
            task="hang soffit",
            hours=Fraction(15, 2),
            workers=2,
            quantity=Fraction(90),
            unit="ft",
        ),
    )


def test_a_stop_without_its_start_is_put_right_on_its_day(desk: Desk) -> None:
    write_down(desk, "stopped at four thirty", datetime(2026, 10, 5, 16, 30))
    [gap] = [one for one in record.read_balance(desk).gaps if one.settled_by == "hours"]
    missing = missing_of(gap, record.read_balance(desk))
    assert missing == Missing("turns", day=date(2026, 10, 5))
    told = filling(desk, missing, {"start": "8", "stop": "", "workers": "2"}, NOON)
    assert told == (Entry("start", time=time(8), workers=2),)
    keep_filled_in(desk, told, after_all_said(desk, missing.day))
    assert record.read_balance(desk).days[0].crew_hours == 17


def test_a_day_needs_a_start_or_a_stop(desk: Desk) -> None:
    missing = Missing("turns", day=date(2026, 10, 5))
    with pytest.raises(FieldError) as refused:
        filling(desk, missing, {"start": "", "stop": "", "workers": "1"}, NOON)
    assert refused.value.field == "start"
    with pytest.raises(FieldError) as refused:
        filling(desk, missing, {"start": "8", "stop": "late", "workers": "1"}, NOON)
    assert refused.value.field == "stop"


# --- moments ----------------------------------------------------------------------------------


def test_a_moment_is_read_as_it_is_written_to_the_second(desk: Desk) -> None:
    at = NOON.replace(minute=7, second=33)
    assert moment_read(desk, day_typed(desk, at), clock_typed(desk, at), at) == at


def test_another_day_keeps_the_time_and_another_time_the_day(desk: Desk) -> None:
    at = NOON.replace(second=33)
    other = moment_read(desk, "Oct 7", clock_typed(desk, at), at)
    assert other == at.replace(day=7)
    assert moment_read(desk, day_typed(desk, at), "4:30 pm", at) == datetime(
        2026, 10, 5, 16, 30, tzinfo=ZONE
    )


def test_what_is_no_moment_names_its_line(desk: Desk) -> None:
    for day, clock, field in (("soon", "8:00", "day"), ("Oct 5", "late", "clock")):
        with pytest.raises(FieldError) as refused:
            moment_read(desk, day, clock, NOON)
        assert refused.value.field == field


def test_what_is_told_of_a_day_that_is_over_comes_after_its_last_words(desk: Desk) -> None:
    said = [one.at for one in desk.book.entries(desk.job.name)]
    assert (after_all_said(desk) - max(said)).total_seconds() == 1
    assert after_all_said(desk, date(2026, 9, 1)).astimezone(ZONE).hour == 12


def test_the_own_job_and_the_latest_day_come_first(desk: Desk) -> None:
    assert jobs_known(desk) == ("Corner porch", "Mill house")
    write_down(desk, "used two sheets of soffit", datetime(2026, 10, 6, 8, 0))
    assert days_known(desk) == ("Tue, Oct 6, 2026", "Mon, Oct 5, 2026")
