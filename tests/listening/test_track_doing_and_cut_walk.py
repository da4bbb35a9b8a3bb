"""Sound found again, work done beside the listening, and a cut list walked through."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.listening import doing as room
from joblog.listening.cut_walk import CutWalk, walk_of_entries, walk_of_plans
from joblog.listening.doing import AtOnce, Beside
from joblog.listening.track import Track
from joblog.model import BookEntry, Cut, CutPlan, Entry, Piece, Stick

# --- sound found again ------------------------------------------------------------------------


@given(
    lengths=st.lists(st.integers(0, 40), max_size=20),
    remembered=st.integers(1, 60),
    begin=st.integers(0, 500),
    count=st.integers(0, 60),
)
def test_what_is_remembered_is_found_by_its_number(
    lengths: list[int], remembered: int, begin: int, count: int
) -> None:
    track = Track[np.int16](remembered)
    came = np.arange(1, 1 + sum(lengths), dtype=np.int16)
    at = 0
    for length in [*lengths, 0]:
        track.add(came[at : at + length])
        at += length
    assert track.end == len(came)
    begin = max(begin, len(came) - remembered)
    np.testing.assert_array_equal(track.part(begin, begin + count), came[begin : begin + count])


def test_what_is_long_past_is_forgotten_and_keeps_no_memory() -> None:
    track = Track[np.int16](100)
    for _ in range(50):
        track.add(np.ones(30, np.int16))
    assert track.end == 1500
    assert 100 <= len(track.part(0, 1500)) < 130
    assert len(track.part(0, 100)) == 0


# --- done beside the listening ----------------------------------------------------------------


class Clock:
    """Passes by as much as what is done says that it takes."""

    def __init__(self) -> None:
        self.now = 50.0

    def perf_counter(self) -> float:
        return self.now

    def takes(self, seconds: float) -> float:
        self.now += seconds
        return seconds


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    clock = Clock()
    monkeypatch.setattr(room, "time", clock)
    return clock


def test_what_is_done_at_once_is_ready_when_so_much_of_the_sound_has_passed(clock: Clock) -> None:
    promise = AtOnce().start(3.0, lambda: clock.takes(0.5))
    assert [promise.ready(now) for now in (3.0, 3.49, 3.5, 4.0)] == [False, False, True, True]
    assert promise.result() == 0.5


def test_what_is_done_at_once_waits_for_what_was_asked_for_before(clock: Clock) -> None:
    doing = AtOnce()
    doing.start(3.0, lambda: clock.takes(2.0))
    second = doing.start(3.5, lambda: clock.takes(0.5))
    assert [second.ready(now) for now in (5.25, 5.5)] == [False, True]
    third = doing.start(9.0, lambda: clock.takes(0.5))
    assert [third.ready(now) for now in (9.25, 9.5)] == [False, True]


def test_what_goes_wrong_is_raised_where_the_result_is_asked_for() -> None:
    def fails() -> None:
        raise LookupError("no voice")

    for doing in (AtOnce(), Beside()):
        promise = doing.start(0.0, fails)
        with pytest.raises(LookupError, match="no voice"):
            promise.result()
        assert promise.ready(1e9)
        doing.close()


def test_what_is_done_beside_keeps_nobody_waiting_and_goes_in_order() -> None:
    done: list[int] = []
    go_on = threading.Event()
    with beside() as doing:
        first = doing.start(0.0, lambda: (go_on.wait(60), done.append(1)))
        second = doing.start(0.0, lambda: done.append(2) or "two")
        assert not first.ready(1e9)
        assert not second.ready(1e9)
        go_on.set()
        assert second.result() == "two"
        assert first.ready(0.0)
    assert done == [1, 2]


@contextmanager
def beside() -> Iterator[Beside]:
    doing = Beside()
    try:
        yield doing
    finally:
        doing.close()


# --- a cut list walked through ----------------------------------------------------------------

PIECES = st.builds(
    Piece, st.integers(1, 400).map(lambda n: Fraction(n, 8)), st.integers(1, 5), st.just("")
)
WALKS = st.builds(CutWalk, st.lists(PIECES, max_size=6).map(tuple), st.integers(0, 30))


def one_by_one(pieces: tuple[Piece, ...]) -> list[Fraction]:
    return [piece.length for piece in pieces for _ in range(piece.pieces)]


@given(walk=WALKS)
def test_what_is_left_and_what_is_done_are_all_of_it_in_its_order(walk: CutWalk) -> None:
    left, every = one_by_one(walk.left), one_by_one(walk.pieces)
    assert len(every) == walk.in_all
    assert left == every[walk.done :]


@given(walk=WALKS)
def test_one_more_is_one_more_until_all_is_cut(walk: CutWalk) -> None:
    walk = replace(walk, done=min(walk.done, walk.in_all))
    lengths = []
    while walk.left:
        lengths.append(walk.left[0].length)
        before, walk = walk.done, walk.one_more()
        assert walk.done == before + 1
    assert walk.one_more() == walk
    assert lengths == one_by_one(walk.pieces)[walk.in_all - len(lengths) :]


@given(walk=WALKS)
def test_what_is_said_of_it_is_always_something(walk: CutWalk) -> None:
    for said in (walk.say_next(), walk.say_left(), walk.say_list()):
        assert said == " ".join(said.split()) != ""
    assert (walk.say_next() == "all cut") == (bool(walk.pieces) and walk.done >= walk.in_all)


TWO_AND_ONE = CutWalk((Piece(Fraction(29, 2), 2, "fascia"), Piece(Fraction(6), 1, "")))


def test_what_is_next_is_said_with_how_many_more_and_where() -> None:
    assert TWO_AND_ONE.say_next() == "next, fourteen and a half, one more like it, fascia"
    assert TWO_AND_ONE.one_more().say_next() == "next, fourteen and a half, fascia"
    assert TWO_AND_ONE.one_more().one_more().say_next() == "next, six"
    assert replace(TWO_AND_ONE, done=3).say_next() == "all cut"


def test_how_many_are_left_is_said() -> None:
    assert TWO_AND_ONE.say_left() == "three left of three"
    assert replace(TWO_AND_ONE, done=3).say_left() == "none left"
    assert CutWalk().say_left() == "there is no cut list"


def test_only_so_many_lengths_are_read_out_at_once() -> None:
    walk = CutWalk(tuple(Piece(Fraction(length), 1, "") for length in (9, 9, 8, 7, 6, 5, 4)))
    said = walk.say_list()
    assert said == "two at nine; one at eight; one at seven; one at six; and two lengths more"


def test_a_printed_list_is_walked_stick_by_stick_and_equal_cuts_together() -> None:
    sticks = (a_stick((9, "A"), (9, "A"), (9, "B")), a_stick((9, "B"), (4, "")))
    walk = walk_of_plans([a_plan(*sticks, item="fascia")], done=1)
    assert [(one.length, one.pieces, one.label) for one in walk.pieces] == [
        (9, 2, "A"),
        (9, 2, "B"),
        (4, 1, ""),
    ]
    assert (walk.done, {one.item for one in walk.pieces}) == (1, {"fascia"})


def a_stick(*cuts: tuple[int, str]) -> Stick:
    made = tuple(Cut(Fraction(length), Fraction(0), label) for length, label in cuts)
    rest = 96 - sum(length for length, _ in cuts)
    return Stick(Fraction(96), made, Fraction(0), Fraction(rest))


def a_plan(*sticks: Stick, item: str) -> CutPlan:
    return CutPlan(sticks, Fraction(0), Fraction(12), Fraction(0), Fraction(0), item=item)


def test_pieces_that_were_called_out_are_walked_but_for_what_is_dropped_or_doubtful() -> None:
    six = Entry("measure", place="north eave", inches=Fraction(29, 2), pieces=6)
    entries = [
        a_kept(six),
        a_kept(replace(six, pieces=None)),
        a_kept(Entry("used", item="fascia", quantity=Fraction(2))),
        a_kept(six, standing="dropped"),
        a_kept(six, doubts=("6 or 60?",)),
        a_kept(replace(six, inches=Fraction(7), pieces=1, place=None)),
    ]
    walk = walk_of_entries(entries, done=2)
    assert [(one.length, one.pieces, one.label) for one in walk.pieces] == [
        (Fraction(29, 2), 6, "north eave"),
        (Fraction(7), 1, ""),
    ]
    assert walk.done == 2


def a_kept(entry: Entry, **how: object) -> BookEntry:
    at = datetime(2026, 10, 5, 14, tzinfo=UTC)
    rest = {"doubts": (), "standing": "heard", "change": "heard", "said": "", "utterance": None}
    settings = {"id": 1, "version": 1, "at": at, "entry": entry, "changed_at": at, "origin": None}
    return BookEntry(**(settings | rest | how))  # type: ignore[arg-type]
