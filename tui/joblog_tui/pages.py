"""The squared-up job in pages, one a question."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from joblog.model import Closing, Reconciliation
from joblog_tui.balance import balance
from joblog_tui.costs import costs
from joblog_tui.hours import hours
from joblog_tui.line import Line
from joblog_tui.missing import missing
from joblog_tui.since_closed import since_closed
from joblog_tui.told_where import days, places
from joblog_tui.why import why


@dataclass(frozen=True, slots=True)
class Page:
    """Lines that answer one question, and what is said where there are none."""

    name: str
    lines: tuple[Line, ...]
    empty: str


def pages(squared: Reconciliation, closing: Closing | None = None) -> tuple[Page, ...]:
    """All pages, always in this order; the last one only of a job that was reopened."""
    found = [
        Page("balance", balance(squared), "Nothing to square up yet: no plan and no entries."),
        Page("money", costs(squared), "No price is known of anything: neither planned nor paid."),
        Page("hours", hours(squared), "No hours are planned, and none were told."),
        Page("places", places(squared), "Nothing was told yet that belongs to a place."),
        Page("days", days(squared), "Nothing was told yet on any day."),
        Page("why", why(squared), "Nothing was told to be spoiled."),
        Page("missing", missing(squared), "Nothing is missing."),
    ]
    if closing is not None and closing.reopened:
        found.append(Page("changed", since_closed(closing, squared), ""))
    return tuple(found)


def page_names(every: Sequence[Page], at: int) -> Content:
    """The names of all pages on one line, the one in sight in brackets."""
    return Content("").join(
        Content.styled(f"[{page.name}]", "bold reverse")
        if place == at
        else Content(f" {page.name} ")
        for place, page in enumerate(every)
    )
