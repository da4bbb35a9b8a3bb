"""Where long work says that it goes on, so that whoever watches over it takes it for no hang."""

from __future__ import annotations

from collections.abc import Callable


def goes_on(at: float | None = None) -> None:
    """Called between two steps of long work; costs nothing where nobody watches.

    `at` is how many seconds of a recording are done, where that is known.
    """
    _told(at)


def tell(whom: Callable[[float | None], None]) -> None:
    """From now on `whom` is called at every step in this process."""
    global _told
    _told = whom


def _nobody(at: float | None) -> None:
    pass


_told: Callable[[float | None], None] = _nobody
