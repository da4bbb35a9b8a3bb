"""How the screens of a book look is remembered with the book."""

from __future__ import annotations

from joblog.service import Desk, looks


def test_the_theme_that_was_chosen_is_remembered(desk: Desk) -> None:
    assert looks.theme_kept(desk) is None
    looks.keep_theme(desk, "light")
    assert looks.theme_kept(desk) == "light"
