"""What stands of a day is what words said later can point back at."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

from joblog.book import decisions
from joblog.model import Entry, Reading
from joblog.service import Desk, decide
from joblog.service.listening import context_today
from joblog.service.reading import said_before
from tests.service.conftest import MORNING

COIL = Entry("used", item="trim coil", quantity=Fraction(2), unit="roll", place="porch")
DROP = Entry("correction", action="drop")


def test_what_was_dropped_and_what_corrects_stand_for_nothing(desk: Desk) -> None:
    at = MORNING + timedelta(hours=1)
    before = [one.id for one in said_before(desk, at)]
    reading = Reading((COIL, COIL, DROP))
    [kept, _, _] = decisions.add_typed(desk.book, desk.job.name, reading, "told", at)
    assert [one.id for one in said_before(desk, at)] == [*before, kept]
    decide.drop(desk, kept)
    assert [one.id for one in said_before(desk, at)] == before


def test_listening_goes_on_from_what_stands_and_not_from_a_correction(desk: Desk) -> None:
    at = MORNING + timedelta(hours=1)
    decisions.add_typed(desk.book, desk.job.name, Reading((COIL, COIL, DROP)), "told", at)
    context = context_today(desk, at + timedelta(minutes=1))
    assert context.told[-1] == COIL
    assert (context.place, context.item) == ("porch", "trim coil")
