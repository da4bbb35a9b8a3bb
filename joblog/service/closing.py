"""Closing a job: what is in the way, freezing its figures, and what it then teaches."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from joblog.book import closed
from joblog.book.closing import Obstacle, in_the_way, taught
from joblog.model import BookEntry, Closing, History, Reconciliation
from joblog.reconcile import reconcile, sensed
from joblog.service.desk import Desk, read_catalog
from joblog.service.errors import ServiceError, use_case
from joblog.service.stock import came


@dataclass(frozen=True, slots=True)
class Draft:
    """A job as it would be closed now."""

    day: date
    figures: Reconciliation
    entries: tuple[BookEntry, ...]
    obstacles: tuple[Obstacle, ...]
    """What is in the way of closing it; it can be closed over them."""


@use_case
def draft_closing(desk: Desk, day: date | None = None) -> Draft:
    """The job as it would be closed, for that day or its last.

    Raises `ServiceError` for a day to come, and where nothing was said yet.
    """
    name = desk.job.name
    days = desk.book.days(name)
    if not days:
        raise ServiceError(f"{name}: nothing was said yet, so there is nothing to close.")
    wanted = day or days[-1]
    if wanted > max(datetime.now(ZoneInfo(desk.job.zone)).date(), days[-1]):
        raise ServiceError(f"--day {wanted} has not come yet.")
    plan, entries, catalog = desk.book.plan(name), desk.book.entries(name), read_catalog(desk)
    brought = came(desk)
    figures = reconcile(desk.job, plan, entries, catalog, brought)
    obstacles = in_the_way(plan, figures, sensed(desk.job, plan, entries, catalog, brought))
    return Draft(wanted, figures, entries, obstacles)


@use_case
def close(desk: Desk, draft: Draft) -> tuple[Closing, History]:
    """Freezes the figures of the draft; the closing, and what it teaches.

    Raises `ServiceError` where an entry has changed since the draft was made.
    """
    closing = closed.close_job(desk.book, desk.job.name, draft.day, draft.figures, draft.entries)
    return closing, taught(draft.day, closing.figures)


@use_case
def reopen(desk: Desk) -> None:
    """Takes the last closing of the job back, so that it is open; a step that can be undone.

    Raises `ServiceError` where it is not closed.
    """
    closed.reopen(desk.book, desk.job.name)
