"""What a person may settle of a table before it is read: a column, a sign, a number."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Literal

from joblog.model import Problem
from joblog.service.catalog import catalog_at
from joblog.service.errors import use_case
from joblog.service.places import Place
from joblog.sheet import AS_IT_IS, Question, Reading

Kind = Literal["plan", "catalog", "runs", "house", "pieces", "earlier jobs"]


@use_case
def to_settle(
    place: Place,
    kind: Kind,
    file: Path,
    reading: Reading = AS_IT_IS,
    works_file: Path | None = None,
) -> tuple[Question, ...]:
    """What a person may settle of a table without mending it, as it is to be read now."""
    problems = _READERS[kind](place, file, reading, works_file)
    return tuple(problem for problem in problems if isinstance(problem, Question))


def _plan(place: Place, file: Path, reading: Reading, _: Path | None) -> tuple[Problem, ...]:
    from joblog.plan import read_csv, read_json

    if file.suffix.lower() == ".json":
        return read_json(file, sure=reading.sure)[1]
    return read_csv(file, catalog_at(place), reading)[1]


def _catalog(_: Place, file: Path, reading: Reading, __: Path | None) -> tuple[Problem, ...]:
    from joblog.catalog.read_csv import read_catalog

    return read_catalog(file, reading)[1]


def _runs(place: Place, file: Path, reading: Reading, works: Path | None) -> tuple[Problem, ...]:
    """Those of the runs, or of the house that stands where runs may."""
    from joblog.service.house import is_house
    from joblog.service.planning import works_at
    from joblog.takeoff.runs import read_runs

    if is_house(file, reading):
        return _house(place, file, reading, works)
    return read_runs(file, works_at(place, works)[0], reading)[1]


def _house(_: Place, file: Path, reading: Reading, __: Path | None) -> tuple[Problem, ...]:
    from joblog.service.house import read_table

    return read_table(file, reading).problems


def _pieces(_: Place, file: Path, reading: Reading, __: Path | None) -> tuple[Problem, ...]:
    from joblog.cutting.read_pieces import read_pieces

    return read_pieces(file, reading)[1]


def _earlier(_: Place, file: Path, reading: Reading, __: Path | None) -> tuple[Problem, ...]:
    from joblog.rates import read_history_csv

    return read_history_csv(file, today=date.today(), reading=reading)[1]


_READERS: Mapping[Kind, Callable[[Place, Path, Reading, Path | None], tuple[Problem, ...]]] = {
    "plan": _plan,
    "catalog": _catalog,
    "runs": _runs,
    "house": _house,
    "pieces": _pieces,
    "earlier jobs": _earlier,
}
