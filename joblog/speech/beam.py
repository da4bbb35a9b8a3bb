"""Beam search: the likeliest rows of tokens, freely or along the spelling of a job's words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from joblog.speech.expectation import BEGUN, FINISH, Expectation
from joblog.speech.spelling import Node, Spelling, Way
from joblog.speech.tokens import END

HOPELESS = 8.0
"""Nats behind the best of its lane after which a line is given up."""
ENOUGH = 4
"""Finished lines after which only what may still be better than the last of them goes on."""
LENGTH = 0.7
"""The power of its length by which a line's log-probability is divided before it is ranked."""
WEIGHT = 0.35
"""How much what is expected on the job counts beside what was heard."""
BONUS = 0.4
"""Nats for each of the job's words, because every further word costs expectation."""
LONGEST_CYCLE = 8
"""Tokens; rows that say the same up to this long over and over are given up."""


class Steps(Protocol):
    """A decoder that has heard an utterance."""

    def first(self) -> NDArray[np.float32]:
        """Logits of the first token, one row."""
        ...

    def next(self, tokens: Sequence[int], rows: Sequence[int]) -> NDArray[np.float32]:
        """Logits after each of `tokens`, where each one goes on from a row of the last call."""
        ...


@dataclass(frozen=True, slots=True)
class Lane:
    """One search: how many lines are kept, and the job's words that they must follow, if any."""

    width: int
    spelling: Spelling | None = None
    expectation: Expectation | None = None
    letters: Sequence[str] = ()
    """What each token adds to what a free line says."""


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """A row of tokens, the end token last, with the natural log-probability of each.

    Log-probabilities are those of the whole softmax, whatever the spelling allows, so that lines
    of different lanes can be compared.
    """

    tokens: tuple[int, ...] = ()
    logs: tuple[float, ...] = ()
    total: float = 0.0
    expected: float = 0.0
    """What the words count for being expected on this job; 0 in a free lane."""
    said: tuple[str, ...] = ()
    """What it says so far: the job's words, or in a free lane all letters in one."""

    @property
    def score(self) -> float:
        """What was heard and what was expected, taken together."""
        return self.total + self.expected

    @property
    def rank(self) -> float:
        """Score normalised by length."""
        return self.score / math.pow(max(1, len(self.tokens)), LENGTH)


def search(steps: Steps, lanes: Sequence[Lane], limit: int) -> tuple[tuple[Hypothesis, ...], ...]:
    """For each lane its finished lines, best first; none where nothing could be finished.

    All lanes go through the decoder together. `limit` is the greatest number of tokens.
    """
    finished: list[dict[tuple[str, ...], Hypothesis]] = [{} for _ in lanes]
    live = [
        _Live(number, 0, Hypothesis(), lane.spelling.begin if lane.spelling else None)
        for number, lane in enumerate(lanes)
    ]
    logits = steps.first()
    for length in range(1, limit + 1):
        grown = _grown(logits, live, lanes)
        live = []
        for number, lane in enumerate(lanes):
            live += _going(grown[number], lane, finished[number], last=length == limit)
        if not live:
            break
        # Lanes often hold the same line, which is decoded once.
        goes_on = [(one.line.tokens[-1], one.row) for one in live]
        place = {step: row for row, step in enumerate(dict.fromkeys(goes_on))}
        logits = steps.next([token for token, _ in place], [row for _, row in place])
        live = [replace(one, row=place[step]) for one, step in zip(live, goes_on, strict=True)]
    return tuple(tuple(sorted(lines.values(), key=lambda line: -line.rank)) for lines in finished)


@dataclass(frozen=True, slots=True)
class _Live:
    lane: int
    row: int
    """The decoder's row from which it goes on."""
    line: Hypothesis
    node: Node | None


@dataclass(frozen=True, slots=True)
class _Step:
    """One token more than a live line, weighed before it is written out."""

    score: float
    before: _Live
    token: int
    log: float
    expected: float
    said: tuple[str, ...]
    node: Node | None


