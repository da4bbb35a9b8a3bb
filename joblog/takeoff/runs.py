"""Measured runs: from a spreadsheet, from options, and from what was dictated at a place.

Columns of a runs file: `work` and `place`; `depths` where the depth was measured more than once
("11 7/8; 12; 12 1/4" evenly from end to end, or "0: 11 7/8; 20: 12" with feet along the run);
`items` for stand-ins ("soffit panel: vented soffit panel"); and one column for each measure of the
kinds of work in it. Openings may be written as sizes ("3 x 4; 2 x 3"), a pitch as 6/12.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

from joblog.catalog.amounts import amount_of, openings_of, pitch_of
from joblog.model import Amount, BookEntry, Depth, Entry, Problem, Run
from joblog.quantity import feet_and_inches, fraction_of, tape
from joblog.reason import check
from joblog.sheet import AS_IT_IS, Columns, Reading, each_row, read_sheet
from joblog.takeoff.works import Measure, Work, Works, starter_works

DEEPEST = Fraction(48)
"""Inches; a measure of which nobody said what it is may be a depth below it, else a length."""


def read_runs(
    source: str | Path, works: Works | None = None, reading: Reading = AS_IT_IS
) -> tuple[tuple[Run, ...], tuple[Problem, ...]]:
    """The runs of a spreadsheet, and one problem for every row that cannot be read (naming it).

    `source` is the text itself or a file. A row with a problem is left out whole.
    """
    known = starter_works() if works is None else works
    sheet = read_sheet(source, "runs", _columns(known), reading)
    how = How(sheet.decimal, reading.sure)
    runs: list[Run] = []
    problems = each_row(sheet, lambda row: runs.append(run_of(row.cells, known, row.where, how)))
    return tuple(runs), problems


def _columns(works: Works) -> Columns:
    """Those of runs, and one for each measure of the kinds of work."""
    measures = dict.fromkeys(measure.name for work in works.values() for measure in work.takes)
    return Columns(
        "a list of runs",
        ("work", "place", "depths", "items", *measures),
        required=("work",),
        alike={
            "places": "place",
            "works": "work",
            # Told of row by row, with what to write in their place.
            **{name: name for work in works.values() for name, _ in work.gone},
        },
        perhaps={
            "kind": "work",
            "type": "work",
            "where": "place",
            "name": "place",
            "side": "place",
            "feet": "length",
            "long": "length",
            "deep": "depth",
            "overhang": "depth",
            "wide": "width",
            "high": "height",
            "slope": "pitch",
            "rise": "pitch",
            "windows": "openings",
            "stand-ins": "items",
            "temperature": "fahrenheit",
        },
        words=("work", "place", "items"),
    )


@dataclass(frozen=True, slots=True)
class How:
    """How the numbers of a run are read."""

    decimal: str = "."
    sure: bool = False
    """Whether numbers beyond reason are meant as they are."""


AS_TYPED = How()


def run_of(
    cells: Mapping[str, str], works: Works | None = None, row: str = "", how: How = AS_TYPED
) -> Run:
    """A run from text by column, as in a spreadsheet. Raises ValueError in words for a person."""
    known = starter_works() if works is None else works
    name = " ".join(cells.get("work", "").lower().split())
    work = known.get(name)
    if work is None:
        raise ValueError(f"there is no kind of work {name!r}; there are {', '.join(known)}")
    measures: dict[str, Amount] = {}
    for column, text in cells.items():
        if text and column not in ("work", "place", "depths", "items"):
            measures |= _measured(work, column, text, cells, how)
    return Run(
        name,
        " ".join(cells.get("place", "").lower().split()),
        tuple(measures.items()),
        _depths(work, cells, how),
        _stand_ins(cells.get("items", "")),
        row,
    )


def with_usual(
    runs: Sequence[Run], works: Works | None = None, **usual: int | Fraction
) -> tuple[Run, ...]:
    """The runs with bare numbers that hold for all of them, where their work takes such and the
    run does not say otherwise: `with_usual(runs, fahrenheit=35)`."""
    known = starter_works() if works is None else works
    filled = []
    for run in runs:
        said = dict(run.measures)
        takes = [measure.name for measure in known[run.work].takes]
        more = tuple(
            (name, Amount(Fraction(number)))
            for name, number in usual.items()
            if name in takes and name not in said
        )
        filled.append(replace(run, measures=(*run.measures, *more)))
    return tuple(filled)


def as_dictated(
    runs: Sequence[Run], entries: Sequence[BookEntry], works: Works | None = None
) -> tuple[tuple[Run, ...], tuple[str, ...]]:
    """The runs with length, depths and pitch filled in from what was measured at their places.

    Only what a run lacks is filled in, by what each measure was said to be of: depth, length,
    width, pitch. One of which nobody said what it is is taken only where it can be nothing else:
    for the length where it is longer than four feet, for the depth where it is shorter and like the
    others, and then only where none was said by its name. Depths stand where they were said to be
    ("at ten feet"), else in the order in which they were said, evenly from end to end.
    Measures that are doubtful, dropped, of an item or of a number of pieces are left alone; so is
    one that a change still waiting for a decision ("scratch that") may take back. Also gives a line
    for a person on each run: what was taken, and what was left alone and why.
    """
    known = starter_works() if works is None else works
    filled, notes = [], []
    measures = _with_doubt(entries)
    for run in runs:
        mine = [
            (entry, doubt)
            for entry, doubt in measures
            if entry.entry.kind == "measure"
            and entry.standing != "dropped"
            and (entry.entry.place or "").lower() == run.place
        ]
        doubtful = sum(doubt for _, doubt in mine)
        if doubtful:
            were = (
                "measure is doubtful and was" if doubtful == 1 else "measures are doubtful and were"
            )
            notes.append(f"{run.place}: {doubtful} {were} left out; settle it first")
        settled = [entry for entry, doubt in mine if not doubt]
        filled.append(_filled(run, known[run.work], settled, notes))
    return tuple(filled), tuple(notes)


def _with_doubt(entries: Sequence[BookEntry]) -> list[tuple[BookEntry, bool]]:
    """What stands, and whether it is open or may be taken back by an open change after it."""
    found: list[tuple[BookEntry, bool]] = []
    for entry in entries:
        if entry.standing == "dropped":
            continue
        if entry.entry.kind != "correction":
            found.append((entry, entry.open))
        elif entry.open and found:
            found[-1] = (found[-1][0], True)
    return found


# --- cells ------------------------------------------------------------------------------------


def _measured(
    work: Work, column: str, text: str, cells: Mapping[str, str], how: How
) -> dict[str, Amount]:
    measure = next((measure for measure in work.takes if measure.name == column), None)
    if measure is None:
        raise ValueError(f"{work.name} {work.takes_no(column)}")
    amount, around = _read_as(measure, text, how)
    # What a person gives himself counts.
    wanted = around is not None and _blank(cells) and _takes(work, "around")
    return {column: amount, **({"around": around} if around is not None and wanted else {})}


def _takes(work: Work, name: str) -> bool:
    return any(measure.name == name for measure in work.takes)


def amount_given(measure: Measure, text: str, how: How = AS_TYPED) -> Amount:
    """What somebody gives of a measure. Raises ValueError, in words: for what cannot be, and for
    what hardly anybody means."""
    return _read_as(measure, text, how)[0]


def _read_as(measure: Measure, text: str, how: How) -> tuple[Amount, Amount | None]:
    """The amount, and the edge of what was given as openings."""
    around = None
    try:
        if measure.name == "pitch" and not measure.unit:
            amount = pitch_of(text, decimal=how.decimal)
        elif measure.name == "openings" and measure.unit == "ft2":
            amount, around = openings_of(text, decimal=how.decimal)
        else:
            amount = amount_of(text, measure.unit, decimal=how.decimal)
    except ValueError as error:
        raise ValueError(f"{measure.name}: {error}") from None
    if amount.quantity < 0:
        raise ValueError(f"{measure.name}: {text} is below zero")
    if amount.quantity:
        check(
            measure.name,
            amount.quantity,
            measure.unit,
            sure=how.sure,
            least=measure.least,
            most=measure.most,
        )
    elif not measure.zero:
        raise ValueError(f"{measure.name} is zero")
    return amount, around


def _blank(cells: Mapping[str, str]) -> bool:
    return not cells.get("around")


def _depths(work: Work, cells: Mapping[str, str], how: How) -> tuple[Depth, ...]:
    text = cells.get("depths", "")
    if not text:
        return ()
    if not work.varies:
        raise ValueError(f"{work.name} is measured once; leave depths empty")
    if cells.get(work.varies):
        raise ValueError(f"has both {work.varies} and depths; give one of them")
    depths = []
    for part in filter(None, map(str.strip, text.split(";"))):
        at, colon, depth = part.rpartition(":")
        try:
            along = _from_start(at, how) if colon else None
            deep = amount_of(depth, "in", decimal=how.decimal).quantity
        except ValueError as error:
            raise ValueError(f"depths: {error}") from None
        if deep <= 0:
            raise ValueError(f"depths: {depth.strip()} is no depth")
        check("depth", deep, "in", sure=how.sure)
        depths.append(Depth(deep, along))
    return tuple(depths)


def _from_start(text: str, how: How) -> Fraction:
    """Inches from the beginning of the run; a bare number is feet."""
    unit, inches = ("in", 1) if _says_unit(text) else ("ft", 12)
    return amount_of(text, unit, decimal=how.decimal).quantity * inches


def _says_unit(text: str) -> bool:
    return any(sign.isalpha() or sign in "'\"" for sign in text)


def _stand_ins(text: str) -> tuple[tuple[str, str], ...]:
    pairs = []
    for part in filter(None, map(str.strip, text.split(";"))):
        usual, colon, other = part.partition(":")
        if not colon or not usual.strip() or not other.strip():
            raise ValueError(f"items: {part!r} is written like soffit panel: vented soffit panel")
        pairs.append((" ".join(usual.lower().split()), " ".join(other.lower().split())))
    return tuple(pairs)


# --- dictated ---------------------------------------------------------------------------------


def _filled(run: Run, work: Work, entries: Sequence[BookEntry], notes: list[str]) -> Run:
    said = [e.entry for e in entries if e.entry.pieces is None and _is_of_run(e.entry, work)]
    lacking = {
        measure.name: measure
        for measure in work.takes
        if measure.name not in dict(run.measures)
        and not (measure.name == work.varies and run.depths)
    }
    told = _Told(run, work, lacking, dict(run.measures))
    named: dict[str, list[Entry]] = {}
    for entry in said:
        if entry.pitch:
            named.setdefault("pitch", []).append(entry)
        elif entry.inches:
            named.setdefault(entry.dimension or "", []).append(entry)
    unnamed = named.pop("", [])
    for name, entries_of in named.items():
        told.take(name, entries_of)
    told.guess(unnamed, named)
    notes.extend(f"{run.place}: {line}" for line in told.lines)
    return replace(run, measures=tuple(told.measures.items()), depths=told.depths or run.depths)


@dataclass
class _Told:
    """What was dictated of a run, as far as it is told."""

    run: Run
    work: Work
    lacking: Mapping[str, Measure]
    """What the work takes and the run does not have yet."""
    measures: dict[str, Amount]
    depths: tuple[Depth, ...] = ()
    lines: list[str] = field(default_factory=list)
    """For a person."""

    def take(self, name: str, said: Sequence[Entry], how: str = "as dictated") -> None:
        """Fills in the measure of that name, or says why not."""
        if name not in {measure.name for measure in self.work.takes}:
            shown = ", ".join(map(_shown, said))
            self.lines.append(f"{name} {shown} left alone: {self.work.name} takes no {name}")
        elif name not in self.lacking:
            return
        elif name == self.work.varies:
            self._take_depths(name, said, how)
        elif len({entry.pitch or entry.inches for entry in said}) > 1:
            shown = ", ".join(map(_shown, said))
            self.lines.append(f"which {name} is it? These were said: {shown}")
        else:
            number = said[0].pitch or said[0].inches or Fraction(0)
            self.measures[name] = Amount(number, "" if said[0].pitch else "in")
            self.lines.append(f"{name} {_shown(said[0])} {how}")

    def guess(self, said: Sequence[Entry], named: Collection[str]) -> None:
        """Measures of which nobody said what they are: taken where they can be nothing else."""
        shallow = [entry for entry in said if (entry.inches or 0) < DEEPEST]
        long = [entry for entry in said if (entry.inches or 0) >= DEEPEST]
        wanted = [measure for measure in self.lacking.values() if measure.needed]
        of_feet = [measure.name for measure in wanted if measure.unit == "ft"]
        varies = self.lacking.get(self.work.varies)
        deep = varies is not None and varies.unit == "in"
        for group, name, only in (
            (long, "length", of_feet == ["length"]),
            (shallow, self.work.varies, deep and _may_be_one(shallow)),
        ):
            if not group or (name not in self.lacking and name not in named):
                continue
            if only and name not in named:
                self.take(name, group, f"as dictated, taken to be the {name}")
            else:
                shown = ", ".join(map(_shown, group))
                self.lines.append(
                    f"{shown} left alone: say what it is, such as {name or 'width'!r}"
                )

    def _take_depths(self, name: str, said: Sequence[Entry], how: str) -> None:
        places = [_along(entry.note) for entry in said]
        known = all(place is not None for place in places)
        evenly = ", evenly from end to end" if len(said) > 1 else ""
        where = f", at {', '.join(map(_feet, places))}" if known else evenly
        shown = ", ".join(tape(entry.inches or Fraction(0)) for entry in said)
        self.lines.append(f"{name} {shown} in {how}{where}")
        placed = places if known else [None] * len(said)
        self.depths = tuple(
            Depth(entry.inches or Fraction(0), place)
            for entry, place in zip(said, placed, strict=True)
        )


def _is_of_run(entry: Entry, work: Work) -> bool:
    """Whether a measure is of the run and not of an item; the depth of its soffit is the run's."""
    if entry.item is None:
        return True
    across = [use.item for use in work.uses if use.pieces]
    of_pieces = any(f" {entry.item}".endswith(f" {item}") for item in across)
    return of_pieces and bool(work.varies) and entry.dimension == work.varies


def _may_be_one(said: Sequence[Entry]) -> bool:
    """True where short measures may all be one depth along the run: a reveal among them is not.

    A depth that wanders to twice as much is none (common practice); one that was said with its
    place along the run is.
    """
    inches = [entry.inches or Fraction(0) for entry in said if _along(entry.note) is None]
    return not inches or max(inches) < 2 * min(inches)


def _shown(entry: Entry) -> str:
    if entry.pitch:
        return f"{tape(entry.pitch)} in 12"
    inches = entry.inches or Fraction(0)
    return feet_and_inches(inches) if inches >= DEEPEST else f"{tape(inches)} in"


def _along(note: str | None) -> Fraction | None:
    """Inches from the beginning of the run, where a depth was dictated with "at ten feet"."""
    found = re.fullmatch(r"at (\S+(?: \S+)?) ft", note or "")
    return fraction_of(found[1]) * 12 if found else None


def _feet(inches: Fraction | None) -> str:
    return feet_and_inches(inches or Fraction(0))
