"""Signing a day off: a person has looked at it, and all of it is right."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from joblog.service.desk import Desk
from joblog.service.errors import use_case


@dataclass(frozen=True, slots=True)
class Signed:
    """A day that was signed off."""

    at: datetime
    changed: tuple[str, ...] = ()
    """What is otherwise since, each one line: "entry 12 is new: used 3 panels"; none where the day
    stands as it was signed."""


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
