"""The photos of a day, or of the job, as many small ones as fit."""

from __future__ import annotations

from datetime import date

from textual.screen import Screen

from joblog.service.desk import Desk


class GalleryScreen(Screen[None]):
    """Of one day, or of the whole job for None."""

    def __init__(self, desk: Desk, day: date | None = None) -> None:
        super().__init__()
        self._desk = desk
        self._day = day
