"""A key means one thing: those pressed before what they would decide was in sight are not taken."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from textual.events import Key
from textual.message import Message
from textual.screen import Screen

TO_BE_READ = 0.4
"""Seconds that nobody has read a question in: a key that decides was meant for the one before, or
was pressed twice. Chosen by hand."""
HELD = 0.15
"""Seconds; a key that comes again sooner is held down, or bounced. Keyboards repeat every 30 ms."""


LEADING_ELSEWHERE = frozenset({"g", "slash", "s", "question_mark", "q"})
"""Keys that mean the same whatever is in sight, and decide nothing: always taken."""


class Guard:
    """Knows what is in sight of one screen, by the clock that keys are stamped with.

    `deciding` are the keys that decide something; all others are taken as soon as it is in sight.
    """

    def __init__(self, screen: Screen[Any], deciding: Collection[str]) -> None:
        self._screen = screen
        self._deciding = frozenset(deciding)
        self._since: float | None = None
        # When it came into sight; None while it is on its way there.
        self._last: tuple[str, float] = ("", 0.0)
        self._held = False

    def renew(self) -> None:
        """Something else is on its way to the screen, to be called when it is laid out."""
        self._since = None
        self._screen.call_after_refresh(self._in_sight)

    def _in_sight(self) -> None:
        self._since = Message().time

    @property
    def in_sight(self) -> bool:
        """Whether what is asked has been shown."""
        return self._since is not None

    def takes(self, key: Key) -> bool:
        """Whether the key was pressed by somebody who saw what it is about."""
        if key.time != self._last[1]:
            # One that nobody took on its way down is asked about again on its way up.
            since = key.time - self._last[1]
            self._held = key.key == self._last[0] and since < HELD
            self._last = (key.key, key.time)
        if key.key in LEADING_ELSEWHERE:
            return True
        if self._since is None or key.time < self._since:
            return False
        if key.key not in self._deciding:
            return True
        return not self._held and key.time >= self._since + TO_BE_READ
