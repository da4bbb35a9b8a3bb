"""What he buys and does: the lines of the catalog, one changed, one dropped, a table taken in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from joblog.book import Book
from joblog.model import Catalog, Item, Problem
from joblog.service.desk import Desk, change_catalog, change_catalog_of, read_catalog
from joblog.service.errors import FieldError, refusing, use_case
from joblog.service.places import Place, opened_if_there
from joblog.sheet import AS_IT_IS, Reading, refused


@use_case
def catalog_at(place: Place) -> Catalog:
    """The book's catalog; the starter's where there is no book and none was asked for."""
    from joblog.catalog.lines import starter_catalog

    with opened_if_there(place) as book:
        return starter_catalog() if book is None else book.catalog()


@use_case
def set_line(book: Book, name: str, fields: Mapping[str, str]) -> Catalog:
    """Changes or adds one line of the catalog; fields as the catalog's spreadsheet has them."""
    from joblog.catalog.read_csv import with_fields

    with refusing(ValueError):
        return change_catalog_of(
            book, lambda now: with_fields(now, name, dict(fields), date.today())
        )


@use_case
def drop_line(book: Book, name: str) -> Catalog:
    """Drops one line of the catalog."""
    from joblog.catalog.lines import without

    with refusing(ValueError):
        return change_catalog_of(book, lambda now: without(now, name))


@use_case
def take_in_catalog(
    book: Book, file: Path, reading: Reading = AS_IT_IS
) -> tuple[Catalog, tuple[Problem, ...]]:
    """Adds and replaces the lines of a spreadsheet; the lines, and those that could not be read.

    Where something of it is refused, nothing is taken in.

    A price that is another than was written out is priced today, unless the row says when. One that
    was written out because it was paid on a job stays what it was: paid there.
    """
    from joblog.catalog.read_csv import merged, read_catalog
    from joblog.service.prices import priced_catalog

    read, problems = read_catalog(file, reading)
    if refused(problems):
        return Catalog(), problems
    if read.items or read.tasks:
        shown = {item.name: item for item in priced_catalog(book).items}
        change_catalog_of(book, lambda now: merged(now, _priced(read, now, shown)))
    return read, problems


def _priced(read: Catalog, now: Catalog, shown: Mapping[str, Item]) -> Catalog:
    kept = {item.name: item for item in now.items}

    def one(item: Item) -> Item:
        known, own = shown.get(item.name), kept.get(item.name)
        as_shown = known is not None and item.unit_cost == known.unit_cost
        if own and known and as_shown and item.priced in (None, known.priced):
            return replace(item, unit_cost=own.unit_cost, priced=own.priced)
        today = None if item.unit_cost is None else date.today()
        return item if item.priced else replace(item, priced=today)

    return replace(read, items=tuple(map(one, read.items)))


@use_case
def keep_line(desk: Desk, name: str, fields: Mapping[str, str], *, new: bool) -> Catalog:
    """Keeps a line as it was written, field by field; a new one must not be there yet.

    Raises `FieldError`, which names the field that is wrong.
    """
    from joblog.catalog.read_csv import with_fields

    def changed(now: Catalog) -> Catalog:
        if new and not name:
            raise ValueError("needs a name")
        names = {item.name for item in now.items} | {task.name for task in now.tasks}
        if new and name in names:
            raise ValueError("is in the catalog already")
        return with_fields(now, name, dict(fields), date.today())

    try:
        return change_catalog(desk, changed)
    except ValueError as error:
        at_fault = _field_at_fault(str(error), read_catalog(desk), name, fields)
        raise FieldError(str(error), at_fault) from error


@use_case
def written(catalog: Catalog) -> list[dict[str, str]]:
    """The lines of a catalog, each field as it is written in a spreadsheet."""
    from joblog.catalog.read_csv import COLUMNS, rows_of

    return [dict(zip(COLUMNS, row, strict=True)) for row in rows_of(catalog)]


def _field_at_fault(why: str, catalog: Catalog, name: str, fields: Mapping[str, str]) -> str | None:
    """The first field, in the order given, with which the reader has this very trouble."""
    from joblog.catalog.read_csv import with_fields

    given: dict[str, str] = {}
    for field, text in fields.items():
        given[field] = text
        try:
            with_fields(catalog, name, given)
        except ValueError as error:
            if str(error) == why and field != "line":
                return field
    return None
