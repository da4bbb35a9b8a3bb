"""A year lived in a book, and what the independent ledger says of it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from joblog.book import Book, closed
from tests.bench.year.bids import (
    Bidding,
    Outcome,
    outcomes,
    plan_as_it_stands,
    put_what_became,
    shown_to_have_become,
)
from tests.bench.year.comparing import (
    differences,
    lying_in,
    lying_of,
    parts_that_do_not_add_up,
    shown_of,
    taught_in,
)
from tests.bench.year.entering import Entered, closed_at_the_end, enter
from tests.bench.year.ledger import Key, ledger_of
from tests.bench.year.life import a_year


@dataclass(frozen=True, slots=True)
class Year:
    entered: Entered
    figures: int
    differences: tuple[str, ...]
    bids: tuple[Outcome, ...]


def lived(book: Book, seed: int, jobs: int, folder: Path, *, as_measured: bool = False) -> Year:
    """A year of so many jobs, entered and held against the ledger."""
    year = a_year(seed, jobs, as_measured=as_measured)
    bidding = Bidding()
    entered = enter(book, year, folder, bidding.on)
    plans = {job: plan_as_it_stands(book, job) for job in bidding.bids}
    ledger = ledger_of([fact for step in year for fact in step.truth], plans)
    put_what_became(ledger, bidding.bids)
    ledger.figures.update(lying_of(ledger))
    shown: dict[Key, Any] = {}
    wrong: list[str] = []
    for name, closing in closed_at_the_end(book, year).items():
        shown.update(shown_of(closing.figures))
        wrong += parts_that_do_not_add_up(closing.figures)
        if closing.reopened:
            wrong.append(f"{name}: was closed, and something opened it again")
    history, notes = closed.history(book)
    shown.update(taught_in(history))
    shown.update(lying_in(book))
    shown.update(shown_to_have_become(book, bidding.bids))
    found = (*differences(ledger, shown), *wrong, *notes)
    return Year(entered, len(ledger.figures), tuple(found), outcomes(bidding.bids, ledger))
