"""Beam search over a decoder made of a table."""

from collections.abc import Sequence

import numpy as np
import pytest
from numpy.typing import NDArray

from joblog.speech.beam import Hypothesis, Lane, search
from joblog.speech.expectation import Expectation
from joblog.speech.spelling import Spelling, piece_tree
from joblog.speech.tokens import BEGIN, END

PIECES = [b"<unk>", b"<s>", b"</s>", b" six", b" sicks", b" sticks", b" Six", b"."]
SIX, SICKS, STICKS, CAPITAL, STOP = range(3, 8)
LETTERS = ["", "", "", "six", "sicks", "sticks", "six", ""]
FREE = Lane(3, letters=LETTERS)


class Table:
    """A decoder whose next token depends on the last one only."""

    def __init__(self, after: dict[int, dict[int, float]]) -> None:
        self.after = after
        self.widest = 0

    def first(self) -> NDArray[np.float32]:
        return self._row(BEGIN)

    def next(self, tokens: Sequence[int], rows: Sequence[int]) -> NDArray[np.float32]:
        self.widest = max(self.widest, len(rows))
        return np.concatenate([self._row(token) for token in tokens])

    def _row(self, token: int) -> NDArray[np.float32]:
        chances = self.after.get(token, {END: 1.0})
        row = [chances.get(other, 1e-9) for other in range(len(PIECES))]
        # Logits may be shifted by any amount; the softmax takes it out.
        return np.log(np.array([row], np.float32)) + 5


def along(words: Sequence[str], *said: str, width: int = 3) -> Lane:
    expectation = Expectation(said, 10) if said else None
    return Lane(width, Spelling(words, piece_tree(PIECES)), expectation)


def tokens(lines: Sequence[Hypothesis]) -> list[tuple[int, ...]]:
    return [line.tokens for line in lines]


def test_a_first_step_that_looks_worse_is_taken_when_the_whole_is_likelier() -> None:
    unsure = {STICKS: 0.3, SICKS: 0.3, END: 0.4}
    table = Table({BEGIN: {SIX: 0.55, SICKS: 0.45}, SIX: unsure, SICKS: {END: 1.0}})
    ((best, *_),) = search(table, [FREE], limit=5)
    assert best.tokens == (SICKS, END)
    assert best.total == pytest.approx(np.log(0.45), abs=1e-3)


def test_the_log_probabilities_are_those_of_the_tokens() -> None:
    table = Table({BEGIN: {SIX: 0.9, SICKS: 0.1}, SIX: {STICKS: 0.7, END: 0.3}})
    ((best, *_),) = search(table, [FREE], limit=5)
    assert best.tokens == (SIX, STICKS, END)
    assert best.logs == pytest.approx([np.log(0.9), np.log(0.7), 0.0], abs=1e-3)
    assert best.total == pytest.approx(sum(best.logs))


def test_lines_come_best_first() -> None:
    table = Table({BEGIN: {SIX: 0.5, SICKS: 0.3, STICKS: 0.2}})
    (lines,) = search(table, [FREE], limit=5)
    assert tokens(lines) == [(SIX, END), (SICKS, END), (STICKS, END)]


def test_a_constrained_lane_has_only_its_words_and_their_unconstrained_probability() -> None:
    table = Table({BEGIN: {SICKS: 0.9, SIX: 0.1}})
    free, bound = search(table, [FREE, along(["six"])], limit=5)
    assert free[0].tokens == (SICKS, END)
    assert bound[0].tokens == (SIX, END)
    assert bound[0].total == pytest.approx(np.log(0.1), abs=1e-3)


def test_what_is_expected_decides_between_words_that_sound_alike() -> None:
    table = Table({BEGIN: {SICKS: 0.55, SIX: 0.45}, SICKS: {STICKS: 1.0}, SIX: {STICKS: 1.0}})
    words = ["six", "sicks", "sticks"]
    (unaware,) = search(table, [along(words)], limit=5)
    (aware,) = search(table, [along(words, "six sticks")], limit=5)
    assert unaware[0].tokens == (SICKS, STICKS, END)
    assert aware[0].tokens == (SIX, STICKS, END)


def test_lines_that_differ_in_capitals_or_a_full_stop_are_one() -> None:
    table = Table({BEGIN: {SIX: 0.4, CAPITAL: 0.6}, SIX: {STOP: 0.5, END: 0.5}})
    (lines,) = search(table, [FREE], limit=5)
    assert tokens(lines) == [(CAPITAL, END)]


def test_a_line_that_goes_in_circles_is_given_up() -> None:
    table = Table({BEGIN: {SIX: 0.9, SICKS: 0.1}, SIX: {SIX: 1.0}})
    (lines,) = search(table, [FREE], limit=100)
    assert tokens(lines) == [(SICKS, END)]


def test_no_line_is_longer_than_the_limit() -> None:
    table = Table({BEGIN: {SIX: 1.0}, SIX: {SICKS: 1.0}, SICKS: {STICKS: 1.0}})
    assert search(table, [FREE], limit=3) == ((),)
    ((line,),) = search(table, [FREE], limit=4)
    assert line.tokens == (SIX, SICKS, STICKS, END)


def test_no_more_lines_are_kept_than_the_lane_is_wide() -> None:
    even = dict.fromkeys((SIX, SICKS, STICKS), 1 / 3)
    table = Table(dict.fromkeys((BEGIN, SIX, SICKS, STICKS), even))
    search(table, [Lane(2, letters=LETTERS)], limit=6)
    assert table.widest == 2
    search(table, [along(["six", "sicks", "sticks"], width=4)], limit=6)
    assert table.widest == 4


def test_a_line_that_two_lanes_hold_is_decoded_once() -> None:
    table = Table({BEGIN: {SIX: 1.0}, SIX: {STICKS: 1.0}})
    free, bound = search(table, [FREE, along(["six", "sticks"])], limit=5)
    assert free[0].tokens == bound[0].tokens == (SIX, STICKS, END)
    assert table.widest == 1
