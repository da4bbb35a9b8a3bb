"""What is still to do and to buy, and that an order holds it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import decisions
from joblog.cli.looking import day_text
from joblog.model import Doubt, Entry, Reading
from joblog.service import Desk, decide, errands, places, planning, record
from joblog.service.planning import Measured
from tests.service.conftest import MORNING

COIL = Entry("needed", item="trim coil", quantity=Fraction(2), unit="roll")
CALL = Entry("todo", note="call about the dumpster")


def tell(desk: Desk, *entries: Entry, doubt: str = "", minutes: int = 0) -> list[int]:
    doubts = (Doubt(0, doubt),) if doubt else ()
    at = MORNING + timedelta(minutes=minutes)
    return list(decisions.add_typed(desk.book, desk.job.name, Reading(entries, doubts), "told", at))


def ordered(desk: Desk) -> dict[str, Fraction]:
    place = places.place_of(desk.book.folder)
    lines = planning.what_to_buy(place, desk.job.name, Measured()).lines
    return {line.item: line.bought for line in lines}


def notes(desk: Desk) -> str:
    place = places.place_of(desk.book.folder)
    return "\n".join(planning.what_to_buy(place, desk.job.name, Measured()).notes)


def test_what_is_to_do_stands_until_it_is_dropped_the_nearest_day_first(desk: Desk) -> None:
    [first, second] = tell(desk, CALL, replace(CALL, note="bring the brake", day=date(2026, 10, 6)))
    assert [one.id for one in errands.to_do(desk)] == [second, first]
    decide.drop(desk, first)
    assert [one.id for one in errands.to_do(desk)] == [second]


def test_what_was_needed_is_wanted_until_it_comes(desk: Desk) -> None:
    tell(desk, COIL)
    [wanted] = errands.wanted(desk)
    assert (wanted.item, wanted.quantity, wanted.unit) == ("trim coil", 2, "roll")
    tell(desk, replace(COIL, kind="delivered", quantity=Fraction(1)), minutes=5)
    assert errands.wanted(desk) == ()


def test_the_same_amount_twice_is_one_and_different_ones_are_added(desk: Desk) -> None:
    tell(desk, COIL, COIL, replace(COIL, quantity=Fraction(1)))
    [wanted] = errands.wanted(desk)
    assert wanted.quantity == 3
    assert "2 rolls asked for twice, taken for one" in wanted.note
    assert "2 rolls and 1 roll" in wanted.note


def test_what_is_in_doubt_is_not_wanted_yet(desk: Desk) -> None:
    tell(desk, COIL, doubt="two, or ten?")
    assert errands.wanted(desk) == ()


def test_the_order_holds_what_was_asked_for_beside_the_plan(desk: Desk) -> None:
    before = ordered(desk)
    tell(desk, COIL)
    assert ordered(desk) == {**before, "trim coil": 2}


@pytest.mark.parametrize(("asked", "more"), [(3, 0), (40, 35)])
def test_an_order_of_the_plan_is_raised_to_what_was_asked_for(
    desk: Desk, asked: int, more: int
) -> None:
    before = ordered(desk)["soffit panel"]
    panel = replace(COIL, item="soffit panel", unit="sheet", quantity=Fraction(asked))
    tell(desk, panel)
    assert ordered(desk)["soffit panel"] == max(before, asked)
    assert (max(before, asked) > before) == bool(more)


def test_what_ran_out_without_an_amount_is_told(desk: Desk) -> None:
    tell(desk, replace(COIL, quantity=None))
    assert "trim coil" not in ordered(desk)
    assert "trim coil: asked for on Corner porch, but nobody said how much" in notes(desk)


TUESDAY = date(2026, 10, 6)


def test_what_was_said_before_for_a_day_is_due_on_it(desk: Desk) -> None:
    [call, coil] = tell(desk, replace(CALL, day=TUESDAY), replace(COIL, day=TUESDAY))
    tell(desk, replace(CALL, day=TUESDAY + timedelta(days=1)))
    assert [one.id for one in record.due(desk, TUESDAY)] == [call, coil]
    decide.drop(desk, call)
    tell(desk, replace(COIL, kind="delivered"), minutes=60)
    assert record.due(desk, TUESDAY) == ()


def test_what_is_told_of_an_earlier_day_is_named_on_that_day(desk: Desk) -> None:
    sunday = MORNING.date() - timedelta(days=1)
    [used] = tell(
        desk, Entry("used", item="fascia", quantity=Fraction(3), unit="stick", day=sunday)
    )
    assert [one.id for one in record.told_later(desk, sunday)] == [used]
    assert record.told_later(desk, MORNING.date()) == ()
    page = day_text(desk, sunday)
    assert f"told on Mon, Oct 5, 2026: installed: 3 sticks of fascia (entry {used})" in page


def test_the_sheet_of_a_day_says_what_is_due(desk: Desk) -> None:
    tell(desk, replace(CALL, day=TUESDAY), doubt="which day?")
    assert "due: to do: call about the dumpster (entry 3, in doubt)" in day_text(desk, TUESDAY)


def test_a_problem_is_open_until_it_is_dropped(desk: Desk) -> None:
    [early, late] = tell(desk, Entry("problem", note="rot"), Entry("problem", note="wet wall"))
    assert [one.id for one in errands.problems(desk)] == [early, late]
    errands.done(desk, [early])
    assert [one.id for one in errands.problems(desk)] == [late]


def test_all_of_them_are_read_at_once_as_one_by_one(desk: Desk) -> None:
    tell(desk, CALL, COIL, Entry("problem", note="rot"))
    found = errands.errands(desk)
    assert found.to_do == errands.to_do(desk)
    assert found.wanted == errands.wanted(desk)
    assert found.problems == errands.problems(desk)


def test_what_is_done_is_taken_back_in_one_step(desk: Desk) -> None:
    entries = tell(desk, COIL, replace(COIL, quantity=Fraction(1)))
    errands.done(desk, entries)
    assert errands.wanted(desk) == ()
    decide.undo(desk)
    [wanted] = errands.wanted(desk)
    assert wanted.entries == tuple(entries)


def test_what_another_open_job_asked_for_comes_on_top_and_says_where_it_was_asked(
    desk: Desk,
) -> None:
    place = places.place_of(desk.book.folder)
    panels = Entry("needed", item="soffit panel", unit="sheet", quantity=Fraction(4))
    alone = planning.what_to_buy(place, desk.job.name, Measured()).lines[0]
    decisions.add_typed(desk.book, "Mill house", Reading((panels,)), "", MORNING)
    [line] = planning.what_to_buy(place, desk.job.name, Measured()).lines
    assert line.needed == alone.needed + 4
    assert (line.asked, line.gross, line.allowance) == (4, alone.gross, alone.allowance)
    assert line.why[-1] == "asked for on Mill house: 4 panels"


def test_what_was_asked_for_is_in_an_order_for_runs_too_until_it_comes(desk: Desk) -> None:
    place = places.place_of(desk.book.folder)
    eave = Measured(
        work="boxed eave", place="north eave", values=(("length", "41"), ("depth", "12"))
    )
    tell(desk, COIL)
    [coil] = [
        one for one in planning.what_to_buy(place, None, eave).lines if one.item == "trim coil"
    ]
    assert coil.why == ("asked for on Corner porch: 2 rolls",)
    assert {one.item for one in errands.wanted_at(place)} == {"trim coil"}
    tell(desk, replace(COIL, kind="delivered"))
    assert errands.wanted_at(place) == ()


def test_without_a_book_nothing_is_wanted(tmp_path: Path) -> None:
    assert errands.wanted_at(places.Place(tmp_path / "nowhere", asked=False)) == ()
