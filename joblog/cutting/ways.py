"""The ways in which a run may be parted into pieces: places for joints, and a piece between two."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import ceil

import numpy as np
import numpy.typing as npt

from joblog.model import Joints, Piece

_Array = npt.NDArray[np.int64]
Way = tuple[int, ...]
"""The places that a run is parted at, from its beginning to its end, by their numbers."""


@dataclass(frozen=True)
class Ways:
    """All ways of one run; `places` begin with 0 and end with its length."""

    run: Piece
    places: tuple[Fraction, ...]
    before: tuple[tuple[tuple[int, Fraction], ...], ...]
    """For each place the pieces that may end there: where they begin, and how long they are."""
    longest: Fraction
    """Of the sticks."""
    every: bool
    """Whether there is no other place where a joint may fall."""
    note: str = ""
    """What of the wishes for its joints had to be given up; "" for nothing."""

    @cached_property
    def lengths(self) -> tuple[Fraction, ...]:
        """Of all pieces there may be, the shortest first."""
        return tuple(sorted({length for pieces in self.before for _, length in pieces}))

    def pieces(self, way: Way) -> tuple[Fraction, ...]:
        """The lengths of the pieces, in order."""
        return tuple(dict(self.before[end])[begin] for begin, end in pairwise(way))

    def joints(self, way: Way) -> tuple[Fraction, ...]:
        return tuple(self.places[at] for at in way[1:-1])

    @cached_property
    def fewest(self) -> int:
        """Joints that any way has at least."""
        return self._pieces_to_end(self.longest)[0] - 1

    @cached_property
    def _ends(self) -> tuple[tuple[_Array, _Array], ...]:
        """For each place where its pieces begin, and which of `lengths` they have."""
        number = {length: at for at, length in enumerate(self.lengths)}
        return tuple(
            (
                np.array([begin for begin, _ in pieces], dtype=np.int64),
                np.array([number[length] for _, length in pieces], dtype=np.int64),
            )
            for pieces in self.before
        )

    def cheapest(self, values: _Array, joint: int) -> tuple[int, Way]:
        """The way of which pieces and joints are worth least, and what they are worth; `values` are
        those of `lengths`."""
        worth, came = self._worth(values, joint)
        way = [len(self.places) - 1]
        while way[-1]:
            way.append(came[way[-1]])
        return worth[-1], tuple(reversed(way))

    def near(self, values: _Array, joint: int, worth: int, most: int) -> tuple[list[Way], bool]:
        """Ways that are worth so much at most, and whether these are all of them."""
        least, _ = self._worth(values, joint)
        found: list[Way] = []
        stack: list[tuple[Way, int]] = [((len(self.places) - 1,), worth)]
        while stack:
            way, left = stack.pop()
            if not way[0]:
                found.append(way)
                if len(found) > most:
                    return found[:most], False
                continue
            for begin, size in zip(*self._ends[way[0]], strict=True):
                rest = left - int(values[size]) - joint
                if least[begin] <= rest:
                    stack.append(((int(begin), *way), rest))
        return found, True

    def _worth(self, values: _Array, joint: int) -> tuple[list[int], list[int]]:
        """What the pieces up to each place are worth at least, and where the last of them begins;
        the first piece comes with no joint."""
        worth = np.zeros(len(self.places), dtype=np.int64)
        came = [0] * len(self.places)
        worth[0] = -joint
        for at, (begins, sizes) in enumerate(self._ends):
            if at:
                each = worth[begins] + values[sizes]
                best = int(each.argmin())
                worth[at], came[at] = each[best] + joint, int(begins[best])
        return worth.tolist(), came

    def whole_sticks(self, longest: Fraction | None = None) -> Way | None:
        """The way that goes on as far as it can at each joint, with pieces no longer than that;
        None where there is none."""
        most = self.longest if longest is None else longest
        to_end = self._pieces_to_end(most)
        if to_end[0] > len(self.places):
            return None
        ends: dict[int, int] = {}
        for end, pieces in enumerate(self.before):
            for begin, length in pieces:
                if length <= most and to_end[end] < len(self.places):
                    ends[begin] = end
        way = [0]
        while way[-1] != len(self.places) - 1:
            way.append(ends[way[-1]])
        return tuple(way)

    def _pieces_to_end(self, longest: Fraction) -> list[int]:
        """From each place how few pieces no longer than that reach the end; more than there are
        places where none do."""
        many = [len(self.places) + 1] * (len(self.places) - 1) + [0]
        for end in range(len(self.places) - 1, 0, -1):
            for begin, length in self.before[end]:
                if length <= longest:
                    many[begin] = min(many[begin], many[end] + 1)
        return many

    def few_pieces(self, most: int) -> Iterator[Way]:
        """Ways from those with the fewest joints on, `most` at most."""
        left = [0] + [len(self.places)] * (len(self.places) - 1)
        for at, pieces in enumerate(self.before[1:], 1):
            left[at] = 1 + min(left[begin] for begin, _ in pieces)
        given = 0
        for many in range(left[-1], len(self.places)):
            for way in self._of(len(self.places) - 1, many, left):
                yield way
                given += 1
                if given == most:
                    return

    def _of(self, end: int, many: int, left: Sequence[int]) -> Iterator[Way]:
        if not end:
            yield (0,)
            return
        for begin, _ in self.before[end]:
            if left[begin] < many and (begin or many == 1):
                for way in self._of(begin, many - 1, left):
                    yield (*way, end)


def ways_of(
    run: Piece, lengths: Sequence[Fraction], step: Fraction | None, taken: Sequence[Fraction] = ()
) -> Ways | None:
    """The ways to part a run into pieces no longer than the longest of `lengths`; None where there
    are none.

    Where joints may fall anywhere, these places are tried: where whole sticks end, laid from either
    end, and every `step` inches. `taken` are the joints of a run beside it. Where there is no way,
    what was wished of its joints is given up, one after the other.
    """
    rule = run.joints or Joints()
    for given_up, wish in _wishes(rule):
        found = _ways(run, wish, lengths, step, taken if wish.stagger else ())
        if found is not None:
            return replace(found, note=given_up)
    return None


def _wishes(rule: Joints) -> Iterator[tuple[str, Joints]]:
    yield "", rule
    if rule.stagger:
        rule = replace(rule, stagger=Fraction(0))
        yield "its joints cannot be staggered", rule
    if rule.clear:
        rule = replace(rule, clear=Fraction(0))
        yield "its joints cannot stay so far from its ends", rule
    if rule.spacing:
        yield "its joints cannot all fall on their spacing", replace(rule, spacing=None)


def _ways(
    run: Piece,
    rule: Joints,
    lengths: Sequence[Fraction],
    step: Fraction | None,
    taken: Sequence[Fraction],
) -> Ways | None:
    longest = max(lengths)
    least = max(rule.clear, rule.lap + _SIXTEENTH)
    inner = sorted(
        place
        for place in _places(run.length, rule, lengths, step, taken)
        if least <= place <= run.length - max(rule.clear, _SIXTEENTH)
        and all(abs(place - other) >= rule.stagger for other in taken)
    )
    places = [Fraction(0)]
    before: list[tuple[tuple[int, Fraction], ...]] = [()]
    for place in (*inner, run.length):
        pieces = []
        for at in range(len(places) - 1, -1, -1):
            exact = place - places[at] + (rule.lap if at else 0)
            if exact > longest:
                break
            if not at or place - places[at] >= least or place == run.length:
                pieces.append((at, on_tape(exact, longest)))
        if pieces:
            places.append(place)
            before.append(tuple(pieces))
    if places[-1] != run.length:
        return None
    return Ways(run, tuple(places), tuple(before), longest, every=rule.spacing is not None)


def on_tape(length: Fraction, longest: Fraction) -> Fraction:
    """Rounded up to a sixteenth of an inch, but where that is longer than any stick."""
    rounded = Fraction(ceil(length * 16), 16)
    return rounded if rounded <= longest else length


_SIXTEENTH = Fraction(1, 16)
MOST_PLACES = 150
"""Where whole sticks may end, of one run."""


def _places(
    along: Fraction,
    rule: Joints,
    lengths: Sequence[Fraction],
    step: Fraction | None,
    taken: Sequence[Fraction],
) -> set[Fraction]:
    if rule.spacing:
        count = int((along - rule.first) // rule.spacing)
        return {rule.first + number * rule.spacing for number in range(count + 1)}
    ends = _whole_sticks(along, rule.lap, lengths)
    # From the other end a stick begins where the piece before laps it.
    found = {*ends, *(along - end + rule.lap for end in ends), rule.clear, along - rule.clear}
    if step:
        found.update(step * number for number in range(1, int(along // step) + 1))
    for other in taken:
        found.update((other - rule.stagger, other + rule.stagger))
    return {Fraction(int(place * 16), 16) for place in found}


def _whole_sticks(along: Fraction, lap: Fraction, lengths: Sequence[Fraction]) -> set[Fraction]:
    """Where whole sticks that follow each other end, the fewest sticks first."""
    found: set[Fraction] = set()
    ends = {lap}
    kinds = sorted({length for length in lengths if length > lap}, reverse=True)
    while ends:
        ends = {end - lap + length for end in ends for length in kinds} - found
        ends = {end for end in ends if end < along}
        if len(found) + len(ends) > MOST_PLACES:
            kinds = kinds[:1]
            if len(ends) > 1:
                ends = {max(ends)}
        found |= ends
    return found
