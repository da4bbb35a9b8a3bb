"""From a house to its runs, side by side: what each of them measures, as `takeoff` takes it.

Corners are square. Where two eaves meet at an outside corner, each fascia goes on beyond the wall
by the depth of the other soffit; at an inside corner it stops short by it. At the foot of a gable
the eave goes on to the outer edge of the rake, and the fascia returns there once; the slope of the
rake comes down over the eave. What is at a corner is counted once, by the side before it. (Common
practice.)
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import combinations

from joblog.house.corners import NONE, depth_at, ends_of, feet_of, posts_of, side_after, side_before
from joblog.house.openings import in_gable, openings_that_fit
from joblog.house.spans import Span, spans_of
from joblog.house.walk import checked
from joblog.model import Amount, Body, Ceiling, House, Opening, Problem, Run, Side
from joblog.quantity import feet_and_inches, tape
from joblog.reason import IF_SO
from joblog.sheet.nouns import SURE, Question

Measures = dict[str, Amount]


def runs_of(
    house: House, *, sure: bool = False
) -> tuple[tuple[Run, ...], tuple[str, ...], tuple[Problem, ...]]:
    """The runs of a house in the order of its walk, notes on what was left out and why, and what
    cannot be as it is told.

    A run's place is its body and side ("front", "dormer left"), its row the row of the side. A
    body whose walk cannot be gives no runs. `sure` lets a walk stand that does not close, as does a
    house that somebody was sure of.
    """
    sure = sure or house.sure
    draft = _Draft(house, sure)
    for number, body in enumerate(house.bodies):
        problems, notes = checked(body, sure=sure)
        draft.problems += problems
        draft.notes += notes
        if not problems:
            for name in _names(body, first=number == 0):
                _body(draft, body, name)
    for ceiling in house.ceilings:
        draft.runs.append(_ceiling(ceiling))
    if house.attic is not None:
        area = Amount(house.attic / 144, "ft2")
        draft.runs.append(Run("attic", "attic", (("area", area),), row=house.attic_row))
    draft.notes += draft.left_out()
    return (
        tuple(draft.runs),
        tuple(dict.fromkeys(draft.notes)),
        tuple(dict.fromkeys(draft.problems)),
    )


@dataclass
class _Draft:
    """The runs on their way."""

    house: House
    sure: bool
    """Whether what is doubtful is as it was told."""
    runs: list[Run] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    gutters: list[tuple[int, Span]] = field(default_factory=list)
    """Of the body at hand: where each gutter stands among the runs."""
    unmeasured: dict[str, dict[str, None]] = field(default_factory=dict)
    """By what nobody measured anywhere on the house, what is left out for it."""

    def says(self, what: str) -> bool:
        """Whether any side of the house has a "height" or a "depth"."""
        sides = (side for body in self.house.bodies for side in body.sides)
        if what == "height":
            return any(side.height is not None for side in sides)
        return any(side.depth is not None or side.depths for side in sides)

    def lacks(self, side: Side, place: str, what: str, for_what: str, instead: str) -> None:
        """Notes a measure that a side lacks: a problem where other sides have it, so that nothing
        is missing from a sum that looks whole."""
        if self.says(what):
            why = f"says no {what}, which its {for_what} needs; {instead}"
            self.problems.append(Problem(side.row or place, why))
        else:
            self.unmeasured.setdefault(what, {})[for_what] = None

    def left_out(self) -> Iterator[str]:
        for what, needing in self.unmeasured.items():
            yield f"no side says its {what}; left out: {', '.join(needing)}"


def _names(body: Body, *, first: bool) -> Iterator[str]:
    """What stands before the names of the sides of a body, once for each that is alike."""
    name = "" if first or body.name in ("", "main", "house") else body.name
    if body.count == 1:
        yield name
    else:
        yield from (f"{name or 'house'} {number}" for number in range(1, body.count + 1))


def side_called(body: str, side: str) -> str:
    """The name of a side with that of its body, said once: the porch left of a porch is no porch
    porch left."""
    inside = side.removeprefix(f"{body.rstrip(' 0123456789')} ")
    return f"{body} {inside}".strip()


def _body(draft: _Draft, body: Body, name: str) -> None:
    for number, side in enumerate(body.sides):
        place = side_called(name, side.name or f"side {number + 1}")
        draft.problems += _at_odds(side, place)
        draft.notes += _stepping(body, number, place)
        if side.top == "eave":
            _eave(draft, body, number, place)
        elif side.top == "gable":
            _rakes(draft, body, number, place)
        _walls(draft, body, number, place)
    draft.notes += _unlike_gables(body)
    _hang_together(draft)


def _unlike_gables(body: Body) -> Iterator[str]:
    """Gables as wide as each other that rise otherwise, though one ridge runs between them."""
    gables = [side for side in body.sides if side.top == "gable" and side.pitch is not None]
    for one, other in combinations(gables, 2):
        if one.length == other.length and one.pitch != other.pitch:
            yield (
                f"{one.name or 'one gable'} rises {tape(one.pitch or NONE)} in 12 and "
                f"{other.name or 'another'} {tape(other.pitch or NONE)}, as wide as each other; "
                "is one a slip?"
            )


def _at_odds(side: Side, place: str) -> Iterator[Problem]:
    """What a side says that cannot be so together."""
    where = side.row or place
    if side.gutter and side.top != "eave":
        yield Problem(where, "has a gutter, but no eave that it could hang on; leave gutter empty")
    if side.pitch is not None and side.top != "gable":
        yield Problem(where, f"says a pitch, but its top is {side.top}; say gable where it is one")
    if side.interruptions and side.top == "open":
        why = "interrupts a side that has no eave; leave it out"
        yield Problem(side.interruptions[0].row or where, why)


def _stepping(body: Body, number: int, place: str) -> Iterator[str]:
    """Two walls at a corner whose heights are so far apart that one may be a slip."""
    side, (after, corner) = body.sides[number], side_after(body, number)
    if after is None or corner == "straight" or side.height is None or after.height is None:
        return
    ends = side.height if side.height_end is None else side.height_end
    if abs(ends - after.height) > STEP:
        yield (
            f"{place} is {feet_and_inches(ends)} high where {after.name or 'the next side'} begins "
            f"with {feet_and_inches(after.height)}"
        )


STEP = Fraction(48)
"""Inches by which walls may differ at a corner, as on a slope (common practice)."""


# --- under the roof ---------------------------------------------------------------------------


def _eave(draft: _Draft, body: Body, number: int, place: str) -> None:
    side = body.sides[number]
    if depth_at(side, at_end=True) is None:
        what = "soffit, fascia and gutter" if side.gutter else "soffit and fascia"
        instead = 'say 0 where the roof ends at the wall, or the top "open" where nothing is yours'
        draft.lacks(side, place, "depth", what, instead)
        return
    try:
        spans = spans_of(side, ends_of(body, number))
    except ValueError as error:
        draft.problems.append(Problem(side.row or place, str(error)))
        return
    if side.depth == 0:
        draft.notes.append(f"{place}: no soffit hangs there, and its fascia was left out")
    else:
        draft.runs += [_boxed(span, side, place) for span in spans]
    if side.gutter and side.height is None:
        draft.lacks(
            side, place, "height", "gutter", "its downspouts reach from there to the ground"
        )
    elif side.gutter:
        for span in spans:
            draft.gutters.append((len(draft.runs), span))
            draft.runs.append(_gutter(span, side, place))


def _boxed(span: Span, side: Side, place: str) -> Run:
    ends = (span.before, span.behind)
    one_depth = {"depth": _inches(span.depths[0].depth)} if len(span.depths) == 1 else {}
    measures = {
        "length": _feet(span.length),
        **one_depth,
        "beyond": _inches(sum((max(end.beyond, NONE) for end in ends), NONE)),
        **({"ahead": _inches(max(span.before.beyond, NONE))} if len(span.depths) > 1 else {}),
        "short": _inches(sum((max(-end.beyond, NONE) for end in ends), NONE)),
        "slanted": _inches(sum((abs(end.beyond) for end in ends if end.turn), NONE)),
        **({"next_depth": _inches(abs(span.behind.beyond))} if span.behind.turn else {}),
        **_counted(
            outside_corners=span.behind.turn == "outside",
            inside_corners=span.behind.turn == "inside",
            mitred_ends=sum(end.turn is not None for end in ends),
            returns=sum(end.returns for end in ends),
            free_ends=sum(end.free for end in ends),
        ),
    }
    depths = span.depths if len(span.depths) > 1 else ()
    return Run("boxed eave", place, tuple(measures.items()), depths, row=side.row)


def _gutter(span: Span, side: Side, place: str) -> Run:
    ends = (span.before, span.behind)
    goes_on = span.behind.turn if span.behind.gutter_goes_on else None
    measures = {
        "length": _feet(span.edge),
        "drop": _feet(max(side.height or NONE, side.height_end or NONE)),
        **_counted(outside_corners=goes_on == "outside", inside_corners=goes_on == "inside"),
        "end_caps": Amount(Fraction(sum(not end.gutter_goes_on for end in ends))),
    }
    return Run("gutter run", place, tuple(measures.items()), row=side.row)


def _hang_together(draft: _Draft) -> None:
    """Tells each gutter of a body how much gutter it hangs together with comes before it, for a
    downspout serves all of that. Gutters all around begin where the walk does."""
    begins = [at for at, (_, span) in enumerate(draft.gutters) if not span.before.gutter_goes_on]
    first = begins[0] if begins else 0
    before = NONE
    for number, span in draft.gutters[first:] + draft.gutters[:first]:
        if not span.before.gutter_goes_on:
            before = NONE
        if before:
            run = draft.runs[number]
            told = (*run.measures, ("before", _feet(before)))
            draft.runs[number] = replace(run, measures=told)
        before += span.edge
    draft.gutters.clear()


def _rakes(draft: _Draft, body: Body, number: int, place: str) -> None:
    side = body.sides[number]
    where = side.row or place
    if side.pitch is None:
        draft.problems.append(Problem(where, "is a gable, but says no pitch; write it like 6/12"))
        return
    if side.interruptions:
        why = (
            "is a gable, and only a level eave is interrupted; give each slope's own part as a run"
        )
        draft.problems.append(Problem(side.interruptions[0].row or where, why))
        return
    if "inside" in (side_before(body, number)[1], side.corner):
        why = "is a gable beside an inside corner, and its ridge is taken to stand in its middle"
        if not draft.sure:
            instead = 'or say "open", and give its slopes and its triangle as runs of their own'
            draft.problems.append(Question(where, f"{why}; {IF_SO}, {instead}", (SURE,)))
            return
        draft.notes.append(f"{place}: {why}")
    if side.depth is None and not side.depths:
        instead = "say 0 where the roof ends at the wall"
        draft.lacks(side, place, "depth", "soffit and fascia up the slopes", instead)
        return
    if side.depth == 0:
        draft.notes.append(f"{place}: no soffit hangs up its slopes, and their fascia was left out")
        return
    if side.depths:
        why = "is a gable, and says several depths; say one, the smallest where they differ"
        draft.problems.append(Problem(where, why))
        return
    for foot in feet_of(body, number):
        measures = {
            "run": _feet(side.length / 2 + foot),
            "pitch": Amount(side.pitch),
            "depth": _inches(side.depth or NONE),
        }
        draft.runs.append(Run("rake", place, tuple(measures.items()), row=side.row))


# --- the walls --------------------------------------------------------------------------------


def _walls(draft: _Draft, body: Body, number: int, place: str) -> None:
    side = body.sides[number]
    if not side.siding:
        if side.openings:
            draft.notes.append(f"{place}: has no siding, so nothing goes around its openings")
        return
    if side.height is None:
        draft.lacks(side, place, "height", "siding", 'say siding "no" where it has none')
        return
    gable = side.top == "gable"
    if gable and side.height_end not in (None, side.height):
        why = (
            "is a gable, and ends at another height than it begins; a gable stands on a level line"
        )
        draft.problems.append(Problem(side.row or place, why))
        return
    openings, problems = openings_that_fit(side, place)
    draft.problems += problems
    above = tuple(one for one in openings if in_gable(side, one))
    below = tuple(one for one in openings if one not in above)
    if side.height or side.height_end:
        draft.runs.append(_wall(body, number, place, below))
    if gable and side.pitch is not None:
        measures = {
            "width": _feet(side.length),
            "pitch": Amount(side.pitch),
            **_area(above),
            **_counted(on_wall=bool(side.height)),
        }
        draft.runs.append(Run("gable wall", place, tuple(measures.items()), row=side.row))
    draft.runs += [_opening(one, place) for one in openings]


def _wall(body: Body, number: int, place: str, openings: tuple[Opening, ...]) -> Run:
    side = body.sides[number]
    ends = (side.height or NONE, (side.height if side.height_end is None else side.height_end))
    low, high = sorted(height or NONE for height in ends)
    doors = sum(
        (one.width * one.count for one in openings if one.kind == "door" and not one.sill),
        NONE,
    )
    measures = {
        "width": _feet(side.length),
        "height": _feet(high),
        **({"height_end": _feet(low), **_on_roof(side, low)} if low != high else {}),
        **_area(openings),
        **_counted(
            corners=posts_of(body, number, "outside"),
            inside_corners=posts_of(body, number, "inside"),
        ),
        **({"door_width": _feet(doors)} if doors else {}),
        **_counted(under_eave=side.top == "eave", under_roof=side.top == "open"),
    }
    return Run("wall", place, tuple(measures.items()), row=side.row)


def _on_roof(side: Side, low: Fraction) -> Measures:
    """A wall of two heights is a cheek on a roof where its top is level, or where it runs out to
    nothing; else its foot is level, and its top slopes."""
    return {"on_roof": Amount(Fraction(not low or side.top == "eave"))}


def _opening(opening: Opening, place: str) -> Run:
    measures = {
        "width": _inches(opening.width),
        "height": _inches(opening.height),
        "count": Amount(Fraction(opening.count)),
    }
    work = "door" if opening.kind == "door" else "window"
    if opening.kind not in ("window", "door"):
        # Water runs off a vent by its own louvers: no cap over its head.
        measures["cap"] = Amount(NONE)
    label = f"{place} {opening.name}" if opening.name else ""
    return Run(work, place, tuple(measures.items()), row=opening.row, label=label)


def _ceiling(ceiling: Ceiling) -> Run:
    measures = {
        "length": _feet(ceiling.length),
        "width": _feet(ceiling.width),
        **_counted(open_sides=ceiling.open_sides),
    }
    return Run("porch ceiling", ceiling.name, tuple(measures.items()), row=ceiling.row)


def _area(openings: tuple[Opening, ...]) -> Measures:
    area = sum((one.width * one.height * one.count for one in openings), NONE)
    return {"openings": Amount(area / 144, "ft2")} if area else {}


def _feet(inches: Fraction) -> Amount:
    return Amount(inches / 12, "ft")


def _inches(inches: Fraction) -> Amount:
    return Amount(inches, "in")


def _counted(**counts: int | bool) -> Measures:
    return {name: Amount(Fraction(number)) for name, number in counts.items() if number}
