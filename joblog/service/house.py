"""The house of a job: described in a table or told aloud, kept with the job, made into runs."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from io import StringIO
from pathlib import Path

from joblog.book import houses
from joblog.model import House, Problem, Run
from joblog.service.desk import Desk, desk_at
from joblog.service.errors import ServiceError, use_case
from joblog.service.places import Place, opened_if_there
from joblog.service.record import read_entries
from joblog.sheet import AS_IT_IS, Reading, refused


@dataclass(frozen=True, slots=True)
class Described:
    """A house with its runs, and what a person should know of it."""

    house: House
    runs: tuple[Run, ...]
    notes: tuple[str, ...] = ()
    """What was left out and why, and by how little the walk does not close."""
    problems: tuple[Problem, ...] = ()
    kept: bool = True
    """Whether it is the job's; one that cannot be read or walked around is not kept."""
    changed: bool = False
    """Whether the job's house is another one now than before."""

    @property
    def rows(self) -> tuple[dict[str, str], ...]:
        """The house as the rows of its table."""
        from joblog.house.read_table import rows_of

        return rows_of(self.house)


@use_case
def take_in_house(desk: Desk, file: Path, reading: Reading = AS_IT_IS) -> Described:
    """Keeps the house in a table as the job's, in the place of the one before."""
    found = read_table(file, reading)
    return found if refused(found.problems) else _kept(desk, found)


@use_case
def take_in_told_house(desk: Desk, *, sure: bool = False) -> Described:
    """Keeps the house that was told in a walk around it as the job's, in the place of the one
    before, with what that one says of every run; one with something missing or in doubt is not
    kept, and the problems say what."""
    from joblog.house.dictated import house_told

    told = house_told(read_entries(desk))
    before = houses.house_of(desk.book, desk.job.name) or House()
    found = described(replace(told.house, every=before.every, sure=sure))
    found = replace(
        found,
        notes=(*told.notes, *found.notes),
        problems=(*told.problems, *found.problems),
        kept=False,
    )
    return found if refused(found.problems) else _kept(desk, found)


@use_case
def be_sure_of_house(desk: Desk) -> Described:
    """Keeps the house of the job as one whose walk is as it was told, though it does not close."""
    return _kept(desk, described(replace(house_of(desk).house, sure=True)))


@use_case
def house_of_rows(rows: Sequence[Mapping[str, str]], *, sure: bool = True) -> Described:
    """The house in the rows of its table, kept nowhere. Raises `ServiceError` for rows that cannot
    be read, and for numbers beyond reason unless somebody is `sure` of them; a walk that does not
    close yet is told."""
    from joblog.house.read_table import COLUMNS, read_house

    text = StringIO()
    table = csv.writer(text)
    table.writerow(COLUMNS)
    table.writerows([row.get(column, "") for column in COLUMNS] for row in rows)
    house, problems = read_house(text.getvalue(), Reading(sure=sure))
    if wrong := refused(problems):
        raise ServiceError(wrong[0].why)
    return described(house)


@use_case
def change_house(desk: Desk, rows: Sequence[Mapping[str, str]]) -> Described:
    """Keeps the house in the rows of its table, also one on its way, whose walk does not close
    yet. Raises `ServiceError` for rows that cannot be read."""
    return _kept(desk, house_of_rows(rows))


def _kept(desk: Desk, found: Described) -> Described:
    changed = houses.keep_house(desk.book, desk.job.name, found.house)
    return replace(found, kept=True, changed=changed)


@use_case
def house_of(desk: Desk) -> Described:
    """The house of the job. Raises `ServiceError` where nobody described one."""
    found = house_if_any(desk)
    if found is None:
        raise ServiceError(
            f"{desk.job.name}: nobody described the house yet; do so with joblog house HOUSE.csv"
        )
    return found


@use_case
def house_if_any(desk: Desk) -> Described | None:
    house = houses.house_of(desk.book, desk.job.name)
    return None if house is None else described(house)


@use_case
def house_at(place: Place, job: str | None) -> Described:
    """The house of the named job, or of the one that is meant. Raises `ServiceError`."""
    with desk_at(place, job) as desk:
        return house_of(desk)


@use_case
def house_if_known(place: Place, job: str | None) -> Described | None:
    """The same; None where there is no book, or its job has no house."""
    with opened_if_there(place) as book:
        if book is None or not book.jobs():
            return None
    with desk_at(place, job) as desk:
        return house_if_any(desk)


@use_case
def is_house(file: Path, reading: Reading = AS_IT_IS) -> bool:
    """Whether a table is one of a house, and not of runs."""
    from joblog.house.read_table import is_house_table

    return is_house_table(file, reading)


@use_case
def read_table(file: Path, reading: Reading = AS_IT_IS) -> Described:
    """The house in a table, kept nowhere."""
    from joblog.house.read_table import read_house

    house, unread = read_house(file, reading)
    found = described(replace(house, sure=reading.sure))
    return replace(found, problems=(*unread, *found.problems), kept=False)


@use_case
def described(house: House) -> Described:
    """A house with its runs. One whose walk does not close has a problem, unless somebody was sure
    of it."""
    from joblog.house.runs import runs_of

    runs, notes, problems = runs_of(house)
    return Described(house, runs, notes, problems)
