"""What a job was like: temperature, depth of the eaves, crew."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from joblog.model import BookEntry, Conditions, Entry
from joblog.reconcile.units import crew_hours, total


def conditions_of(entries: Sequence[BookEntry]) -> Conditions:
    """Means over what was told and is not in doubt; None where nothing was."""
    certain = [kept.entry for kept in entries if not kept.open]
    hours = [(crew_hours(said.hours, said.workers), said.hours) for said in certain if said.hours]
    worked = total(alone for _, alone in hours)
    people = total(together for together, _ in hours)
    starts = [Fraction(said.workers or 1) for said in certain if said.kind == "start"]
    crew = people / worked if worked else _mean(starts)
    return Conditions(
        fahrenheit=_mean([said.fahrenheit for said in certain if said.fahrenheit is not None]),
        depth=_mean(_depths(certain)),
        crew=None if crew is None else max(1, round(crew)),
    )


def _depths(certain: Sequence[Entry]) -> list[Fraction]:
    """What was said to be a depth; where nothing was, short lengths that may be one."""
    # A take-off knows far more than this; squaring up starts quicker without.
    from joblog.takeoff.runs import DEEPEST

    short = [
        said
        for said in certain
        if said.kind == "measure" and said.inches is not None and 0 < said.inches < DEEPEST
    ]
    called = [said.inches for said in short if said.dimension in ("depth", "overhang")]
    unnamed = [said.inches for said in short if said.dimension is None and said.pieces is None]
    return [inches for inches in called or unnamed if inches is not None]


def _mean(amounts: Sequence[Fraction]) -> Fraction | None:
    return total(amounts) / len(amounts) if amounts else None
