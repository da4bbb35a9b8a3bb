"""The cut list of what was said to be cut on a job."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from joblog.book import decisions
from joblog.model import Doubt, Entry, Item, Plan, PlannedItem, Reading
from joblog.service import Desk, decide
from joblog.service.cutting import cut_list, pieces_to_cut
from tests.service.conftest import MORNING

SIX = Entry("measure", item="fascia", inches=Fraction(287, 8), pieces=6, place="north eave")


def _tell(desk: Desk, entry: Entry, *doubts: str) -> int:
    reading = Reading((entry,), tuple(Doubt(0, why) for why in doubts))
    [id] = decisions.add_typed(desk.book, desk.job.name, reading, "told", MORNING)
    return id


def test_measures_of_a_number_of_pieces_are_to_be_cut(desk: Desk) -> None:
    id = _tell(desk, SIX)
    _tell(desk, replace(SIX, pieces=None))
    [piece] = pieces_to_cut(desk).pieces
    assert (piece.length, piece.pieces, piece.item) == (Fraction(287, 8), 6, "fascia")
    assert (piece.label, piece.source) == ("north eave", f"entry {id}")


def test_what_is_in_doubt_or_dropped_is_not_cut_and_doubts_are_told(desk: Desk) -> None:
    decide.drop(desk, _tell(desk, SIX))
    asked = _tell(desk, SIX, "35 7/8 or 36 7/8?")
    found = pieces_to_cut(desk)
    assert found.pieces == ()
    assert [one.id for one in found.doubtful] == [asked]


def test_the_sticks_are_those_of_the_plan(desk: Desk) -> None:
    sixteen = Item("fascia", "stick", stock_length=Fraction(192))
    desk.book.set_plan(desk.job.name, Plan(items=(PlannedItem(sixteen, Fraction(3)),)))
    desk.plan = desk.book.plan(desk.job.name)
    _tell(desk, replace(SIX, pieces=5))
    [plan], uncut = cut_list(pieces_to_cut(desk))
    # Five pieces of 35 7/8 and the four cuts of 1/8 between them are 179 7/8 inches of 192.
    assert [(stick.length, len(stick.cuts)) for stick in plan.sticks] == [(192, 5)]
    assert uncut == ()


def test_nothing_to_cut_is_no_list(desk: Desk) -> None:
    assert cut_list(pieces_to_cut(desk)) == ((), ())
