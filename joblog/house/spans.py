"""The stretches of an eave between what interrupts it, each with its own depths."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from joblog.house.corners import FREE, End
from joblog.model import Depth, Side
from joblog.quantity import feet_and_inches


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of one eave, in inches from where its side begins."""

    begins: Fraction
    ends: Fraction
    before: End
    """What its beginning comes to."""
    behind: End
    depths: tuple[Depth, ...]
    """Along the stretch itself; one where the depth is the same everywhere."""

    @property
    def length(self) -> Fraction:
        return self.ends - self.begins

    @property
    def edge(self) -> Fraction:
        """How long the fascia is."""
        return self.length + self.before.beyond + self.behind.beyond


def spans_of(side: Side, ends: tuple[End, End]) -> tuple[Span, ...]:
    """The stretches of an eave in the order of the walk, for the two ends of the whole.

    Raises ValueError, in words, for what interrupts it beyond its end, or where something else
    does already, and for soffits around an inside corner that leave nothing of it.
    """
    here, before = Fraction(0), ends[0]
    found = []
    for one in sorted(side.interruptions, key=lambda one: one.at):
        if one.at < here:
            raise ValueError(
                f"{one.what or 'what interrupts it'} begins at {feet_and_inches(one.at)}, where "
                "the eave is interrupted already; put the two together"
            )
        if one.at + one.length > side.length:
            raise ValueError(
                f"{one.what or 'what interrupts it'} ends at "
                f"{feet_and_inches(one.at + one.length)}, but the side is "
                f"{feet_and_inches(side.length)} long"
            )
        if one.at > here:
            found.append(Span(here, one.at, before, FREE, _depths(side, here, one.at)))
        here, before = one.at + one.length, FREE
    if here < side.length:
        found.append(Span(here, side.length, before, ends[1], _depths(side, here, side.length)))
    for span in found:
        if span.edge <= 0:
            raise ValueError(
                f"leaves no eave: {feet_and_inches(span.length)} of it lie between soffits that "
                "meet there; look at the depths around it and at its length"
            )
    return tuple(found)


def _depths(side: Side, begins: Fraction, ends: Fraction) -> tuple[Depth, ...]:
    """The depths along a part of the side: those measured there, and at its ends what lies
    straight between the nearest ones."""
    if not side.depths:
        return () if side.depth is None else (Depth(side.depth),)
    if begins == 0 and ends == side.length:
        return side.depths
    placed = _placed(side)
    inner = {at: depth for at, depth in placed if begins <= at <= ends}
    for at in (begins, ends):
        if placed[0][0] < at < placed[-1][0]:
            inner.setdefault(at, _between(placed, at))
    if not inner:
        # Level before the first measured place and behind the last.
        inner = {begins: placed[0 if ends < placed[0][0] else -1][1]}
    if len(set(inner.values())) == 1:
        return (Depth(next(iter(inner.values()))),)
    return tuple(Depth(inner[at], at - begins) for at in sorted(inner))


def _placed(side: Side) -> list[tuple[Fraction, Fraction]]:
    """Where each depth was measured; evenly from end to end where nobody said."""
    apart = side.length / max(1, len(side.depths) - 1)
    return sorted(
        (number * apart if depth.at is None else depth.at, depth.depth)
        for number, depth in enumerate(side.depths)
    )


def _between(placed: list[tuple[Fraction, Fraction]], at: Fraction) -> Fraction:
    for (before, one), (behind, other) in _pairs(placed):
        if before <= at <= behind:
            return one + (other - one) * (at - before) / (behind - before)
    raise ValueError(f"no depth was measured around {feet_and_inches(at)}")


def _pairs(
    placed: list[tuple[Fraction, Fraction]],
) -> Iterator[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]]:
    return ((one, other) for one, other in pairwise(placed) if one[0] < other[0])
