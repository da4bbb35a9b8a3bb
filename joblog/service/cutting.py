"""The cut list of a job: of the pieces that were said to be cut, what to cut from which stick."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from joblog.model import BookEntry, Catalog, CutPlan, Piece, Problem
from joblog.service.desk import Desk, read_catalog
from joblog.service.errors import refusing, use_case
from joblog.service.record import read_entries


@dataclass(frozen=True, slots=True)
class ToCut:
    """The pieces of a job, and all that is needed to work out their cut list away from the book."""

    pieces: tuple[Piece, ...]
    doubtful: tuple[BookEntry, ...]
    """Pieces in doubt: in no cut list until that is decided."""
    catalog: Catalog
    """With what the plan of the job knows of its items."""


@use_case
def pieces_to_cut(desk: Desk) -> ToCut:
    """The measures of a number of pieces, in the order they were said."""
    said = [
        one
        for one in sorted(read_entries(desk), key=lambda one: (one.at, one.id))
        if one.entry.kind == "measure" and one.entry.pieces and one.standing != "dropped"
    ]
    catalog = read_catalog(desk)
    planned = {line.item.name: line.item for line in desk.plan.items}
    others = (item for item in catalog.items if item.name not in planned)
    return ToCut(
        tuple(_piece(one) for one in said if not one.open and one.entry.inches),
        tuple(one for one in said if one.open),
        Catalog((*planned.values(), *others), catalog.tasks),
    )


def _piece(kept: BookEntry) -> Piece:
    said = kept.entry
    assert said.inches is not None and said.pieces is not None
    return Piece(said.inches, said.pieces, said.place or "", said.item, f"entry {kept.id}")


@use_case
def cut_list(to_cut: ToCut) -> tuple[tuple[CutPlan, ...], tuple[Problem, ...]]:
    """A plan for each item, and what could not be cut. It may take seconds, and needs no book."""
    return _cut(to_cut.pieces, to_cut.catalog)


@lru_cache(maxsize=4)
def _cut(
    pieces: tuple[Piece, ...], catalog: Catalog
) -> tuple[tuple[CutPlan, ...], tuple[Problem, ...]]:
    if not pieces:
        return (), ()
    from joblog.cutting.cut_lists import cut_lists

    with refusing(ValueError):
        return cut_lists(pieces, catalog)
