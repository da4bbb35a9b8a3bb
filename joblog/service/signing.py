"""Signing a day off: a person has looked at it, and all of it is right."""

from __future__ import annotations

from datetime import date

from joblog.model import Signed as Signed
from joblog.service.desk import Desk
from joblog.service.errors import use_case


@use_case
def sign_off(desk: Desk, day: date) -> Signed:
    """Signs the day off as it now stands, once more where it was; one step, which can be undone.

    Raises `ServiceError` for a day on which nothing was said or photographed.
    """
    raise NotImplementedError


@use_case
def signed(desk: Desk) -> dict[date, Signed]:
    """The days of the job that are signed off, and what changed on them since."""
    return {}
