"""What earlier jobs taught, under the names that the catalog has for their items."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from joblog.catalog.naming import Named
from joblog.model import Catalog, History, Item, PastUse
from joblog.reconcile.units import in_unit_of

Units = Callable[[frozenset[str]], Mapping[tuple[str, str], str]]
"""By job and item, what that job counted it in, of these jobs; without those from paper."""


def under_one_name(
    history: History, catalog: Catalog, units: Units = lambda jobs: {}
) -> tuple[History, tuple[str, ...]]:
    """The lines of what is called otherwise as those of the catalog's item, in its unit, and a line
    on each name that was taken so.

    Two lines of one job that are the same item become one. A line that was counted in what cannot
    be put in the catalog's unit is left out, and told. Lines from paper have no unit; theirs is
    taken to be the catalog's.
    """
    known = Named(catalog.items)
    now = {name: _item(name, known) for name in {use.item for use in history.uses}}
    strange = {name: item for name, item in now.items() if item is not None}
    if not strange:
        return history, ()
    jobs = frozenset(use.job for use in history.uses if use.item in strange)
    counted = units(jobs)
    uses: dict[tuple[str, object, str], PastUse] = {}
    met: dict[str, list[str]] = {}
    lost: dict[str, list[str]] = {}
    for use in history.uses:
        item = strange.get(use.item)
        found: PastUse | None = use
        if item is not None:
            found = _as(use, item, counted.get((use.job, use.item), item.unit))
            (lost if found is None else met).setdefault(use.item, []).append(use.job)
        if found is not None:
            key = (found.job, found.day, found.item.lower())
            uses[key] = _together(uses[key], found) if key in uses else found
    told = [
        *(f"{name}: counts as {strange[name].name}, in {_jobs(of)}" for name, of in met.items()),
        *(
            f"{name}: is {strange[name].name}, but was not counted in what turns into "
            f"{strange[name].unit}; left out: {', '.join(of)}"
            for name, of in lost.items()
        ),
    ]
    return replace(history, uses=tuple(uses.values())), tuple(told)


def _item(name: str, known: Named) -> Item | None:
    """The item that the name surely is, where it is not its own name."""
    found = known.surely(name)
    return found.item if found.how else None


def _as(use: PastUse, item: Item, unit: str) -> PastUse | None:
    one = in_unit_of(item, Fraction(1), unit)
    if not one:
        return None
    return replace(
        use,
        item=item.name,
        net=use.net * one,
        consumed=use.consumed * one,
        geometric=None if use.geometric is None else use.geometric * one,
    )


def _together(one: PastUse, other: PastUse) -> PastUse:
    parts = (one.geometric, other.geometric)
    return replace(
        one,
        net=one.net + other.net,
        consumed=one.consumed + other.consumed,
        geometric=None if None in parts else sum(filter(None, parts), Fraction(0)),
    )


def _jobs(jobs: Iterable[str]) -> str:
    many = len(list(jobs))
    return f"{many} job{'s' * (many != 1)}"
