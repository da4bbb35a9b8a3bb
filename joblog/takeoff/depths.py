"""Depths measured along a run: one batch where they agree, each piece its own where not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from joblog.model import Depth
from joblog.quantity import feet_and_inches, tape


class DepthError(ValueError):
    """Why measured depths cannot be used, in words for a person."""


@dataclass(frozen=True, slots=True)
class Profile:
    """How deep a run is everywhere, in inches: straight between two measured places, and level
    before the first and behind the last."""

    at: tuple[Fraction, ...]
    depth: tuple[Fraction, ...]
    along: Fraction
    face: Fraction
    tolerance: Fraction
    ahead: Fraction = Fraction(0)
    """How far before the run its first piece begins."""

    @classmethod
    def of(
        cls,
        depths: Sequence[Depth],
        along: Fraction,
        face: Fraction,
        tolerance: Fraction,
        ahead: Fraction = Fraction(0),
    ) -> Profile:
        """Raises `DepthError` for depths that are not on the run, or two at one place."""
        if min(depth.depth for depth in depths) <= 0:
            raise DepthError("has a depth of zero or less")
        placed = sorted(_placed(depths, along), key=lambda depth: depth[0])
        for (at, _), (following, _) in pairwise(placed):
            if at == following:
                raise DepthError(f"has two depths at {feet_and_inches(at)}")
        for at, _ in placed:
            if not 0 <= at <= along:
                raise DepthError(
                    f"has a depth at {feet_and_inches(at)}, but is {feet_and_inches(along)} long"
                )
        return cls(
            tuple(at for at, _ in placed),
            tuple(depth for _, depth in placed),
            along,
            face,
            tolerance,
            ahead,
        )

    @property
    def least(self) -> Fraction:
        return min(self.depth)

    @property
    def agree(self) -> bool:
        """True where one length fits everywhere."""
        return max(self.depth) - self.least <= self.tolerance

    @property
    def mean(self) -> Fraction:
        """Area divided by length, exactly."""
        places = [Fraction(0), *self.at, self.along]
        depths = [self.depth[0], *self.depth, self.depth[-1]]
        strips = (
            (after - before) * (one + other) / 2
            for (before, after), (one, other) in zip(
                pairwise(places), pairwise(depths), strict=True
            )
        )
        return sum(strips, Fraction(0)) / self.along

    @property
    def summary(self) -> str:
        """What a person should know of it, in words."""
        many = len(self.depth)
        if many == 1:
            return f"one depth, {tape(self.least)} in; cut the batch to it"
        spread = f"{tape(self.least)} to {tape(max(self.depth))} in"
        allowed = f"{tape(self.tolerance)} in"
        if self.agree:
            return (
                f"{many} depths agree within {allowed} ({spread}); the batch can be cut ahead, to "
                "the smallest"
            )
        summary = (
            f"{many} depths differ by more than {allowed} ({spread}); cut each piece to its own, "
            "numbered from where the depths begin"
        )
        if any(abs(one - other) > self.tolerance for one, other in self._edges(self._count)):
            summary += (
                "; where it runs out fast, a piece is as long as its longer edge: cut the slant"
            )
        return summary

    def of_pieces(self, count: int) -> Iterator[Fraction]:
        """The depth of each piece from the beginning on: in its middle, or at its deeper edge
        where the two edges differ by more than the tolerance."""
        for number, (one, other) in enumerate(self._edges(count)):
            if abs(one - other) > self.tolerance:
                yield max(one, other)
            else:
                yield self._depth_at((number + Fraction(1, 2)) * self.face - self.ahead)

    @property
    def _count(self) -> int:
        return int(-(-self.along // self.face))

    def _edges(self, count: int) -> Iterator[tuple[Fraction, Fraction]]:
        for number in range(count):
            here = number * self.face - self.ahead
            yield self._depth_at(here), self._depth_at(here + self.face)

    def _depth_at(self, at: Fraction) -> Fraction:
        if at <= self.at[0]:
            return self.depth[0]
        for here, (before, after) in enumerate(pairwise(self.at)):
            if at <= after:
                share = (at - before) / (after - before)
                return self.depth[here] + share * (self.depth[here + 1] - self.depth[here])
        return self.depth[-1]


def _placed(depths: Sequence[Depth], along: Fraction) -> list[tuple[Fraction, Fraction]]:
    places = [depth.at for depth in depths]
    if all(at is None for at in places):
        if len(depths) == 1:
            return [(Fraction(0), depths[0].depth)]
        apart = along / (len(depths) - 1)
        return [(number * apart, depth.depth) for number, depth in enumerate(depths)]
    placed = [(depth.at, depth.depth) for depth in depths if depth.at is not None]
    if len(placed) < len(depths):
        raise DepthError("says of some depths where they were measured, but not of all")
    return placed
