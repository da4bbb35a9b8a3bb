"""A screen with an entry in sight: its sound under `p`, its photo under `v`, its place under `y`.

A screen that shows entries derives from `EvidenceScreen` instead of `Screen[None]`, says in
`in_sight` which entry that is, puts a `SoundLine` above its keys, and calls `quiet` when something
was decided. The rest is here.
"""

from __future__ import annotations

from textual.actions import SkipAction
from textual.binding import Binding
from textual.screen import Screen

from joblog.model import BookEntry
from joblog.service.desk import Desk


class EvidenceScreen(Screen[None]):
    BINDINGS = [  # noqa: RUF012
        Binding("p", "sound", "play"),
        Binding("v", "photo", "photo"),
        Binding("V", "original", "photo in its own program", show=False),
        Binding("y", "place", "place", show=False),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        # Before any "escape" of the screen itself: while a sound plays that key only stops it.
        own = self._bindings.key_to_bindings.get("escape", [])
        quiet = Binding("escape", "quiet", "stop the sound", show=False)
        self._bindings.key_to_bindings["escape"] = [quiet, *own]

    def in_sight(self) -> BookEntry | None:
        """The entry that the keys are about."""
        raise NotImplementedError

    def quiet(self) -> None:
        """Stops what is playing, and begins anew at the next `p`; to be called at any decision."""

    def action_sound(self) -> None:
        """Plays; pressed again slower; a third time with the seconds around."""

    def action_quiet(self) -> None:
        raise SkipAction()

    def action_photo(self) -> None:
        """Opens the entry's photo large, else the photos of its day."""

    def action_original(self) -> None:
        """Opens the photo's original in the system's own viewer."""

    def action_place(self) -> None:
        """Copies latitude and longitude of where it was said or taken, and shows them."""
