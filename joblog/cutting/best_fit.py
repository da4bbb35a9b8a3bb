"""Sticks of one length filled piece by piece: quick, and often as few as can be."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Mapping
from fractions import Fraction
from math import ceil, lcm


def best_fit(pieces: Mapping[Fraction, int], length: Fraction, kerf: Fraction) -> tuple[int, int]:
    """How many sticks the pieces take, and how few they must take at least.

    Best fit decreasing: the longest piece first, each into the fullest stick that has room for it.
    The bound is all that the pieces and their cuts measure together; a stick holds its length and
    one cut more, because the last piece may end where the stick ends. `pieces` says how many there
    are of each length, none of them longer than the stick.
    """
    parts = lcm(length.denominator, kerf.denominator, *(one.denominator for one in pieces))
    room = int((length + kerf) * parts)
    sticks, open_ones, rests = 0, dict[int, int](), list[int]()

    def put(rest: int, many: int) -> None:
        if rest and many:
            if rest not in open_ones:
                insort(rests, rest)
            open_ones[rest] = open_ones.get(rest, 0) + many

    for weight, count in sorted(
        ((int((one + kerf) * parts), many) for one, many in pieces.items()), reverse=True
    ):
        left = count
        while left and (at := bisect_left(rests, weight)) < len(rests):
            # All sticks that are as full take one each, before a fuller one is made of any.
            rest = rests[at]
            many = min(left, open_ones[rest])
            open_ones[rest] -= many
            if not open_ones[rest]:
                del open_ones[rest], rests[at]
            each = min(rest // weight, max(left // many, 1))
            put(rest - each * weight, many)
            left -= each * many
        each = room // weight
        full, over = divmod(left, each)
        sticks += full + (over > 0)
        put(room - each * weight, full)
        put(room - over * weight, 1 if over else 0)
    measured = sum((one + kerf) * many for one, many in pieces.items())
    return sticks, ceil(Fraction(measured) / (length + kerf))
