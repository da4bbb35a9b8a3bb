"""A house from a walk around it that was told aloud: its sides, corners and openings in order."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from joblog.form import describe
from joblog.house.walk import outline
from joblog.model import (
    WALK_KINDS,
    Body,
    BookEntry,
    Ceiling,
    Corner,
    Depth,
    Entry,
    House,
    Interruption,
    Opening,
    Problem,
    Side,
    Top,
)
from joblog.quantity import feet_and_inches, fraction_of, tape


@dataclass(frozen=True, slots=True)
class Dictated:
    """What was told of a house."""

    house: House
    """Bodies of whose walk nothing is missing or in doubt, and ceilings."""
    problems: tuple[Problem, ...] = ()
    """What is missing or in doubt, and what to say or settle; a body with one is left out."""
    notes: tuple[str, ...] = ()
    """What else was not said, or was said and not used: what needs it will ask for it."""


def house_told(entries: Sequence[BookEntry]) -> Dictated:
    """The house that the standing `entries` of a job tell, in the order in which they were said.

    A walk begins with the last side that was measured before a corner, or where it was said to
    begin at a wall; a place that is named again means that side. An entry that is open, or that an
    open change may take back, counts nowhere and is told.
    """
    walk = _Walk()
    for kept, open_ in _standing(entries):
        walk.take(kept, open_=open_)
    walk.stop()
    bodies, problems, lacks = [], [*walk.problems], _Lacks()
    for number, told in enumerate(walk.bodies):
        name = "main" if number == 0 else _named_after(told.sides) or f"body {number + 1}"
        body, wrong = _body(told, name, lacks, first=number == 0)
        problems += wrong
        if body is not None and not (wrong or told.open):
            bodies.append(body)
    if not (walk.bodies or walk.ceilings):
        problems.append(Problem("the house", _NOTHING))
    gutters = (_NO_GUTTERS,) if bodies else ()
    house = House(tuple(bodies), tuple(walk.ceilings.values()), walk.attic)
    return Dictated(house, tuple(problems), (*dict.fromkeys(walk.notes), *lacks.told(), *gutters))


_NO_GUTTERS = (
    "where gutters hang is not told aloud: say it in the column gutter of what joblog house --csv "
    "prints"
)
_NOTHING = (
    "nobody has told a walk around it; say each side and the corner behind it: front eave forty "
    "two feet, outside corner"
)


@dataclass
class _Told:
    """One side as far as it is told."""

    place: str
    entry: int
    length: Fraction | None
    """None where its measure is open."""
    tops: list[Top] = field(default_factory=list)
    heights: list[Fraction] = field(default_factory=list)
    depths: list[Depth] = field(default_factory=list)
    pitches: list[Fraction] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    interruptions: list[Interruption] = field(default_factory=list)
    corner: Corner | None = None
    """None while nobody said what is behind it, or where that is open."""
    turned: bool = False
    """Whether something was said to be behind it, though it may be open."""


@dataclass
class _Round:
    """One walk, of one body."""

    sides: list[_Told] = field(default_factory=list)
    from_a_wall: bool = False
    around: bool = False
    over: bool = False
    open: bool = False
    """Whether something of it waits for a decision."""
    of_all: list[Entry] = field(default_factory=list)
    """Said of all its walls, eaves or gables."""
    problems: list[Problem] = field(default_factory=list)


@dataclass
class _Walk:
    """All walks of a job, as far as they are told."""

    bodies: list[_Round] = field(default_factory=list)
    ceilings: dict[str, Ceiling] = field(default_factory=dict)
    attic: Fraction | None = None
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    coming: _Told | None = None
    """A side before any corner: the walk may begin with it."""
    side: _Told | None = None
    """The side under way."""
    of_all: list[Entry] = field(default_factory=list)
    """Said of all walls before any corner."""
    first_open: BookEntry | None = None
    """The measure of the side that comes, where it is open."""

    def take(self, kept: BookEntry, *, open_: bool) -> None:
        """Takes in the next entry that stands."""
        entry = kept.entry
        if entry.kind == "corner":
            self._turn(kept, open_)
        elif entry.kind == "measure":
            self._measure(kept, open_)
        elif entry.kind in WALK_KINDS:
            side = self._side_of(entry)
            if side is None:
                self._lost(kept)
            elif open_:
                self._wait(kept)
            else:
                self._put(side, kept)

    def stop(self) -> None:
        """Closes what is not closed: nothing more is told."""
        for told in self.bodies:
            if not told.over:
                _close(told)
        if self.coming is not None and self.coming.tops and self.bodies:
            why = f"{self.coming.place}: no corner was said behind it; it is not in the house"
            self.problems.append(Problem(f"entry {self.coming.entry}", why))

    # --- corners

    def _turn(self, kept: BookEntry, open_: bool) -> None:
        corner = kept.entry.corner
        body = self._under_way()
        if corner == "end" and body is None and self.coming is None:
            self.bodies.append(_Round(from_a_wall=True))
            self.side = None
            return
        if body is None:
            if self.coming is None:
                self._lost(kept)
                return
            body = _Round([self.coming], of_all=self.of_all)
            self.of_all = []
            self.bodies.append(body)
            self.side, self.coming = self.coming, None
            if self.first_open is not None:
                self._wait(self.first_open)
        if open_:
            self._wait(kept)
        if corner == "around":
            body.around, body.over = True, True
            if not (body.sides and body.sides[-1].turned):
                _deduce(body)
            return
        if not body.sides:
            body.problems.append(_at(kept, "a corner, and no side before it"))
            return
        side = body.sides[-1]
        if side.turned:
            why = f"two corners in a row behind {side.place}: say the side between them"
            body.problems.append(_at(kept, why))
            return
        side.turned = True
        if not open_ and corner is not None:
            side.corner = corner
        if corner == "end":
            body.over = True

    def _under_way(self) -> _Round | None:
        return self.bodies[-1] if self.bodies and not self.bodies[-1].over else None

    # --- measures

    def _measure(self, kept: BookEntry, open_: bool) -> None:
        entry = kept.entry
        place = entry.place or ""
        if entry.square_inches is not None:
            self._area(kept, open_)
            return
        if entry.pieces or (entry.item and not _is_of_a_soffit(entry)):
            return
        if _is_a_length(entry):
            self._length(kept, open_)
            return
        if place in _ALL_OF and "place" not in entry.carried and not open_:
            told = self.bodies[-1] if self.bodies and self.coming is None else None
            (self.of_all if told is None else told.of_all).append(entry)
            if entry.inches is not None and entry.dimension not in ("height", *_DEEP):
                self._unused(kept)
            return
        side = self._side_of(entry)
        if side is None:
            return
        if open_:
            self._wait(kept)
            return
        if entry.top is not None:
            side.tops.append(entry.top)
        if entry.pitch is not None:
            side.pitches.append(entry.pitch)
        elif entry.inches is not None:
            self._dimension(side, kept)

    def _dimension(self, side: _Told, kept: BookEntry) -> None:
        entry, inches = kept.entry, kept.entry.inches
        assert inches is not None
        if entry.dimension == "height":
            side.heights.append(inches)
        elif entry.dimension in _DEEP or _is_of_a_soffit(entry):
            side.depths.append(Depth(inches, _along(entry.note)))
        elif self._is_walked(side):
            self._unused(kept)

    def _unused(self, kept: BookEntry) -> None:
        line = f"entry {kept.id}, {describe(kept.entry)}: not used; say what it is of"
        self.notes.append(line)

    def _length(self, kept: BookEntry, open_: bool) -> None:
        entry, place = kept.entry, kept.entry.place or ""
        body = self._under_way()
        length = None if open_ else entry.inches
        side = _Told(place, kept.id, length, [entry.top] if entry.top else [])
        if body is None:
            known = self._called(place)
            if known is not None and not open_:
                self._again(known, kept)
                return
            self.coming, self.side = side, None
            self.first_open = kept if open_ else None
            return
        if open_:
            self._wait(kept)
        last = body.sides[-1] if body.sides else None
        if last is None or last.turned:
            body.sides.append(side)
            self.side = side
            return
        if last.place == place:
            self._again(last, kept)
            return
        known = next((one for one in body.sides if one.place == place), None)
        if known is not None and entry.inches == known.length:
            return
        why = f"no corner was said between {last.place} and {place}"
        body.problems.append(_at(kept, why))
        last.turned = True
        body.sides.append(side)
        self.side = side

    def _again(self, side: _Told, kept: BookEntry) -> None:
        """A side whose length is said once more."""
        entry = kept.entry
        if entry.top is not None:
            side.tops.append(entry.top)
        if side.length is None:
            side.length = entry.inches
        elif entry.inches != side.length and entry.inches is not None:
            body = next(one for one in self.bodies if side in one.sides)
            lengths = f"{feet_and_inches(side.length)} and {feet_and_inches(entry.inches)}"
            why = f"{side.place} was said to be {lengths} long: drop the one that is wrong"
            if not body.over:
                body.problems.append(_at(kept, why))
            else:
                self.notes.append(
                    f"entry {kept.id}, {describe(entry)}: said after the walk, and not used"
                )

    def _area(self, kept: BookEntry, open_: bool) -> None:
        entry, place = kept.entry, kept.entry.place or ""
        if "ceiling" not in place.split() and "attic" not in place.split():
            return
        if open_:
            self._wait(kept, of_a_walk=False)
        elif "attic" in place.split():
            if self.attic not in (None, entry.square_inches):
                self.problems.append(_at(kept, "two sizes of the attic were said: drop one"))
            self.attic = entry.square_inches
        elif entry.width is None or entry.height is None:
            why = f"{place}: say how long and how wide it is, not only its area"
            self.problems.append(_at(kept, why))
        else:
            length, width = max(entry.width, entry.height), min(entry.width, entry.height)
            name = " ".join(word for word in place.split() if word != "ceiling") or "ceiling"
            before = self.ceilings.get(name)
            if before is not None and (before.length, before.width) != (length, width):
                self.problems.append(_at(kept, f"two sizes of {place} were said: drop one"))
            self.ceilings[name] = Ceiling(name, length, width, row=f"entry {kept.id}")

    # --- what belongs to a side

    def _called(self, place: str) -> _Told | None:
        every = [side for body in self.bodies for side in body.sides]
        return next((side for side in reversed(every) if side.place == place), None)

    def _side_of(self, entry: Entry) -> _Told | None:
        """The side that an entry tells of: the one of its place, else the one under way."""
        place = entry.place or ""
        if self.coming is not None and self.coming.place == place:
            return self.coming
        if self.side is not None and self.side.place == place:
            return self.side
        known = self._called(place)
        if known is not None:
            return known
        general = "place" in entry.carried or not place or place in _ANY_WALL
        if general or entry.kind in WALK_KINDS:
            return self.side or self.coming
        return None

    def _is_walked(self, side: _Told) -> bool:
        return side is not self.coming

    def _put(self, side: _Told, kept: BookEntry) -> None:
        entry, row = kept.entry, f"entry {kept.id}"
        if entry.kind == "wall_opening":
            if entry.width is None or entry.height is None:
                self._wait(kept)
                return
            kind = entry.opening or "other"
            count = entry.pieces or 1
            side.openings.append(
                Opening(kind, entry.width, entry.height, count, entry.note or "", entry.at, row=row)
            )
        elif entry.at is None or entry.length is None:
            self._wait(kept)
        else:
            what = entry.note or "something"
            side.interruptions.append(Interruption(what, entry.at, entry.length, row=row))

    def _wait(self, kept: BookEntry, *, of_a_walk: bool = True) -> None:
        """Tells that an entry counts nowhere yet; the body that it is of is not whole."""
        self.problems.append(
            _at(kept, f"{describe(kept.entry)}: in doubt, and counts nowhere; settle it first")
        )
        if of_a_walk and self.bodies:
            self.bodies[-1].open = True

    def _lost(self, kept: BookEntry) -> None:
        why = f"{describe(kept.entry)}: said of no side; say the side before it"
        self.problems.append(_at(kept, why))


_ANY_WALL = (
    "wall",
    "walls",
    "eaves",
    "gables",
    "rakes",
    "sides",
    "window",
    "windows",
    "door",
    "doors",
    "eave",
    "gable",
    "side",
    "here",
)
"""Places that name no side: the one under way is meant."""


_ALL_OF: dict[str, tuple[Top, ...]] = {
    "walls": ("eave", "gable", "open"),
    "sides": ("eave", "gable", "open"),
    "eaves": ("eave",),
    "gables": ("gable",),
    "rakes": ("gable",),
}
"""Places that mean every wall of the walk that ends so."""


def _standing(entries: Iterable[BookEntry]) -> list[tuple[BookEntry, bool]]:
    """What stands, and whether it is open or may be taken back by an open change after it."""
    found: list[tuple[BookEntry, bool]] = []
    for kept in entries:
        if kept.standing == "dropped":
            continue
        if kept.entry.kind != "correction":
            found.append((kept, kept.open))
        elif kept.open and kept.entry.back < len(found):
            at = len(found) - 1 - kept.entry.back
            found[at] = (found[at][0], True)
    return found


def _at(kept: BookEntry, why: str) -> Problem:
    return Problem(f"entry {kept.id}", why)


def _is_a_length(entry: Entry) -> bool:
    return (
        entry.inches is not None
        and entry.inches >= SHORTEST
        and entry.dimension in (None, "length")
        and entry.item is None
        and bool(entry.place)
        and entry.place not in _ANY_WALL
    )


_DEEP = ("depth", "overhang")
"""What a measure of a soffit is called across the wall."""
SHORTEST = 12
"""Inches of a side of a house; common practice."""


def _is_of_a_soffit(entry: Entry) -> bool:
    return "soffit" in (entry.item or "").split() and entry.dimension in (None, "depth", "overhang")


def _along(note: str | None) -> Fraction | None:
    """Inches from where the side begins, of "at ten feet"."""
    found = re.fullmatch(r"at (\S+(?: \S+)?) ft", note or "")
    return fraction_of(found[1]) * 12 if found else None


# --- the end of a walk ----------------------------------------------------------------------------


def _turns_of(body: _Round) -> int:
    corners = [side.corner for side in body.sides]
    return corners.count("outside") - corners.count("inside")


def _deduce(body: _Round) -> None:
    """The corner that leads back to the beginning, where nobody said it: a walk that comes back
    turns outward four times more than inward."""
    if not body.sides:
        return
    last, turns = body.sides[-1], _turns_of(body)
    known = all(side.corner is not None for side in body.sides[:-1])
    if known and turns in _LACKING:
        last.corner, last.turned = _LACKING[turns], True
    else:
        why = f"which corner is behind {last.place}? Nobody said it"
        body.problems.append(Problem(f"entry {last.entry}", why))


_LACKING: dict[int, Corner] = {3: "outside", 5: "inside"}


def _close(body: _Round) -> None:
    """A walk of which nobody said that it is over: so it is only where it comes back exactly."""
    last = body.sides[-1] if body.sides else None
    if last is None:
        body.problems.append(Problem("the walk", "begins at a wall, and no side follows"))
        return
    lengths = [side.length for side in body.sides]
    whole = None not in lengths and all(side.corner is not None for side in body.sides)
    if whole and _turns_of(body) == 4:
        sides = tuple(
            Side(one.place, one.length or Fraction(0), corner=one.corner or "end")
            for one in body.sides
        )
        if outline(Body("", sides)).missing == (Fraction(0), Fraction(0)):
            body.over = True
            return
    why = f"the walk stops behind {last.place}: go on, or say that's all the way around"
    body.problems.append(Problem(f"entry {last.entry}", why))


# --- what was told, as a body ---------------------------------------------------------------------


class _Lacks(dict[str, list[str]]):
    """What nobody said, and of which sides."""

    def told(self) -> Iterator[str]:
        for what, sides in self.items():
            yield f"nobody said {what} of {', '.join(sides)}"


def _body(
    told: _Round, name: str, lacks: _Lacks, *, first: bool
) -> tuple[Body | None, list[Problem]]:
    """The body, and what its walk lacks; what only its sides lack is added to `lacks`."""
    problems = [*told.problems]
    seen: dict[str, int] = {}
    sides = []
    for side in told.sides:
        called = side.place if first else _without(side.place, name)
        seen[called] = seen.get(called, 0) + 1
        many = f" {seen[called]}" if seen[called] > 1 else ""
        made, wrong = _side(_with_all(side, told.of_all), f"{called}{many}", lacks)
        problems += wrong
        if made is not None:
            sides.append(made)
    if told.from_a_wall and not told.around and sides and sides[-1].corner != "end":
        why = f"the walk begins at a wall; say where it ends behind {sides[-1].name}"
        problems.append(Problem(f"entry {told.sides[-1].entry}", why))
    return (Body(name, tuple(sides)) if sides else None), problems


def _with_all(side: _Told, of_all: Sequence[Entry]) -> _Told:
    """The side with what was said of all like it and not of itself."""
    top = _top_of(side)
    said = [entry for entry in of_all if top in _ALL_OF[entry.place or ""]]
    heights = [one.inches for one in said if one.dimension == "height" and one.inches is not None]
    depths = [
        Depth(one.inches) for one in said if one.dimension in _DEEP and one.inches is not None
    ]
    pitches = [one.pitch for one in said if one.pitch is not None]
    return replace(
        side,
        heights=side.heights or heights,
        depths=side.depths or depths,
        pitches=side.pitches or pitches,
    )


def _side(told: _Told, name: str, lacks: _Lacks) -> tuple[Side | None, list[Problem]]:
    row = f"entry {told.entry}"
    problems = []

    def ask(why: str) -> None:
        problems.append(Problem(row, f"{told.place}: {why}"))

    top = _top_of(told)
    if top is None:
        ask(
            "eave or gable? Nobody said it"
            if not told.tops
            else f"{' and '.join(dict.fromkeys(told.tops))} were said: drop the one that is wrong"
        )
    every = dict.fromkeys(told.heights)
    height = next(iter(every), None)
    if len(every) > 1:
        ask(f"heights of {_all(every)} were said: drop what is wrong")
    elif height is None:
        lacks.setdefault("the height", []).append(name)
    depth, depths = _depths_of(told)
    if not told.depths and top != "open":
        lacks.setdefault("the depth of the soffit", []).append(name)
    pitch = next(iter(told.pitches), None)
    if len({*told.pitches}) > 1:
        ask(f"pitches of {', '.join(tape(one) for one in told.pitches)} in 12 were said")
    elif top == "gable" and pitch is None:
        lacks.setdefault("the pitch", []).append(name)
    if told.corner is None and not told.turned:
        ask("nobody said what corner is behind it")
    if told.length is None or told.corner is None or top is None:
        return None, problems
    return (
        Side(
            name,
            told.length,
            top,
            told.corner,
            height=height,
            depth=depth,
            depths=depths,
            pitch=pitch if top == "gable" else None,
            openings=tuple(told.openings),
            interruptions=tuple(told.interruptions),
            row=row,
        ),
        problems,
    )


def _all(inches: Iterable[Fraction]) -> str:
    return " and ".join(map(feet_and_inches, inches))


def _top_of(told: _Told) -> Top | None:
    said = set(told.tops)
    if len(said) == 1:
        return said.pop()
    if said:
        return None
    words = told.place.split()
    return next((top for word, top in _TOPS.items() if word in words), None)


_TOPS: dict[str, Top] = {"eave": "eave", "eaves": "eave", "gable": "gable", "rake": "gable"}
"""What the name of a side tells of its wall."""


def _depths_of(told: _Told) -> tuple[Fraction | None, tuple[Depth, ...]]:
    if len({one.depth for one in told.depths}) > 1:
        placed = all(one.at is not None for one in told.depths)
        every = told.depths if placed else [Depth(one.depth) for one in told.depths]
        return None, tuple(every)
    return (told.depths[0].depth if told.depths else None), ()


def _named_after(sides: Sequence[_Told]) -> str:
    """The part of the house that all sides are named after: "dormer"."""
    words = [side.place.split() for side in sides]
    return next((part for part in _BODIES if words and all(part in each for each in words)), "")


_BODIES = ("dormer", "porch", "garage", "addition", "shed", "chimney", "carport")


def _without(place: str, name: str) -> str:
    return " ".join(word for word in place.split() if word != name) or place
