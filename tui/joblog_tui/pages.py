"""The squared-up job in pages, one a question."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual.content import Content

from joblog.model import Closing, Reconciliation
from joblog_tui.balance import balance
from joblog_tui.beside import beside
from joblog_tui.costs import costs
from joblog_tui.hours import hours
from joblog_tui.missing import missing
from joblog_tui.places_and_days import days, places
from joblog_tui.since_closed import since_closed
from joblog_tui.squared_row import SquaredRow
from joblog_tui.why import why


@dataclass(frozen=True, slots=True)
class Page:
    """Lines that answer one question, and what is said where there are none."""

    name: str
    lines: tuple[SquaredRow, ...]
    empty: str


def pages(
    squared: Reconciliation, closing: Closing | None = None, width: int = 78
) -> tuple[Page, ...]:
    """All pages, always in this order; the last one only of a job that was reopened."""
    found = [Page(name, lines(squared, width), empty) for name, lines, empty in _PAGES]
    if closing is not None and closing.reopened:
        found.append(Page("changed", since_closed(closing, squared, width), ""))
    return tuple(found)


_PAGES: tuple[tuple[str, Callable[[Reconciliation, int], tuple[SquaredRow, ...]], str], ...] = (
    ("balance", balance, "Nothing to square up yet: no plan and no entries."),
    ("money", costs, "No price is known of anything: neither planned nor paid."),
    ("hours", hours, "No hours are planned, and none were said."),
    ("places", places, "Nothing was said yet that belongs to a place."),
    ("days", days, "Nothing was said yet on any day."),
    ("why", why, "Nothing was said to be wasted."),
    ("beside", beside, "No extra work, money spent or driving was said."),
    ("missing", missing, "Nothing is missing."),
)


def page_names(every: Sequence[Page], at: int) -> Content:
    """The names of all pages on one line, the one in sight in brackets."""
    return Content("").join(
        Content.styled(f"[{page.name}]", "bold reverse")
        if place == at
        else Content(f" {page.name} ")
        for place, page in enumerate(every)
    )
