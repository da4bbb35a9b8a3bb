"""Whatever was decided can be undone to exactly what was, and redone to exactly what it became."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from random import Random

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from joblog.book import Book, BookError, closed, decisions, parting, searching, signing, steps
from joblog.catalog.lines import without
from joblog.catalog.read_csv import with_fields
from joblog.model import BookEntry, Entry, Plan, Reading
from tests.book.two_jobs import (
    AT,
    JOBS,
    LEFT,
    NINE,
    OTHER,
    PLAN,
    USED,
    a_book,
    balance,
    said,
    shown,
)

READINGS = st.sampled_from(
    [said(USED), said(LEFT, doubt="which?"), said(NINE, USED), said(Entry("note", note="rain"))]
)
EDITS = st.sampled_from(
    [
        ("quantity", "7"),
        ("place", "dormer"),
        ("note", "by hand"),
        ("kind", "spoiled"),
        ("place", ""),
    ]
)


class AnyDecisions(RuleBasedStateMachine):
    """A book beside what it showed before every step that is done, and after every undone one."""

    @initialize()
    def open_book(self) -> None:
        self.folder = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        self.book = a_book(Path(self.folder.name))
        self.before: list[tuple[str, dict[object, object]]] = []
        self.after: list[tuple[str, dict[object, object]]] = []
        self.versions: dict[int, tuple[BookEntry, ...]] = {}

    def done(self) -> int:
        return sum(
            row["step"]
            for row in self.book._rows("SELECT max(id) AS step FROM step WHERE undone IS NULL")
            if row["step"]
        )

    def decide(self, decision: Callable[[], object]) -> None:
        was, last = shown(self.book), self.done()
        try:
            decision()
        except BookError as error:
            assert "by now" not in str(error)
            assert shown(self.book) == was
        if (made := self.done()) != last:
            found = self.book._rows(
                "SELECT name FROM job JOIN step_job ON job = id WHERE step = ? LIMIT 1", made
            )
            # What belongs to all jobs is taken back in any.
            self.before.append((found[0]["name"] if found else OTHER.name, was))
            self.after.clear()

    def entries(self) -> list[int]:
        return [kept.id for job in JOBS for kept in self.book.entries(job.name)]

    def photos(self) -> list[str]:
        return [photo.sha256 for job in JOBS for photo in self.book.photos(job.name)]

    def recordings(self) -> list[str]:
        return [one.sha256 for job in JOBS for one in self.book.recordings(job.name)]

    # --- what is decided ----------------------------------------------------------------------

    @rule(reading=READINGS, job=st.sampled_from(JOBS))
    def write(self, reading: Reading, job) -> None:
        self.decide(lambda: decisions.add_typed(self.book, job.name, reading, "written", AT))

    @rule(
        which=st.sampled_from([decisions.accept, decisions.drop, decisions.restore]),
        pick=st.randoms(use_true_random=False),
    )
    def settle(self, which: Callable[[Book, int], object], pick: Random) -> None:
        id = pick.choice(self.entries())
        self.decide(lambda: which(self.book, id))

    @rule(reading=READINGS, pick=st.randoms(use_true_random=False))
    def correct(self, reading: Reading, pick: Random) -> None:
        id = pick.choice(self.entries())
        self.decide(lambda: decisions.correct(self.book, id, reading, "corrected"))

    @rule(edit=EDITS, pick=st.randoms(use_true_random=False))
    def edit(self, edit: tuple[str, str], pick: Random) -> None:
        id = pick.choice(self.entries())
        self.decide(lambda: decisions.edit(self.book, id, *edit))

    @rule(first=st.sampled_from(["1", "3", "5/2"]), pick=st.randoms(use_true_random=False))
    def split(self, first: str, pick: Random) -> None:
        id = pick.choice(self.entries())
        self.decide(
            lambda: parting.split(self.book, id, parting.shared(self.book.entry(id).entry, first))
        )

    @rule(pick=st.randoms(use_true_random=False))
    def merge(self, pick: Random) -> None:
        id, other = pick.choice(self.entries()), pick.choice(self.entries())
        self.decide(lambda: parting.merge(self.book, id, other))

    @rule(
        hours=st.none() | st.integers(-30, 30),
        job=st.none() | st.sampled_from(JOBS),
        pick=st.randoms(use_true_random=False),
    )
    def move(self, hours: int | None, job, pick: Random) -> None:
        id = pick.choice(self.entries())
        at = None if hours is None else AT + timedelta(hours=hours)
        self.decide(lambda: decisions.move(self.book, id, at=at, job=job and job.name))

    @rule(
        which=st.sampled_from([decisions.tie, decisions.untie]),
        pick=st.randoms(use_true_random=False),
    )
    def tie(self, which: Callable[[Book, str, int], object], pick: Random) -> None:
        photo, id = pick.choice(self.photos() + self.away()), pick.choice(self.entries())
        self.decide(lambda: which(self.book, photo, id))

    @rule(seconds=st.none() | st.sampled_from([0.0, 60.0, -3600.0]), job=st.sampled_from(JOBS))
    def set_clock(self, seconds: float | None, job) -> None:
        days, camera = [AT.date()], "unnamed camera"
        if seconds is None:
            self.decide(lambda: decisions.unset_clock(self.book, job.name, camera, days))
        else:
            self.decide(lambda: decisions.set_clock(self.book, job.name, camera, days, seconds))

    @rule(job=st.sampled_from(JOBS), pick=st.randoms(use_true_random=False))
    def move_original(self, job, pick: Random) -> None:
        original = pick.choice(self.photos() + self.away() + self.recordings())
        self.decide(lambda: decisions.move_original(self.book, original, job.name))

    @rule(pick=st.randoms(use_true_random=False))
    def withdraw_or_bring_back(self, pick: Random) -> None:
        recording = pick.choice(self.recordings())
        kept = self.book.recording(recording).standing == "kept"
        which = decisions.withdraw if kept else decisions.bring_back
        self.decide(lambda: which(self.book, recording))

    @rule(pick=st.randoms(use_true_random=False))
    def withdraw_or_bring_back_a_photo(self, pick: Random) -> None:
        photo = pick.choice(self.photos() + self.away())
        kept = self.book.photo(photo).standing == "kept"
        which = decisions.withdraw_photo if kept else decisions.bring_back_photo
        self.decide(lambda: which(self.book, photo))

    def away(self) -> list[str]:
        return [one.sha256 for job in JOBS for one in self.book.photos(job.name, withdrawn=True)]

    @rule(plan=st.sampled_from([PLAN, Plan(), Plan(places=("barn",))]), job=st.sampled_from(JOBS))
    def load_a_plan(self, plan: Plan, job) -> None:
        self.decide(lambda: decisions.load_plan(self.book, job.name, plan))

    @rule(line=st.sampled_from(["fascia 1x6", "tar paper"]), cost=st.sampled_from(["1.5", "2", ""]))
    def change_a_line_of_the_catalog(self, line: str, cost: str) -> None:
        fields = {"unit": "roll", "cost": cost}
        self.decide(
            lambda: decisions.change_catalog(self.book, lambda now: with_fields(now, line, fields))
        )

    @rule(pick=st.randoms(use_true_random=False))
    def drop_a_line_of_the_catalog(self, pick: Random) -> None:
        line = pick.choice(self.book.catalog().items).name
        self.decide(lambda: decisions.change_catalog(self.book, lambda now: without(now, line)))

    @rule(job=st.sampled_from(JOBS))
    def close(self, job) -> None:
        self.decide(
            lambda: closed.close_job(self.book, job.name, AT.date(), balance(self.book, job))
        )

    @rule(job=st.sampled_from(JOBS))
    def reopen(self, job) -> None:
        self.decide(lambda: closed.reopen(self.book, job.name))

    @rule(job=st.sampled_from(JOBS))
    def sign_off(self, job) -> None:
        self.decide(lambda: signing.sign_off(self.book, job.name, AT.date()))

    # --- and taken back -----------------------------------------------------------------------

    @rule()
    def undo(self) -> None:
        if self.before:
            job, was = self.before.pop()
            self.after.append((job, shown(self.book)))
            steps.undo_last(self.book, job)
            assert shown(self.book) == was

    @rule()
    def undo_everything_and_redo_it(self) -> None:
        jobs = [job for job, _ in self.before]
        became = shown(self.book)
        for job, was in reversed(self.before):
            steps.undo_last(self.book, job)
            assert shown(self.book) == was
        for job in jobs:
            steps.redo_last(self.book, job)
        assert shown(self.book) == became

    @rule()
    def redo(self) -> None:
        if self.after:
            job, became = self.after.pop()
            self.before.append((job, shown(self.book)))
            steps.redo_last(self.book, job)
            assert shown(self.book) == became

    @rule(pick=st.randoms(use_true_random=False))
    def undo_a_step_in_between_and_redo_it(self, pick: Random) -> None:
        id, was = pick.choice(self.entries()), shown(self.book)
        try:
            decisions.undo(self.book, id)
        except BookError as error:
            assert "nothing to undo" in str(error)
            assert shown(self.book) == was
        else:
            decisions.redo(self.book, id)
            assert shown(self.book) == was

    @rule()
    def close_the_program(self) -> None:
        folder = self.book.folder
        self.book.close()
        self.book = Book.open(folder)

    @invariant()
    def versions_are_only_added(self) -> None:
        for id in self.entries():
            versions = self.book.versions(id)
            earlier = self.versions.get(id, ())
            assert versions[: len(earlier)] == earlier
            self.versions[id] = versions

    @invariant()
    def what_is_remembered_is_what_is_there(self) -> None:
        for job in JOBS:
            there = self.book._entries(*self.book._of(job.name, None, "at", "entry."))
            assert self.book.entries(job.name) == there

    @invariant()
    def what_is_searched_in_is_in_step(self) -> None:
        assert searching.in_step(self.book._db)

    @invariant()
    def nothing_hangs_in_the_air(self) -> None:
        assert self.book._rows("PRAGMA foreign_key_check") == []
        for job in JOBS:
            here = {photo.sha256 for photo in self.book.photos(job.name)}
            standing = {
                kept.id for kept in self.book.entries(job.name) if kept.standing != "dropped"
            }
            for one in self.book.ties(job.name):
                assert one.photo in here
                assert one.entry in standing

    def teardown(self) -> None:
        self.book.close()
        self.folder.cleanup()


TestAnyDecisions = AnyDecisions.TestCase
TestAnyDecisions.settings = settings(max_examples=25, stateful_step_count=20, deadline=None)
