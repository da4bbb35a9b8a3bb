"""Signing a day off: a person has looked at it, and all of it is right."""

from __future__ import annotations

from datetime import date

from joblog.book import signing
from joblog.local import day_written
from joblog.model import Signed as Signed
from joblog.service.desk import Desk, remember
from joblog.service.errors import ServiceError, use_case
from joblog.service.record import read_entries


@use_case
def sign_off(desk: Desk, day: date) -> Signed:
    """Signs the day off as it now stands, once more where it was; one step, which can be undone.

    Raises `ServiceError` for a day on which there is nothing, and while anything on it waits for a
    decision.
    """
    open_doubts = sum(entry.open for entry in read_entries(desk, day))
    if open_doubts:
        waits = "1 entry waits" if open_doubts == 1 else f"{open_doubts} entries wait"
        why = f"{waits} for a decision. Settle that first, then sign it off."
        raise ServiceError(f"{day_written(day)}: {why}")
    remember(desk)
    return signing.sign_off(desk.book, desk.job.name, day)


@use_case
def signed(desk: Desk, day: date | None = None) -> dict[date, Signed]:
    """The days of the job that are signed off, or this one if it is, and what changed since."""
    return signing.signed(desk.book, desk.job.name, day)
