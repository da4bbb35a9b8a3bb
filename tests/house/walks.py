"""Houses to test with, and what their runs come to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from joblog.house.runs import runs_of
from joblog.model import Body, Corner, House, Run, Side

FOOT = 12
DEPTH = Fraction(12)


def side(name: str, feet: int | Fraction, corner: Corner = "outside", **more: Any) -> Side:
    """A side with an eave a foot deep, unless more is said of it."""
    return Side(name, Fraction(feet * FOOT), corner=corner, **({"depth": DEPTH} | more))


def house(*sides: Side) -> House:
    return House((Body("main", sides),))


def runs(of: House) -> tuple[Run, ...]:
    """The runs of a house that has nothing to complain of."""
    found, _, problems = runs_of(of)
    assert problems == ()
    return found


def measures(of: House, work: str, place: str) -> list[dict[str, Fraction]]:
    """What the runs of one work at one place measure, each in its own unit."""
    return [
        {name: amount.quantity for name, amount in run.measures}
        for run in runs(of)
        if (run.work, run.place) == (work, place)
    ]


def fascia(of: House) -> Fraction:
    """Inches of all fascia edges under level eaves."""
    total = Fraction(0)
    for run in runs(of):
        if run.work == "boxed eave":
            said = {name: amount.quantity for name, amount in run.measures}
            total += said["length"] * 12 + said["beyond"] - said["short"]
    return total


def summed(found: Sequence[Run]) -> Counter[tuple[str, str]]:
    """The measures of all runs of a work, added up."""
    total: Counter[tuple[str, str]] = Counter()
    for run in found:
        for name, amount in run.measures:
            total[run.work, name] += amount.quantity  # type: ignore[assignment]
    return total


@st.composite
def rectilinear(draw: st.DrawFn, **more: Any) -> House:
    """A house of square corners, in and out, whose walk closes: columns side by side."""
    feet = st.integers(3, 40)
    heights = draw(st.lists(feet.map(lambda high: 3 * high), min_size=1, max_size=6))
    heights = [high for number, high in enumerate(heights) if heights[:number][-1:] != [high]]
    widths = [draw(feet) for _ in heights]
    sides = [side("up", heights[0], **more)]
    for number, (high, wide) in enumerate(zip(heights, widths, strict=True)):
        following = heights[number + 1] if number + 1 < len(heights) else 0
        rises = following > high
        sides.append(side(f"top {number}", wide, "inside" if rises else "outside", **more))
        last = number + 1 == len(heights)
        turn: Corner = "outside" if rises or last else "inside"
        sides.append(side(f"step {number}", abs(following - high), turn, **more))
    sides.append(side("base", sum(widths), **more))
    return house(*sides)
