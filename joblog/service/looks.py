"""How the screens of a book are to look, as it was last chosen."""

from __future__ import annotations

from joblog.service.desk import Desk
from joblog.service.errors import use_case

_THEME = "theme"


@use_case
def theme_kept(desk: Desk) -> str | None:
    """The name of the theme that was chosen for this book; None where none was."""
    return desk.book.setting(_THEME)


@use_case
def keep_theme(desk: Desk, name: str) -> None:
    """Remembers the theme for the next time."""
    desk.book.set_setting(_THEME, name)