def _grown(
    logits: NDArray[np.float32], live: Sequence[_Live], lanes: Sequence[Lane]
) -> list[list[_Live]]:
    """By lane, the likeliest lines that are one token longer, best first."""
    logits = logits - logits.max(axis=1, keepdims=True)
    whole = np.log(np.exp(logits).sum(axis=1))
    steps: list[list[_Step]] = [[] for _ in lanes]
    for one in live:
        lane = lanes[one.lane]
        row, off = logits[one.row], float(whole[one.row])
        if one.node is None or lane.spelling is None:
            steps[one.lane] += _free_steps(one, lane, row, off)
        else:
            steps[one.lane] += _bound_steps(one, one.node, lane.spelling, lane, row, off)
    return [
        [_taken(step) for step in _different(sorted(found, key=lambda step: -step.score), lane)]
        for found, lane in zip(steps, lanes, strict=True)
    ]


def _free_steps(one: _Live, lane: Lane, row: NDArray[np.float32], off: float) -> Iterator[_Step]:
    for token in _largest(row, lane.width + 1):
        log = float(row[token]) - off
        said = ("".join((*one.line.said, lane.letters[token])),)
        yield _Step(one.line.score + log, one, token, log, 0.0, said, None)


def _bound_steps(
    one: _Live, node: Node, spelling: Spelling, lane: Lane, row: NDArray[np.float32], off: float
) -> Iterator[_Step]:
    choices = spelling.choices(node)
    allowed = row[choices.tokens]
    for place in _largest(allowed, 2 * lane.width):
        token, way = int(choices.tokens[place]), choices.way(place)
        log = float(allowed[place]) - off
        expected, said = _expected(one.line, token, way, lane)
        score = one.line.total + log + expected
        yield _Step(score, one, token, log, expected, said, way.to)


def _expected(line: Hypothesis, token: int, way: Way, lane: Lane) -> tuple[float, tuple[str, ...]]:
    """What the line counts for being expected, and says, with the words the token finishes."""
    expected, said = line.expected, line.said
    if not way.written and token != END:
        return expected, said
    for word in [*way.written, FINISH] if token == END else way.written:
        if lane.expectation:
            log = lane.expectation.log_probability(word, (*BEGUN, *said)[-2:])
            expected += WEIGHT * log + BONUS
        said = (*said, word)
    return expected, said


def _different(best_first: Sequence[_Step], lane: Lane) -> Iterator[_Step]:
    """Without those that say the same as a better one in other pieces."""
    first: dict[tuple[tuple[str, ...], int], _Step] = {}
    for step in best_first:
        first.setdefault((step.said, id(step.node)), step)
    return islice(first.values(), 2 * lane.width)


def _taken(step: _Step) -> _Live:
    before = step.before.line
    line = Hypothesis(
        (*before.tokens, step.token),
        (*before.logs, step.log),
        before.total + step.log,
        step.expected,
        step.said,
    )
    return _Live(step.before.lane, step.before.row, line, step.node)


def _going(
    grown: list[_Live], lane: Lane, finished: dict[tuple[str, ...], Hypothesis], last: bool
) -> list[_Live]:
    """The lines that go on; those that have ended are put into `finished`."""
    going: list[_Live] = []
    for one in grown:
        if one.line.tokens[-1] == END:
            said = one.line.said
            if said not in finished or finished[said].rank < one.line.rank:
                finished[said] = one.line
        elif len(going) < lane.width and not _goes_in_circles(one.line.tokens):
            going.append(one)
    if last or not going:
        return []
    bar = max(line.score for line in [*finished.values(), going[0].line]) - HOPELESS
    enough = min(ENOUGH, lane.width)
    if len(finished) >= enough:
        ranks = sorted((line.rank for line in finished.values()), reverse=True)
        going = [one for one in going if one.line.rank > ranks[enough - 1]]
    return [one for one in going if one.line.score > bar]


def _goes_in_circles(tokens: tuple[int, ...]) -> bool:
    """Whether the row ends in the same words so often that nobody says them."""
    for cycle in range(1, LONGEST_CYCLE + 1):
        times = 5 if cycle < 4 else 3
        tail = tokens[-cycle * times :]
        if len(tail) == cycle * times and tail == tail[:cycle] * times:
            return True
    return False


def _largest(logits: NDArray[np.float32], count: int) -> list[int]:
    """Where the largest are, largest first; none that is hopelessly behind the first."""
    near = np.flatnonzero(logits > logits.max() - HOPELESS)
    best: list[int] = near[np.argsort(-logits[near])[:count]].tolist()
    return best
