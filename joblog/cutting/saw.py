"""The order for the saw: which pattern after which, so that the fence is set least often.

A pattern is cut from all its sticks before the next one: the fence is set to a length, that length
is cut from each stick (or stack), then the fence is set to the next. Where a pattern ends with the
length that the following one begins with, the fence stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from joblog.cutting.effort import Effort


@dataclass(frozen=True, slots=True)
class Turn:
    """A pattern's place in the order: its index, and its lengths in the order they are cut."""

    pattern: int
    lengths: tuple[Fraction, ...]


def saw_order(
    patterns: Sequence[Sequence[Fraction]], first: int = 0, effort: Effort | None = None
) -> tuple[list[Turn], int]:
    """The patterns in order, and how often the fence is set.

    `patterns` are the different lengths of each; the `first` so many of them come before the rest.
    The order is searched for with a beam: the least settings for a handful of patterns, few for
    many. Once the time of `effort` is up, each pattern goes to the first that follows it well.
    """
    shop = _shop_of(patterns, first)
    width = max(1, min(_BEAM, _TRIES // (1 + len(patterns) ** 2)))
    chains = [_NOTHING]
    for _ in patterns:
        if effort is not None and effort.late:
            width = 1
        chains = _best(chains, shop, width)
    best = chains[0]
    settings = sum(mask.bit_count() for mask in shop.lengths_of) - best.kept
    return _turns(best, shop), settings


_BEAM = 60
"""Chains that are carried on together."""
_TRIES = 2_000_000
"""Of a longer chain; where there are many patterns the beam is narrower."""


@dataclass(frozen=True, slots=True)
class _Shop:
    """Lengths and patterns by number, and sets of them as the bits of whole numbers."""

    lengths: tuple[Fraction, ...]
    """The longest first."""
    lengths_of: tuple[int, ...]
    """Of each pattern."""
    patterns_with: tuple[int, ...]
    """With each length."""
    first: int
    everything: int


def _shop_of(patterns: Sequence[Sequence[Fraction]], first: int) -> _Shop:
    lengths = tuple(sorted({length for each in patterns for length in each}, reverse=True))
    number = {length: at for at, length in enumerate(lengths)}
    with_length = [0] * len(lengths)
    lengths_of = []
    for at, each in enumerate(patterns):
        mask = 0
        for length in set(each):
            mask |= 1 << number[length]
            with_length[number[length]] |= 1 << at
        lengths_of.append(mask)
    everything = (1 << len(patterns)) - 1
    return _Shop(lengths, tuple(lengths_of), tuple(with_length), (1 << first) - 1, everything)


@dataclass(frozen=True, slots=True)
class _Chain:
    before: _Chain | None
    pattern: int
    enter: int | None
    """The length it shares with the pattern before it, if any."""
    leaves: int
    """Lengths that the last pattern may still end with."""
    done: int
    """Patterns."""
    kept: int
    """How often the fence stayed."""


_NOTHING = _Chain(None, -1, None, 0, 0, 0)


def _best(chains: Sequence[_Chain], shop: _Shop, width: int) -> list[_Chain]:
    """So many of the chains that are one pattern longer.

    One is left out that has the same patterns behind it and the same way on as a better one.
    """
    grown: list[_Chain] = []
    for chain in chains:
        for longer in _grown(chain, shop):
            grown.append(longer)
            if width == 1:
                break
    grown.sort(key=lambda chain: -chain.kept)
    seen = set()
    best = []
    for chain in grown:
        key = chain.done, chain.pattern, chain.leaves
        if key not in seen:
            seen.add(key)
            best.append(chain)
            if len(best) == width:
                break
    return best


def _grown(chain: _Chain, shop: _Shop) -> Iterator[_Chain]:
    """With each pattern that shares a length; where none does, with each that is left.

    Going on is never worse than ending here: a pattern that would stand among others elsewhere can
    be taken from there with one side of its neighbours, for the loss of one setting and the gain of
    one.
    """
    left = (shop.first or shop.everything) & ~chain.done or shop.everything & ~chain.done
    alone = True
    for length in _bits(chain.leaves):
        for at in _bits(left & shop.patterns_with[length]):
            alone = False
            lengths = shop.lengths_of[at]
            leaves = lengths & ~(1 << length) or lengths
            done = chain.done | 1 << at
            yield _Chain(chain, at, length, leaves, done, chain.kept + 1)
    if alone:
        for at in _bits(left):
            yield _Chain(chain, at, None, shop.lengths_of[at], chain.done | 1 << at, chain.kept)


def _bits(mask: int) -> Iterator[int]:
    """The numbers of the bits that are set, from the lowest."""
    while mask:
        lowest = mask & -mask
        yield lowest.bit_length() - 1
        mask ^= lowest


def _turns(chain: _Chain, shop: _Shop) -> list[Turn]:
    steps: list[_Chain] = []
    while chain.before is not None:
        steps.append(chain)
        chain = chain.before
    steps.reverse()
    turns = []
    for step, following in zip(steps, [*steps[1:], None], strict=True):
        enter, leave = step.enter, following.enter if following else None
        inner = [at for at in _bits(shop.lengths_of[step.pattern]) if at not in (enter, leave)]
        head = [enter] if enter is not None else []
        tail = [leave] if leave is not None and leave != enter else []
        turns.append(Turn(step.pattern, tuple(shop.lengths[at] for at in (*head, *inner, *tail))))
    return turns
