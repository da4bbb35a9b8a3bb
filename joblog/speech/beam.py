"""Beam search: the likeliest rows of tokens, freely or along the spelling of a job's words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from joblog.speech.tokens import END

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from joblog.speech.spelling import Node, Spelling

HOPELESS = 8.0
"""Nats behind the best of its lane after which a line is given up."""
LENGTH = 0.7
"""The power of its length by which a line's log-probability is divided before it is ranked."""
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
    """One search: how many lines are kept, and the spelling they must follow, if any."""

    width: int
    spelling: Spelling | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """A row of tokens, the end token last, with the natural log-probability of each.

    Log-probabilities are those of the whole softmax, whatever the spelling allows, so that lines
    of different lanes can be compared.
    """

    tokens: tuple[int, ...]
    logs: tuple[float, ...]
    total: float

    @property
    def rank(self) -> float:
        """Log-probability normalised by length."""
        return self.total / max(1, len(self.tokens)) ** LENGTH


def search(steps: Steps, lanes: Sequence[Lane], limit: int) -> tuple[tuple[Line, ...], ...]:
    """For each lane its finished lines, best first; none where nothing could be finished.

    All lanes go through the decoder together. `limit` is the greatest number of tokens.
    """
    finished: list[list[Line]] = [[] for _ in lanes]
    live = [
        _Live(number, Line((), (), 0.0), lane.spelling.begin if lane.spelling else None)
        for number, lane in enumerate(lanes)
    ]
    logits = np.repeat(steps.first(), len(lanes), axis=0)
    for length in range(1, limit + 1):
        grown = _grow(logits, live, lanes)
        live, rows = [], []
        for number, lane in enumerate(lanes):
            going = _keep(grown[number], lane, finished[number], last=length == limit)
            live.extend(one for _, one in going)
            # The first call gave one row, from which all lanes go on.
            rows.extend(row if length > 1 else 0 for row, _ in going)
        if not live:
            break
        logits = steps.next([one.line.tokens[-1] for one in live], rows)
    return tuple(tuple(sorted(lines, key=lambda line: -line.rank)) for lines in finished)


@dataclass(frozen=True, slots=True)
class _Live:
    lane: int
    line: Line
    node: Node | None


def _grow(
    logits: NDArray[np.float32], live: Sequence[_Live], lanes: Sequence[Lane]
) -> list[list[tuple[int, _Live]]]:
    """By lane, the likeliest lines that are one token longer, each with the row it came from."""
    top = logits.max(axis=1)
    whole = top + np.log(np.exp(logits - top[:, None]).sum(axis=1))
    grown: list[list[tuple[float, int, int, Node | None]]] = [[] for _ in lanes]
    for row, one in enumerate(live):
        lane = lanes[one.lane]
        tokens, nodes = (None, None) if one.node is None else lane.spelling.choices(one.node)  # type: ignore[union-attr]
        logs = (logits[row] if tokens is None else logits[row, tokens]) - whole[row]
        best = _largest(logs, lane.width + 1)
        for place in best.tolist():
            token = place if tokens is None else int(tokens[place])
            grown[one.lane].append(
                (one.line.total + float(logs[place]), row, token, nodes and nodes[place])
            )
    result: list[list[tuple[int, _Live]]] = []
    for number, lane in enumerate(lanes):
        best_first = sorted(grown[number], key=lambda found: -found[0])[: 2 * lane.width]
        result.append(
            [
                (row, _Live(number, _longer(live[row].line, token, total), node))
                for total, row, token, node in best_first
            ]
        )
    return result


def _keep(
    grown: list[tuple[int, _Live]], lane: Lane, finished: list[Line], last: bool
) -> list[tuple[int, _Live]]:
    """The lines that go on; those that have ended are put into `finished`."""
    going: list[tuple[int, _Live]] = []
    for row, one in grown:
        if one.line.tokens[-1] == END:
            finished.append(one.line)
        elif len(going) < lane.width and not _goes_in_circles(one.line.tokens):
            going.append((row, one))
    if last or not going:
        return []
    bar = max([line.total for line in finished] + [one.line.total for _, one in going[:1]])
    if len(finished) >= lane.width:
        ranks = sorted((line.rank for line in finished), reverse=True)
        going = [(row, one) for row, one in going if one.line.rank > ranks[lane.width - 1]]
    return [(row, one) for row, one in going if one.line.total > bar - HOPELESS]


def _goes_in_circles(tokens: tuple[int, ...]) -> bool:
    """Whether the row ends in the same words so often that nobody says them."""
    for cycle in range(1, LONGEST_CYCLE + 1):
        times = 5 if cycle < 4 else 3
        tail = tokens[-cycle * times :]
        if len(tail) == cycle * times and tail == tail[:cycle] * times:
            return True
    return False


def _longer(line: Line, token: int, total: float) -> Line:
    return Line((*line.tokens, token), (*line.logs, total - line.total), total)


def _largest(logs: NDArray[np.float32], count: int) -> NDArray[np.int64]:
    if len(logs) <= count:
        return np.arange(len(logs))
    return np.argpartition(logs, -count)[-count:]
