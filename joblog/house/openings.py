"""Windows, doors and vents: whether they fit in their wall, and which stand in its gable."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from joblog.model import Opening, Problem, Side
from joblog.quantity import feet_and_inches


def openings_that_fit(side: Side, place: str) -> tuple[tuple[Opening, ...], tuple[Problem, ...]]:
    """The openings of a wall without those that reach beyond it or lie over another, and why these
    do not fit."""
    fitting: list[Opening] = []
    problems = []
    for opening in side.openings:
        why = _too_large(side, opening) or _over_another(opening, fitting)
        if why:
            problems.append(Problem(opening.row or f"{place}, {_called(opening)}", why))
        else:
            fitting.append(opening)
    return tuple(fitting), tuple(problems)


def in_gable(side: Side, opening: Opening) -> bool:
    """Whether an opening stands in the triangle above the wall: by its sill, and a vent of which
    nobody said how high it is (common practice)."""
    if side.top != "gable" or side.height is None:
        return False
    return opening.kind == "vent" if opening.sill is None else opening.sill >= side.height


def _too_large(side: Side, opening: Opening) -> str:
    wide = opening.width * opening.count
    if wide > side.length:
        many = f"{opening.count} of {feet_and_inches(opening.width)}" if opening.count > 1 else ""
        return (
            f"is {many or feet_and_inches(opening.width)} wide, but the side is "
            f"{feet_and_inches(side.length)} long"
        )
    if opening.at is not None and opening.at + opening.width > side.length:
        return (
            f"ends at {feet_and_inches(opening.at + opening.width)}, but the side is "
            f"{feet_and_inches(side.length)} long"
        )
    top = max(side.height or Fraction(0), side.height_end or Fraction(0))
    if side.top == "gable" and side.pitch is not None:
        top += side.length / 2 * side.pitch / 12
    reaches = (opening.sill or Fraction(0)) + opening.height
    if reaches > top:
        return f"reaches up to {feet_and_inches(reaches)}, but the wall to {feet_and_inches(top)}"
    return ""


def _over_another(opening: Opening, others: Sequence[Opening]) -> str:
    """Whether it lies where another one is, as far as both say where they are."""
    for other in others:
        if all(
            one is not None and two is not None and max(one[0], two[0]) < min(one[1], two[1])
            for one, two in zip(_span(opening), _span(other), strict=True)
        ):
            return f"lies over the {_called(other)} at {feet_and_inches(other.at or Fraction(0))}"
    return ""


def _span(opening: Opening) -> tuple[tuple[Fraction, Fraction] | None, ...]:
    """From where to where it reaches along the wall and upward; None where nobody said."""
    sill = Fraction(0) if opening.sill is None and opening.kind == "door" else opening.sill
    return tuple(
        None if begins is None else (begins, begins + size)
        for begins, size in ((opening.at, opening.width), (sill, opening.height))
    )


def _called(opening: Opening) -> str:
    return opening.name or opening.kind
