"""A day is one conversation: what a recording says may be about what an earlier one said."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from fractions import Fraction
from functools import partial
from pathlib import Path

import fake_ears
import pytest
from fake_ears import recording

from joblog.book import Book, decisions, intake, steps
from joblog.model import BookEntry, Doubt, Entry, Job, Reading
from tests.left_behind import in_a_fork, left_behind

sys.path.append(str(Path(__file__).parents[1] / "bench"))
import killing
from test_killing import take_in_here

pytestmark = pytest.mark.usefixtures("heard_here")
JOB = Job("Gull Point cottage", "America/New_York")
take_in = partial(intake.take_in, recognizers=(), listen=fake_ears.listen, workers=1)
MORNING, NOON, EVENING = (f"2026-10-05 {hour}-00-00.wav" for hour in ("08", "12", "17"))


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield book


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "from phone").mkdir()
    return tmp_path / "from phone"


def facts(book: Book) -> list[BookEntry]:
    return [one for one in book.entries(JOB.name) if one.entry.kind != "correction"]


def standing(book: Book) -> list[tuple[str | None, Fraction | None, str | None]]:
    return [
        (one.entry.item, one.entry.quantity, one.entry.place)
        for one in facts(book)
        if one.standing != "dropped"
    ]


def test_a_correction_puts_right_what_an_earlier_recording_said(book: Book, folder: Path) -> None:
    recording(folder, MORNING, "used three sheets of soffit on the north eave")
    recording(folder, NOON, "no, that was seven")
    take_in(book, JOB.name, [folder])
    assert standing(book) == [("soffit panel", 7, "north eave")]
    [used] = facts(book)
    assert (used.change, used.standing, used.said) == ("corrected", "heard", "no, that was seven")


def test_it_is_a_step_of_its_own_that_can_be_undone_and_done_again(
    book: Book, folder: Path
) -> None:
    recording(folder, MORNING, "used three sheets of soffit")
    recording(folder, NOON, "make it nine")
    take_in(book, JOB.name, [folder])
    [step] = steps.steps(book, JOB.name)
    assert (step.who, step.what) == ("you, aloud", "corrected: make it nine")
    [used] = facts(book)
    decisions.undo(book, used.id)
    assert [one.standing for one in book.entries(JOB.name)] == ["heard", "dropped"]
    assert book.entry(used.id).entry.quantity == 3
    decisions.redo(book, used.id)
    assert book.entry(used.id).entry.quantity == 9


def test_of_several_the_one_is_put_right_that_the_words_fit(book: Book, folder: Path) -> None:
    recording(
        folder, MORNING, "used four sticks of fascia", "used six sheets of soffit",
    )  # fmt: skip
    recording(folder, NOON, "the fascia was five not four")
    take_in(book, JOB.name, [folder])
    assert standing(book) == [("fascia", 5, None), ("soffit panel", 6, None)]


def test_scratch_that_takes_back_the_last_of_an_earlier_recording(book: Book, folder: Path) -> None:
    recording(folder, MORNING, "used four sticks of fascia", "used six sheets of soffit")
    recording(folder, NOON, "scratch that", "scratch that")
    take_in(book, JOB.name, [folder])
    assert standing(book) == []


def test_the_same_is_used_at_another_place(book: Book, folder: Path) -> None:
    recording(folder, MORNING, "used four sticks of fascia on the north eave")
    recording(folder, NOON, "same on the south eave")
    take_in(book, JOB.name, [folder])
    assert standing(book) == [("fascia", 4, "north eave"), ("fascia", 4, "south eave")]


def test_yesterday_is_another_conversation(book: Book, folder: Path) -> None:
    recording(folder, "2026-10-04 17-00-00.wav", "used three sheets of soffit")
    recording(folder, MORNING, "make it nine")
    take_in(book, JOB.name, [folder])
    assert standing(book) == [("soffit panel", 3, None)]
    assert book.entries(JOB.name)[-1].open


def test_another_job_is_another_conversation(book: Book, folder: Path) -> None:
    book.add_job(Job("Mill house", "America/New_York"))
    take_in(book, "Mill house", [recording(folder, MORNING, "used three sheets of soffit")])
    take_in(book, JOB.name, [recording(folder, NOON, "scratch that")])
    assert [one.standing for one in book.entries("Mill house")] == ["heard"]
    assert book.entries(JOB.name)[0].open


def test_taken_in_one_after_the_other_or_together_comes_to_the_same(
    book: Book, folder: Path, tmp_path: Path
) -> None:
    lines = ["used three sheets of soffit on the north eave"], ["make it nine", "and two sticks"]
    for name, said in zip((MORNING, NOON), lines, strict=True):
        take_in(book, JOB.name, [recording(folder, name, *said)])
    with Book.create(tmp_path / "another") as another:
        another.add_job(JOB)
        take_in(another, JOB.name, [folder])
        assert [one.entry for one in another.entries(JOB.name)] == [
            one.entry for one in book.entries(JOB.name)
        ]


def test_taken_in_again_a_correction_counts_once(book: Book, folder: Path) -> None:
    recording(folder, MORNING, "used four sticks of fascia", "used six sheets of soffit")
    recording(folder, NOON, "scratch that")
    take_in(book, JOB.name, [folder])
    assert take_in(book, JOB.name, [folder]).already_there == 2
    assert standing(book) == [("fascia", 4, None)]


def test_killed_at_any_step_a_correction_is_done_once(tmp_path: Path, folder: Path) -> None:
    recording(folder, MORNING, "used four sticks of fascia", "used six sheets of soffit")
    recording(folder, NOON, "scratch that")
    book = tmp_path / "undisturbed"
    left = left_behind(book, tmp_path / "left", lambda: take_in_here(book, folder))
    undisturbed = killing.state(book)
    for book in left[len(left) // 2 :]:  # While the second one comes in.
        assert in_a_fork(lambda book=book: take_in_here(book, folder)) == 0
        assert killing.state(book) == undisturbed, book.name


# --- what comes in late -----------------------------------------------------------------------


def test_a_late_recording_that_a_correction_may_have_meant_makes_both_doubtful(
    book: Book, folder: Path
) -> None:
    take_in(book, JOB.name, [recording(folder, MORNING, "used three sheets of soffit")])
    take_in(book, JOB.name, [recording(folder, EVENING, "make it nine")])
    take_in(book, JOB.name, [recording(folder, NOON, "used four sticks of fascia")])
    soffit, fascia, correction = book.entries(JOB.name)
    assert (soffit.entry.quantity, fascia.entry.quantity) == (9, 4)
    why = "what was said at 12:00 PM came in later: was installed: 4 sticks of fascia meant?"
    assert why in soffit.doubts and why in correction.doubts
    assert soffit.open and correction.open and not fascia.doubts


def test_a_late_recording_that_changes_no_meaning_says_nothing(book: Book, folder: Path) -> None:
    take_in(book, JOB.name, [recording(folder, MORNING, "used three sheets of soffit")])
    take_in(book, JOB.name, [recording(folder, EVENING, "the soffit was nine not three")])
    take_in(book, JOB.name, [recording(folder, NOON, "used four sticks of fascia")])
    assert [one.open for one in book.entries(JOB.name)] == [False, False, False]
    assert standing(book) == [("soffit panel", 9, None), ("fascia", 4, None)]


def test_a_correction_that_found_nothing_is_told_what_came_in_since(
    book: Book, folder: Path
) -> None:
    take_in(book, JOB.name, [recording(folder, NOON, "scratch that")])
    take_in(book, JOB.name, [recording(folder, MORNING, "used three sheets of soffit")])
    soffit, correction = book.entries(JOB.name)
    assert soffit.standing == "heard"
    assert any("was installed: 3 soffit panels meant?" in why for why in correction.doubts)


def test_a_place_that_would_have_been_another_is_asked_about(book: Book, folder: Path) -> None:
    take_in(book, JOB.name, [recording(folder, MORNING, "north eave eleven inches")])
    take_in(book, JOB.name, [recording(folder, EVENING, "twelve inches", "east wall nine inches")])
    take_in(book, JOB.name, [recording(folder, NOON, "south eave fourteen inches")])
    by_inches = {one.entry.inches: one for one in book.entries(JOB.name)}
    assert by_inches[Fraction(12)].doubts == (
        "what was said at 12:00 PM came in later: is it north eave, or south eave?",
    )
    assert not by_inches[Fraction(9)].doubts


def test_what_a_person_has_looked_at_is_left_alone(book: Book, folder: Path) -> None:
    take_in(book, JOB.name, [recording(folder, MORNING, "north eave eleven inches")])
    take_in(book, JOB.name, [recording(folder, EVENING, "twelve inches")])
    [_, twelve] = book.entries(JOB.name)
    decisions.accept(book, twelve.id)
    take_in(book, JOB.name, [recording(folder, NOON, "south eave fourteen inches")])
    assert book.entry(twelve.id).standing == "accepted"


# --- a recording that goes again --------------------------------------------------------------


def corrected_at_noon(book: Book, folder: Path) -> tuple[int, str]:
    recording(folder, MORNING, "used three sheets of soffit")
    recording(folder, NOON, "make it nine")
    take_in(book, JOB.name, [folder])
    [used] = facts(book)
    return used.id, book.recordings(JOB.name)[1].sha256


def test_withdrawn_a_recording_gives_back_what_it_put_right(book: Book, folder: Path) -> None:
    used, noon = corrected_at_noon(book, folder)
    decisions.withdraw(book, noon)
    assert book.entry(used).entry.quantity == 3
    decisions.bring_back(book, noon)
    assert book.entry(used).entry.quantity == 9


def test_what_was_decided_since_stays_when_the_recording_goes(book: Book, folder: Path) -> None:
    used, noon = corrected_at_noon(book, folder)
    decisions.edit(book, used, "quantity", "11")
    decisions.withdraw(book, noon)
    assert book.entry(used).entry.quantity == 11


# --- what is written --------------------------------------------------------------------------

AT = datetime(2026, 10, 5, 20, tzinfo=UTC)
USED = Entry("used", item="fascia", quantity=Fraction(4), unit="stick")
DROP = Reading((Entry("correction", action="drop"),))


def test_what_is_written_puts_right_what_was_said_and_goes_back_in_one_step(
    book: Book, folder: Path
) -> None:
    take_in(book, JOB.name, [recording(folder, MORNING, "used three sheets of soffit")])
    before = tuple(facts(book))
    said = [(Reading((USED,)), "four sticks"), (DROP, "scratch that"), (DROP, "scratch that")]
    first, second, third = decisions.write_down(book, JOB.name, said, AT, before)
    assert standing(book) == []
    assert (len(first), len(second), third[0]) == (1, 2, before[0].id)
    steps.undo_last(book, JOB.name)
    assert standing(book) == [("soffit panel", 3, None)]


def test_a_correction_leaves_every_other_doubt_of_what_it_changes(book: Book) -> None:
    doubts = (Doubt(0, "4 sticks, or 4 boxes?"), Doubt(0, "3 or 4 sticks?"))
    decisions.write_down(book, JOB.name, [(Reading((USED,), doubts), "four or so")], AT)
    six = Entry("correction", action="replace", replacement=Entry("used", quantity=Fraction(6)))
    said = [(Reading((six,)), "make it six")]
    decisions.write_down(book, JOB.name, said, AT, tuple(facts(book)))
    [used] = facts(book)
    assert (used.entry.quantity, used.doubts, used.open) == (6, ("4 sticks, or 4 boxes?",), True)


def test_a_correction_is_itself_nothing_that_can_be_taken_back(book: Book, folder: Path) -> None:
    recording(folder, MORNING, "used four sticks of fascia", "used six sheets of soffit")
    recording(folder, NOON, "make it nine")
    recording(folder, EVENING, "scratch that")
    take_in(book, JOB.name, [folder])
    assert standing(book) == [("fascia", 4, None)]
