"""What the papers of a job are written from: the nouns of the record, and its photos made small."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from zoneinfo import ZoneInfo

from joblog.model import (
    BookEntry,
    ClockCorrection,
    Closing,
    CoveredWork,
    CutPlan,
    DayHours,
    Job,
    Photo,
    Placed,
    Plan,
    Reconciliation,
    Signed,
    Tie,
    Wanted,
)


@dataclass(frozen=True, slots=True)
class Copy:
    """Whom a paper is for, and so what it shows."""

    handed_out: bool = False
    """To a customer, owner or inspector: without prices, costs, hours, and what is in doubt."""
    positions: bool = False
    """With where the photos were taken."""


@dataclass(frozen=True, slots=True)
class Shot:
    """A photo as a paper shows it."""

    photo: Photo
    taken: datetime
    """Its camera's clock put right."""
    image: bytes | None = field(default=None, repr=False)
    """A small copy of the pixels alone, as JPEG; None where it cannot be drawn."""
    trouble: str = ""
    """Why it cannot be drawn."""
    ties: tuple[Tie, ...] = ()
    """The entries it belongs to, the nearest first."""
    stands_for: tuple[Photo, ...] = ()
    """Others that show the same, and are not shown."""
    placed: Placed | None = None


@dataclass(frozen=True, slots=True)
class DayRecord:
    """One day of a job."""

    day: date
    entries: tuple[BookEntry, ...] = ()
    """In time, those that were dropped too."""
    shots: tuple[Shot, ...] = ()
    """In time; of alike ones the best."""
    hours: DayHours | None = None
    due: tuple[BookEntry, ...] = ()
    """Said before for this day."""
    told_later: tuple[BookEntry, ...] = ()
    """Said afterwards to have been on it."""
    unanswered: tuple[BookEntry, ...] = ()
    """Those that speak of a photo, or of work to be covered, and have none."""
    troubles: tuple[str, ...] = ()
    """Recordings and photos that something is wrong with, and what."""
    clocks: tuple[ClockCorrection, ...] = ()
    signed: Signed | None = None


@dataclass(frozen=True, slots=True)
class JobRecord:
    """All that the job book holds."""

    job: Job
    days: tuple[DayRecord, ...]
    covered: tuple[CoveredWork, ...]
    balance: Reconciliation
    plan: Plan
    closing: Closing | None = None
    to_do: tuple[BookEntry, ...] = ()
    wanted: tuple[Wanted, ...] = ()
    problems: tuple[BookEntry, ...] = ()
    cuts: tuple[CutPlan, ...] = ()

    @property
    def shots(self) -> dict[str, Shot]:
        """By the SHA-256 of the original."""
        return {shot.photo.sha256: shot for day in self.days for shot in day.shots}


def local(job: Job, at: datetime) -> datetime:
    """A moment by the clock of the job's place."""
    return at.astimezone(ZoneInfo(job.zone))


def kept_back(entries: Sequence[BookEntry]) -> tuple[BookEntry, ...]:
    """Those that are not handed out: dropped, in doubt, or about money, hours and errands."""
    return tuple(one for one in entries if one.standing == "dropped" or _inside(one))


def _inside(one: BookEntry) -> bool:
    told = (one.entry.note, one.entry.reason, one.entry.as_said)
    return one.open or one.entry.kind in _OWN or speaks_of_money(" ".join(filter(None, told)))


def speaks_of_money(text: str) -> bool:
    """Whether somebody's words name money, pay or hours, which stay in a note beside the figure
    that was read from them."""
    return _MONEY.search(text) is not None


_MONEY = re.compile(
    r"[$€£¥]|\b(dollars?|bucks?|cents?|grand|euros?|pounds sterling|prices?|costs?|paid|pay"
    r"|wages?|invoice|markup|margin|hours?|hrs?)\b",
    re.IGNORECASE,
)


_OWN = (
    "price", "expense", "drive", "start", "stop", "break", "labor", "needed", "todo", "correction",
)  # fmt: skip
