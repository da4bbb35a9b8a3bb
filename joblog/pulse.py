"""Where long work says that it goes on, so that whoever watches over it takes it for no hang."""

from __future__ import annotations

from collections.abc import Callable


def goes_on() -> None:
    """Called between two steps of long work; costs nothing where nobody watches."""
    _told()


def tell(whom: Callable[[], None]) -> None:
    """From now on `whom` is called at every step in this process."""
    global _told
    _told = whom


def _nobody() -> None:
    pass


_told: Callable[[], None] = _nobody
