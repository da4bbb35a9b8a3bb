"""Names that meet: what a plan calls otherwise than the catalog, and what settles it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from joblog.book import Book, closed
from joblog.model import Catalog, Item, Plan
from joblog.service.desk import Desk, change_catalog_of, once, read_catalog, refresh
from joblog.service.errors import ServiceError, refusing, use_case

if TYPE_CHECKING:
    from joblog.plan.meeting import Met
    from joblog.plan.meeting import Unsure as Unsure


@use_case
def unsettled_names(desk: Desk) -> tuple[Unsure, ...]:
    """The planned items that may be ones of the catalog, and nobody said yet which."""
    return _met(desk).unsure


@use_case
def told_of_names(desk: Desk) -> tuple[str, ...]:
    """What will not learn from other jobs as the plan stands, and what settles it; a line each."""
    return tuple(_told(_met(desk)))


def told_of_plan(plan: Plan, catalog: Catalog) -> tuple[str, ...]:
    """The same of a plan; each line begins with the name of the item and a colon."""
    from joblog.plan.meeting import met

    return tuple(_told(met(plan, catalog)))


@use_case
def same_as(book: Book, name: str, item: str) -> tuple[str, ...]:
    """From now on a name is said for an item of the catalog; in the plans of open jobs what is
    called so becomes that item. A line on each plan in which it cannot.

    One step, which can be undone. Raises `ServiceError` where the catalog has no such item, or the
    name is that of another.
    """
    from joblog.catalog.lines import spelled, with_item

    called = " ".join(name.lower().split())

    def changed(now: Catalog) -> Catalog:
        own = spelled(now, item)
        known = {one.name: one for one in now.items}
        if own not in known:
            raise ValueError(f"the catalog has no {item!r}; joblog catalog lists what it has")
        if called == own.lower():
            raise ValueError(f"{name} is its name already")
        if any(one.name.lower() == called for one in now.items):
            raise ValueError(
                f"{name} is an item of the catalog itself; drop that first: "
                f'joblog catalog drop "{name}"'
            )
        for one in now.items:
            spoken = tuple(word for word in one.spoken if word.lower() != called)
            if one.name == own:
                spoken = (*spoken, called)
            if spoken != one.spoken:
                now = with_item(now, replace(one, spoken=spoken))
        return now

    with refusing(ValueError):
        change_catalog_of(book, changed)
    return tuple(_refused(book, called))


@use_case
def own_thing(book: Book, name: str, unit: str | None = None) -> Item:
    """A thing of its own in the catalog, as an open job planned it or counted in `unit`.

    What else had been called so no longer is. One step, which can be undone. Raises `ServiceError`
    where it is in the catalog already, or nobody said what it is counted in.
    """
    from joblog.catalog.lines import with_item
    from joblog.quantity import unit_defined

    called = " ".join(name.lower().split())
    if any(one.name.lower() == called for one in book.catalog().items):
        raise ServiceError(f"{name} is in the catalog already")
    planned = next((one for one in _planned(book) if one.name.lower() == called), None)
    if unit is not None:
        named = unit_defined(unit)
        if named is None:
            raise ServiceError(f"there is no unit {unit!r}")
        planned = replace(planned, unit=named) if planned else Item(called, named)
    if planned is None:
        raise ServiceError(
            f"no open job plans {name!r}; say what it is counted in: "
            f'joblog catalog own "{name}" each'
        )
    own = planned

    def changed(now: Catalog) -> Catalog:
        for one in now.items:
            spoken = tuple(word for word in one.spoken if word.lower() != called)
            if spoken != one.spoken:
                now = with_item(now, replace(one, spoken=spoken))
        return with_item(now, own)

    change_catalog_of(book, changed)
    return own


@use_case
def settle_name(desk: Desk, name: str, item: str | None) -> tuple[str, ...]:
    """What the question about a planned name was answered: the catalog's item, or with None a
    thing of its own. As `same_as` and `own_thing`."""
    told: tuple[str, ...] = ()
    if item is None:
        own_thing(desk.book, name)
    else:
        told = same_as(desk.book, name, item)
    refresh(desk)
    return told


def told_apart(names: Iterable[str]) -> Iterator[str]:
    """That each of these is in no catalog."""
    for name in names:
        yield (
            f"{name}: is not in your catalog; it learns nothing from other jobs, but from such as "
            "call it just so"
        )


def told_unsure(unsure: Iterable[Unsure]) -> Iterator[str]:
    """What each of these may be, and which command settles it."""
    for one in unsure:
        names = [item.name for item in one.likely[:FEW]]
        if len(one.likely) > FEW:
            names.append(f"one of {len(one.likely) - FEW} more")
        may_be = " or ".join(names)
        yield (
            f"{one.name}: may be your catalog's {may_be}; until you say which, it learns nothing "
            f'from other jobs. Say it with joblog catalog same "{one.name}" '
            f'"{one.likely[0].name}", or that it is none of them with joblog catalog own '
            f'"{one.name}"'
        )


FEW = 3
"""Names that a line may be read with; a question has room for more."""


def _told(found: Met) -> Iterator[str]:
    yield from found.refused
    yield from told_unsure(found.unsure)
    yield from told_apart(found.apart)


def _met(desk: Desk) -> Met:
    from joblog.plan.meeting import met

    catalog = read_catalog(desk)
    return once(desk, "names met", lambda: met(desk.plan, catalog))


def _planned(book: Book) -> Iterator[Item]:
    for job in _open_jobs(book):
        yield from (line.item for line in book.plan(job).items)


def _refused(book: Book, called: str) -> Iterator[str]:
    from joblog.plan.meeting import met

    catalog = book.catalog()
    for job in _open_jobs(book):
        plan = book.plan(job)
        if any(line.item.name.lower() == called for line in plan.items):
            found = met(plan, catalog).refused
            yield from (f"{job}: {why}" for why in found if why.lower().startswith(f"{called}:"))


def _open_jobs(book: Book) -> Iterator[str]:
    finished = closed.closed_jobs(book)
    yield from (job.name for job in book.jobs() if job.name not in finished)
