"""One question at a time, over the whole job or one day, the dearest first."""

from __future__ import annotations

from datetime import date

from joblog.model import BookEntry
from joblog.service.desk import Desk
from joblog_tui.evidence import EvidenceScreen


class QuestionsScreen(EvidenceScreen):
    """Of one day, or of the whole job for None; begins with the question about `entry`."""

    def __init__(self, desk: Desk, day: date | None = None, entry: int | None = None) -> None:
        super().__init__(desk)
        self._day = day
        self._first = entry

    def in_sight(self) -> BookEntry | None:
        return None
