"""Entries under the name that plan and catalog now have for their item."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from joblog.model import BookEntry, Catalog, Item, Plan


def under_one_name(
    entries: Sequence[BookEntry], plan: Plan, catalog: Catalog | None, known: Mapping[str, Item]
) -> Sequence[BookEntry]:
    """The entries, those of an item that nothing is called any more under the one that is said so.

    A plan that called soffit panels vented soffit has its entries under that name; once the two are
    known to be one, they count together. `known` holds all items of plan and catalog by name. A
    name that is said of none of them, or of two, stays as it is.
    """
    strange = {kept.entry.item for kept in entries if kept.entry.item} - known.keys()
    if not strange:
        return entries
    planned = [line.item for line in plan.items]
    others = catalog.items if catalog else ()
    now = {name: _said(name, planned) or _said(name, others) for name in strange if name}
    if not any(now.values()):
        return entries
    return [
        replace(kept, entry=replace(kept.entry, item=called))
        if (called := now.get(kept.entry.item or ""))
        else kept
        for kept in entries
    ]


def _said(name: str, items: Iterable[Item]) -> str | None:
    called = name.lower()
    found = [item.name for item in items if called in map(str.lower, item.spoken)]
    return found[0] if len(found) == 1 else None
