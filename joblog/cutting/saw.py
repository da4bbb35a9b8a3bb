"""The order for the saw: which pattern after which, so that the fence is set least often.

A pattern is cut from all its sticks before the next one: the fence is set to a length, that length
is cut from each stick (or stack), then the fence is set to the next. Where a pattern ends with the
length that the following one begins with, the fence stays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Turn:
    """A pattern's place in the order: its index, and its lengths in the order they are cut."""

    pattern: int
    lengths: tuple[Fraction, ...]


def saw_order(patterns: Sequence[Sequence[Fraction]], first: int = 0) -> tuple[list[Turn], int]:
    """The patterns in order, and how often the fence is set.

    `patterns` are the different lengths of each; the `first` so many of them come before the rest.
    The order is searched for with a beam: the least settings for a handful of patterns, few for
    many.
    """
    sets = [frozenset(lengths) for lengths in patterns]
    width = max(1, min(_BEAM, _TRIES // (1 + len(sets) ** 2)))
    chains = [_Chain((), frozenset(), 0)]
    for step in range(len(sets)):
        last_of_first = step < first
        grown = [
            longer
            for chain in chains
            for at in _left(chain, len(sets), first if last_of_first else 0)
            for longer in _grown(chain, at, sets[at])
        ]
        grown.sort(key=lambda chain: (-chain.kept, chain.steps))
        chains = _different(grown)[:width]
    best = chains[0]
    settings = sum(map(len, sets)) - best.kept
    return _turns(best, sets), settings


_BEAM = 60
"""Chains that are carried on together."""
_TRIES = 800_000
"""Of a longer chain; where there are many patterns the beam is narrower."""


@dataclass(frozen=True, slots=True)
class _Chain:
    steps: tuple[tuple[int, Fraction | None], ...]
    """Index of each pattern, and the length it shares with the one before it, if any."""
    leaves: frozenset[Fraction]
    """Lengths that the last pattern may still end with."""
    kept: int
    """How often the fence stayed."""


def _left(chain: _Chain, count: int, first: int) -> list[int]:
    done = {at for at, _ in chain.steps}
    return [at for at in range(first or count) if at not in done]


def _grown(chain: _Chain, at: int, lengths: frozenset[Fraction]) -> list[_Chain]:
    apart = _Chain((*chain.steps, (at, None)), lengths, chain.kept)
    shared = sorted(chain.leaves & lengths, reverse=True)
    return [
        _Chain(
            (*chain.steps, (at, length)),
            lengths - {length} if len(lengths) > 1 else lengths,
            chain.kept + 1,
        )
        for length in shared
    ] or [apart]


def _different(chains: Sequence[_Chain]) -> list[_Chain]:
    """One chain of those that have the same patterns behind them and the same way on."""
    seen: dict[tuple[frozenset[int], int, frozenset[Fraction]], _Chain] = {}
    for chain in chains:
        key = (frozenset(at for at, _ in chain.steps), chain.steps[-1][0], chain.leaves)
        seen.setdefault(key, chain)
    return list(seen.values())


def _turns(chain: _Chain, sets: Sequence[frozenset[Fraction]]) -> list[Turn]:
    enters = [length for _, length in chain.steps]
    turns = []
    for (at, enter), leave in zip(chain.steps, [*enters[1:], None], strict=True):
        ends = {length for length in (enter, leave) if length is not None}
        inner = sorted(sets[at] - ends, reverse=True)
        head = [enter] if enter is not None else []
        tail = [leave] if leave is not None and leave != enter else []
        turns.append(Turn(at, (*head, *inner, *tail)))
    return turns
