"""Measured runs: from a spreadsheet, from options, and from what was dictated at a place.

Columns of a runs file: `work` and `place`; `depths` where the depth was measured more than once
("11 7/8; 12; 12 1/4" evenly from end to end, or "0: 11 7/8; 20: 12" with feet along the run);
`items` for stand-ins ("soffit panel: vented soffit panel"); and one column for each measure of the
kinds of work in it. Openings may be written as sizes ("3 x 4; 2 x 3"), a pitch as 6/12.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from joblog.catalog.amounts import amount_of, openings_of, pitch_of
from joblog.model import Amount, BookEntry, Depth, Problem, Run
from joblog.quantity import feet_and_inches, fraction_of, tape
from joblog.sheet import SheetError, opened
from joblog.takeoff.works import Work, Works, starter_works

DEEPEST = Fraction(48)
"""Inches; a dictated measure below it is a depth, any other the length of the run."""


def read_runs(
    source: str | Path, works: Works | None = None
) -> tuple[tuple[Run, ...], tuple[Problem, ...]]:
    """The runs of a spreadsheet, and one problem for every row that cannot be read (naming it).

    `source` is the text itself or a file. A row with a problem is left out whole.
    """
    runs: list[Run] = []
    problems: list[Problem] = []
    try:
        with opened(source, "runs") as (name, text):
            rows = csv.DictReader(text, skipinitialspace=True)
            columns = [_column(column) for column in rows.fieldnames or ()]
            rows.fieldnames = columns
            if "work" not in columns:
                return (), (Problem(name, _NO_WORK),)
            for number, row in enumerate(rows, 2):
                where = f"{name}, row {number}"
                try:
                    runs += _runs_in(row, works, where)
                except ValueError as error:
                    problems.append(Problem(where, str(error)))
    except SheetError as error:
        return (), (error.problem,)
    return tuple(runs), tuple(problems)


_NO_WORK = "has no column work; its first row must name the columns: work, place, length ..."


def _runs_in(row: Mapping[str | None, str | None], works: Works | None, where: str) -> list[Run]:
    """The run of a row, or none where the row is empty. Raises ValueError."""
    if None in row:
        raise ValueError("has more cells than the first row has names")
    cells = {key: (value or "").strip() for key, value in row.items() if key is not None}
    return [run_of(cells, works, where)] if any(cells.values()) else []


def run_of(cells: Mapping[str, str], works: Works | None = None, row: str = "") -> Run:
    """A run from text by column, as in a spreadsheet. Raises ValueError in words for a person."""
    known = starter_works() if works is None else works
    name = " ".join(cells.get("work", "").lower().split())
    work = known.get(name)
    if work is None:
        raise ValueError(f"there is no kind of work {name!r}; there are {', '.join(known)}")
    measures: dict[str, Amount] = {}
    for column, text in cells.items():
        if text and column not in ("work", "place", "depths", "items"):
            measures |= _measured(work, column, text, cells)
    return Run(
        name,
        " ".join(cells.get("place", "").lower().split()),
        tuple(measures.items()),
        _depths(work, cells),
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

    Only what a run lacks is filled in. At a place, a measure of less than four feet is a depth,
    where it was said to be ("at ten feet"), else in the order in which they were said, evenly from
    end to end; a longer one is the length.
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


def _column(name: str | None) -> str:
    return "_".join((name or "").strip().lower().split())


def _measured(work: Work, column: str, text: str, cells: Mapping[str, str]) -> dict[str, Amount]:
    measure = next((measure for measure in work.takes if measure.name == column), None)
    if measure is None:
        names = ", ".join(measure.name for measure in work.takes)
        raise ValueError(f"{work.name} takes no {column}; it takes {names}")
    try:
        if column == "pitch" and not measure.unit:
            return {column: pitch_of(text)}
        if column == "openings" and measure.unit == "ft2":
            area, edge = openings_of(text)
            takes_edge = any(measure.name == "around" for measure in work.takes)
            # What a person gives himself counts.
            return {column: area, **({"around": edge} if takes_edge and _blank(cells) else {})}
        amount = amount_of(text, measure.unit)
    except ValueError as error:
        raise ValueError(f"{column}: {error}") from None
    if amount.quantity < 0:
        raise ValueError(f"{column}: {text} is below zero")
    if not amount.quantity and not measure.zero:
        raise ValueError(f"{column} is zero")
    return {column: amount}


def _blank(cells: Mapping[str, str]) -> bool:
    return not cells.get("around")


def _depths(work: Work, cells: Mapping[str, str]) -> tuple[Depth, ...]:
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
            place = amount_of(at, "in" if _says_unit(at) else "ft") if colon else None
            deep = amount_of(depth, "in").quantity
            along = None if place is None else place.quantity * (1 if _says_unit(at) else 12)
        except ValueError as error:
            raise ValueError(f"depths: {error}") from None
        if deep <= 0:
            raise ValueError(f"depths: {depth.strip()} is no depth")
        depths.append(Depth(deep, along))
    return tuple(depths)


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
    takes = {measure.name: measure for measure in work.takes}
    missing = {name for name in takes if name not in dict(run.measures)}
    plain = [e.entry for e in entries if e.entry.item is None and e.entry.pieces is None]
    lengths = [said.inches for said in plain if said.inches and said.inches >= DEEPEST]
    shallow = [said for said in plain if said.inches and said.inches < DEEPEST]
    depths = [said.inches for said in shallow if said.inches]
    pitches = [said.pitch for said in plain if said.pitch]
    measures = dict(run.measures)
    if "length" in missing and lengths:
        if len(set(lengths)) > 1:
            shown = ", ".join(feet_and_inches(length) for length in lengths)
            notes.append(f"{run.place}: which length is it? These were said: {shown}")
        else:
            measures["length"] = Amount(lengths[0], "in")
            notes.append(f"{run.place}: length {feet_and_inches(lengths[0])} as dictated")
    if "pitch" in missing and pitches:
        if len(set(pitches)) > 1:
            notes.append(f"{run.place}: two pitches were said; give the right one")
        else:
            measures["pitch"] = Amount(pitches[0])
            notes.append(f"{run.place}: pitch {tape(pitches[0])} in 12 as dictated")
    if work.varies in missing and not run.depths and depths and takes[work.varies].unit == "in":
        shown = ", ".join(tape(depth) for depth in depths)
        places = [_along(said.note) for said in shallow]
        known = all(place is not None for place in places)
        evenly = ", taken as evenly from end to end" if len(depths) > 1 else ""
        where = f", at {', '.join(map(_feet, places))}" if known else evenly
        notes.append(f"{run.place}: depth {shown} in as dictated{where}")
        placed = places if known else [None] * len(depths)
        run = replace(run, depths=tuple(map(Depth, depths, placed)))
    return replace(run, measures=tuple(measures.items()))


def _along(note: str | None) -> Fraction | None:
    """Inches from the beginning of the run, where a depth was dictated with "at ten feet"."""
    found = re.fullmatch(r"at (\S+(?: \S+)?) ft", note or "")
    return fraction_of(found[1]) * 12 if found else None


def _feet(inches: Fraction | None) -> str:
    return feet_and_inches(inches or Fraction(0))
