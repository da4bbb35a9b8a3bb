"""What was said of a day until a moment, and what holds of it then."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.book.earlier import standing_before
from joblog.model import BookEntry, Reading
from joblog.service.desk import Desk
from joblog.service.errors import use_case

if TYPE_CHECKING:
    from joblog.dictation import Context


@use_case
def said_before(desk: Desk, at: datetime) -> tuple[BookEntry, ...]:
    """What stands of what was said and written on that day of the job until `at`, oldest first."""
    return standing_before(desk.book, desk.job.name, at)


def context_after(desk: Desk, said: Iterable[BookEntry], at: datetime) -> Context:
    """What holds at a moment after these were said: the place, the item, and what words mean."""
    from joblog.dictation import Context, after

    local = at.astimezone(ZoneInfo(desk.job.zone)).replace(tzinfo=None)
    return after(Context(at=local), Reading(tuple(one.entry for one in said)))
