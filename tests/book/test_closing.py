"""A closed job stays as it was closed, and what changes afterwards reopens it, exactly."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from joblog.book import Book, BookError, closed, decisions, keep, paper
from joblog.book.closing import counting_of, in_the_way
from joblog.book.media import fingerprint
from joblog.model import (
    BookEntry,
    Closing,
    Doubt,
    Entry,
    Gap,
    HeardUtterance,
    Hearing,
    History,
    Item,
    Job,
    Moment,
    PastUse,
    PastWork,
    Plan,
    PlannedItem,
    PlannedTask,
    Reading,
    Reconciliation,
    Recording,
    Task,
    Utterance,
)
from joblog.reconcile import reconcile, sensed

JOB = Job("Gull Point cottage", "America/New_York")
DAY = date(2026, 10, 7)
AT = datetime(2026, 10, 5, 14, 0, tzinfo=UTC)
PANEL = Item("soffit panel", "sheet", stock_length=Fraction(144))
PLAN = Plan(
    (PlannedItem(PANEL, Fraction(15), Decimal("21.40"), net=Fraction(13), offcut=Fraction(1)),),
    (PlannedTask(Task("hang soffit", unit="ft"), Fraction(18), Decimal(48), Fraction(140)),),
)


def stock(kind: str, quantity: int) -> Entry:
    return Entry(kind, item="soffit panel", quantity=Fraction(quantity), unit="sheet")  # type: ignore[arg-type]


CAME, USED, LEFT = stock("delivered", 20), stock("used", 14), stock("on_hand", 4)
HOURS = Entry(
    "labor", hours=Fraction(9), workers=2, task="hang soffit", quantity=Fraction(130), unit="ft"
)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        book.set_plan(JOB.name, PLAN)
        yield book


def typed(book: Book, *entries: Entry, doubts: tuple[Doubt, ...] = ()) -> tuple[int, ...]:
    return decisions.add_typed(book, JOB.name, Reading(entries, doubts), "as typed", AT)


def heard(book: Book, folder: Path, entry: Entry) -> int:
    file = folder / "said.wav"
    file.write_bytes(b"sound")
    recording = Recording(fingerprint(file), file.name, Moment(AT, "container"), 3.0)
    said = Utterance(1.0, 2.0, (Hearing("trade", "words"),))
    keep.keep_recording(book, JOB.name, file, recording, [HeardUtterance(said, Reading((entry,)))])
    return max(kept.id for kept in book.entries(JOB.name))


def figures(book: Book, job: Job = JOB) -> Reconciliation:
    return reconcile(job, book.plan(job.name), book.entries(job.name), book.catalog())


def closed_now(book: Book, day: date = DAY) -> Closing:
    return closed.close_job(book, JOB.name, day, figures(book))


def changed(book: Book) -> tuple[int, ...]:
    closing = closed.closing(book, JOB.name)
    assert closing is not None
    return closing.changed


# --- closing ----------------------------------------------------------------------------------


def test_a_job_that_was_never_closed_has_no_closing(book: Book) -> None:
    assert (closed.closing(book, JOB.name), closed.closings(book)) == (None, ())


def test_figures_are_frozen_to_the_last_fraction(book: Book) -> None:
    typed(book, CAME, USED, LEFT, HOURS)
    done = closed_now(book)
    assert done.figures == figures(book)
    assert done.figures.stock[0].unaccounted == 2
    with Book.open(book.folder) as again:
        assert closed.closing(again, JOB.name) == done
    assert (done.day, done.reopened, done.closed_at.tzinfo) == (DAY, False, UTC)


def test_closing_again_adds_a_closing_and_keeps_the_first(book: Book) -> None:
    typed(book, CAME, USED)
    first = closed_now(book)
    [count] = typed(book, LEFT)
    second = closed_now(book, DAY + timedelta(days=1))
    one, two = closed.closings_of(book, JOB.name)
    assert (one.figures, one.changed, two) == (first.figures, (count,), second)
    assert closed.closings(book) == (second,)


def test_a_closing_can_be_neither_overwritten_nor_deleted(book: Book) -> None:
    typed(book, CAME)
    closed_now(book)
    with pytest.raises(sqlite3.IntegrityError, match="never overwritten"):
        book._db.execute("UPDATE closing SET day = '2020-01-01'")
    with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
        book._db.execute("DELETE FROM closing")


def test_each_job_has_its_own_closing(book: Book) -> None:
    other = Job("boathouse", "America/New_York")
    book.add_job(other)
    typed(book, CAME)
    closed_now(book)
    done = closed.close_job(book, other.name, DAY, figures(book, other))
    typed(book, USED)
    assert closed.closing(book, other.name) == done
    assert [one.reopened for one in closed.closings(book)] == [True, False]


def test_figures_of_another_job_are_refused(book: Book) -> None:
    with pytest.raises(BookError, match="figures of 'boathouse', and not of 'Gull Point cottage'"):
        closed.close_job(book, JOB.name, DAY, Reconciliation("boathouse"))


def test_a_job_that_changes_while_it_is_closed_is_not_closed(book: Book) -> None:
    typed(book, CAME)
    seen, done = book.entries(JOB.name), figures(book)
    typed(book, USED)
    with pytest.raises(BookError, match="changed while it was being closed"):
        closed.close_job(book, JOB.name, DAY, done, seen)
    assert closed.closing(book, JOB.name) is None


# --- what reopens it --------------------------------------------------------------------------


def test_a_later_entry_reopens_the_job_by_its_id(book: Book) -> None:
    typed(book, CAME, USED)
    closed_now(book)
    assert changed(book) == ()
    [count] = typed(book, LEFT)
    assert changed(book) == (count,)


def test_a_later_correction_reopens_the_job_and_its_undo_closes_it_again(book: Book) -> None:
    _, used = typed(book, CAME, USED)
    closed_now(book)
    decisions.correct(book, used, Reading((stock("used", 13), LEFT)), "thirteen, and four are left")
    assert changed(book) == (used, used + 1)
    decisions.undo(book, used)
    assert changed(book) == ()


def test_dropping_a_counted_entry_reopens_the_job(book: Book) -> None:
    came, _ = typed(book, CAME, USED)
    closed_now(book)
    decisions.drop(book, came)
    assert changed(book)[0] == came


def test_accepting_what_was_not_in_doubt_changes_nothing(book: Book) -> None:
    came, used = typed(book, CAME, USED)
    closed_now(book)
    decisions.accept(book, came)
    decisions.accept(book, used)
    assert closed.closing(book, JOB.name) == closed.closings_of(book, JOB.name)[0]
    assert changed(book) == ()


def test_accepting_what_waited_when_the_job_was_closed_reopens_it(book: Book) -> None:
    [came] = typed(book, CAME, doubts=(Doubt(0, "how many?"),))
    closed_now(book)
    decisions.accept(book, came)
    assert changed(book) == (came,)


def test_a_decision_against_what_waited_reopens_it_too(book: Book) -> None:
    [came] = typed(book, CAME, doubts=(Doubt(0, "how many?"),))
    closed_now(book)
    decisions.drop(book, came)
    assert changed(book) == (came,)


def test_an_entry_that_comes_and_goes_changes_nothing(book: Book) -> None:
    typed(book, CAME)
    closed_now(book)
    [used] = typed(book, USED)
    decisions.drop(book, used)
    assert changed(book) == ()


def test_taking_back_a_decision_after_the_closing_reopens_it(book: Book, tmp_path: Path) -> None:
    # More is gone than came: what was heard of it is doubted until a person lets it stand.
    typed(book, stock("delivered", 10))
    used = heard(book, tmp_path, stock("used", 12))
    decisions.accept(book, used)
    closed_now(book)
    decisions.undo(book, used)
    assert book.entry(used).doubts == ()
    assert changed(book) == (used,)


def test_a_doubt_that_a_later_entry_casts_is_named_with_it(book: Book, tmp_path: Path) -> None:
    came, _ = typed(book, stock("delivered", 20), HOURS)
    used = heard(book, tmp_path, stock("used", 12))
    closed_now(book)
    decisions.correct(book, came, Reading((stock("delivered", 10),)), "ten")
    assert changed(book) == (came, used)


def test_another_plan_reopens_the_job_and_the_old_one_closes_it_again(book: Book) -> None:
    typed(book, CAME)
    closed_now(book)
    book.set_plan(JOB.name, Plan(PLAN.items))
    done = closed.closing(book, JOB.name)
    assert done is not None and (done.plan_changed, done.reopened, done.changed) == (True, True, ())
    book.set_plan(JOB.name, PLAN)
    assert closed.closing(book, JOB.name) == closed.closings_of(book, JOB.name)[0]
    assert not closed.closings(book)[0].reopened


def test_the_same_plan_in_other_rows_is_the_same_plan(book: Book) -> None:
    typed(book, CAME)
    closed_now(book)
    book._db.execute("UPDATE planned_item SET also = '[ ]'")
    done = closed.closing(book, JOB.name)
    assert done is not None and not done.reopened


# --- what is in the way -----------------------------------------------------------------------


def test_a_job_without_a_plan_is_told_how_to_get_one() -> None:
    [found] = in_the_way(Plan(), Reconciliation(JOB.name), ())
    assert found.why == "there is no plan for this job; put one in with joblog plan FILE"


def test_entries_that_wait_are_named(book: Book) -> None:
    doubts = (Doubt(0, "how many?"), Doubt(2, "which?"))
    first, _, third = typed(book, CAME, USED, LEFT, doubts=doubts)
    [found] = in_the_way(PLAN, figures(book), book.entries(JOB.name))
    assert found.why == (
        f"entries {first}, {third} wait for a decision; settle them with joblog review"
    )
    assert found.entries == (first, third)


def test_entries_that_contradict_each_other_are_named_and_gaps_are_not() -> None:
    gaps = (
        Gap(
            "fascia: 3 left, but 2 ever came", "count", "fascia", entries=(4, 9), contradiction=True
        ),
        Gap("caulk: nobody counted what is left", "count", "caulk", entries=(5,)),
    )
    [found] = in_the_way(PLAN, Reconciliation(JOB.name, gaps=gaps), ())
    assert found.why == "fascia: 3 left, but 2 ever came: entries 4, 9 cannot all be right"
    assert found.entries == (4, 9)


# --- what it teaches --------------------------------------------------------------------------

# Planned are 13 of work and 1 that stock lengths force; of 16 that are gone 14 were told installed.
LEARNED = PastUse(
    JOB.name, DAY, "soffit panel", Fraction(13), Fraction(16), Fraction(1), allowed_by="as planned"
)
WORKED = PastWork(JOB.name, DAY, "hang soffit", Fraction(130), Fraction(18), crew=2)


def test_a_closed_job_teaches_its_waste_and_its_hours(book: Book) -> None:
    typed(book, CAME, USED, LEFT, HOURS)
    assert closed.history(book)[0].uses == ()
    closed_now(book)
    history, notes = closed.history(book)
    assert (history.uses, history.work, notes) == ((replace(LEARNED, crew=2),), (WORKED,), ())


def test_a_reopened_job_teaches_nothing_and_is_named(book: Book) -> None:
    typed(book, CAME, USED, LEFT)
    closed_now(book)
    [used] = typed(book, stock("used", 1))
    book.set_plan(JOB.name, Plan(PLAN.items))
    history, notes = closed.history(book)
    assert history.uses == ()
    assert notes == (
        f"Gull Point cottage: reopened by entry {used} and a changed plan; close it again",
    )


def test_closed_again_it_teaches_as_it_now_stands(book: Book) -> None:
    typed(book, CAME, USED, LEFT)
    closed_now(book)
    typed(book, stock("spoiled", 1), stock("on_hand", 1))
    closed_now(book)
    assert [use.consumed for use in closed.history(book)[0].uses] == [19]


def test_what_an_older_joblog_closed_is_read_as_it_taught_and_says_what_it_is(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    typed(book, CAME, USED, LEFT)
    # Such a line had no word for what its net rests on, and ended before it.
    older = '[[["soffit panel","14","16","0",null,null,null,null]],[]]'
    monkeypatch.setattr(closed, "taught_text", lambda history: older)
    closed_now(book)
    history, [note] = closed.history(book)
    before = replace(LEARNED, net=Fraction(14), geometric=Fraction(0), allowed_by="")
    assert history.uses == (before,)
    assert note == (
        "closed by an older joblog, so their waste is held against what was told installed, and "
        "not against the plan: Gull Point cottage; close them again to change that"
    )


def test_what_contradicts_itself_teaches_nothing(book: Book) -> None:
    for id in typed(book, CAME, USED, stock("on_hand", 9)):
        decisions.accept(book, id)
    done = closed_now(book)
    assert [gap.contradiction for gap in done.figures.gaps][:1] == [True]
    assert closed.history(book)[0].uses == ()


def test_a_job_that_is_on_paper_too_counts_once(book: Book) -> None:
    typed(book, CAME, USED, LEFT)
    closed_now(book)
    on_paper = PastUse("gull point  cottage", DAY, "Soffit Panel", Fraction(14), Fraction(19))
    paper.keep_past(book, History((on_paper,)))
    history, [note] = closed.history(book)
    assert history.uses == (LEARNED,)
    assert "in the book and on paper; counted as in the book" in note


# --- any history ------------------------------------------------------------------------------

AMOUNTS = st.integers(0, 24).map(Fraction)
STOCK = st.builds(
    lambda kind, item, quantity: Entry(kind, item=item, quantity=quantity, unit="sheet"),
    st.sampled_from(["delivered", "used", "spoiled", "returned", "on_hand"]),
    st.sampled_from(["soffit panel", "fascia"]),
    AMOUNTS,
)
LABOR = st.builds(
    lambda hours, workers: Entry("labor", hours=hours, workers=workers, task="hang soffit"),
    st.integers(1, 12).map(Fraction),
    st.sampled_from([None, 1, 2]),
)
CLOCKS = st.builds(
    lambda kind, hour: Entry(kind, time=time(hour)),
    st.sampled_from(["start", "stop"]),
    st.integers(5, 19),
)
READINGS = st.lists(STOCK | LABOR | CLOCKS, min_size=1, max_size=2).flatmap(
    lambda chosen: st.builds(
        Reading,
        st.just(tuple(chosen)),
        st.lists(st.just(Doubt(0, "which?")), max_size=1).map(tuple),
    )
)
PLANS = (PLAN, Plan(PLAN.items), Plan((PlannedItem(PANEL, Fraction(16)),)), Plan())


class AnyJob(RuleBasedStateMachine):
    """A job that is closed now and then, beside plain notes of what it was when it was."""

    @initialize()
    def open_book(self) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.book = Book.create(Path(self.folder.name))
        self.book.add_job(JOB)
        self.notes: list[tuple[Closing, dict[int, tuple[Entry, str]], Plan]] = []

    def standing(self) -> tuple[BookEntry, ...]:
        plan, entries = self.book.plan(JOB.name), self.book.entries(JOB.name)
        return sensed(JOB, plan, entries, self.book.catalog())

    def state(self) -> dict[int, tuple[Entry, str]]:
        return {kept.id: (kept.entry, counting_of(kept)) for kept in self.standing()}

    @rule(reading=READINGS, hours=st.integers(0, 40))
    def add(self, reading: Reading, hours: int) -> None:
        decisions.add_typed(self.book, JOB.name, reading, "said", AT + timedelta(hours=hours))

    @rule(which=st.sampled_from(["accept", "drop", "undo"]), pick=st.randoms())
    def decide(self, which: str, pick) -> None:  # type: ignore[no-untyped-def]
        entries = self.book.entries(JOB.name)
        if not entries:
            return
        try:
            getattr(decisions, which)(self.book, pick.choice(entries).id)
        except BookError as error:
            assert "nothing to undo" in str(error)

    @rule(reading=READINGS, pick=st.randoms())
    def correct(self, reading: Reading, pick) -> None:  # type: ignore[no-untyped-def]
        entries = self.book.entries(JOB.name)
        if entries:
            decisions.correct(self.book, pick.choice(entries).id, reading, "corrected")

    @rule(plan=st.sampled_from(PLANS))
    def plan(self, plan: Plan) -> None:
        self.book.set_plan(JOB.name, plan)

    @rule(day=st.integers(0, 3))
    def close(self, day: int) -> None:
        seen = self.book.entries(JOB.name)
        done = closed.close_job(
            self.book, JOB.name, DAY + timedelta(days=day), figures(self.book), seen
        )
        assert not done.reopened
        self.notes.append((done, self.state(), self.book.plan(JOB.name)))

    @invariant()
    def what_changed_is_reported_exactly_and_nothing_frozen_moves(self) -> None:
        now, plan = self.state(), self.book.plan(JOB.name)
        found = closed.closings_of(self.book, JOB.name)
        assert len(found) == len(self.notes)
        for closing, (done, was, planned) in zip(found, self.notes, strict=True):
            assert closing.changed == tuple(
                id
                for id, (entry, counting) in now.items()
                if was.get(id, (None, "dropped"))[1] != counting
                or (counting != "dropped" and was[id][0] != entry)
            )
            assert closing.plan_changed == (plan != planned)
            assert (closing.figures, closing.day) == (done.figures, done.day)
            if not closing.reopened:
                assert figures(self.book) == done.figures

    def teardown(self) -> None:
        self.book.close()
        self.folder.cleanup()


TestAnyJob = AnyJob.TestCase
TestAnyJob.settings = settings(max_examples=40, stateful_step_count=20, deadline=None)
