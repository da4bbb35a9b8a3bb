"""The colours of the screens: one theme for dark terminals, one for light ones, and which is on.

Every colour of text is readable on every ground it can stand on, the line under the cursor too, and
that line stands out from the others: contrasts of 4.5 and of 3 to 1 (WCAG 2.1, AA).
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Any

from textual.app import App
from textual.theme import Theme


def put_on(app: App[Any], kept: str | None = None) -> None:
    """Puts on the theme that was kept, else the one that fits the terminal."""
    for theme in THEMES.values():
        app.register_theme(theme)
    app.theme = THEMES[kept if kept in THEMES else by_terminal(os.environ)].name


def other(app: App[Any]) -> str:
    """Puts on the other theme; its name, to be kept."""
    worn = next((name for name, theme in THEMES.items() if theme.name == app.theme), "dark")
    turned = "light" if worn == "dark" else "dark"
    put_on(app, turned)
    return turned


def by_terminal(environment: Mapping[str, str]) -> str:
    """ "light" where the terminal says that its background is light, else "dark".

    Many terminals say so in COLORFGBG, by the number of an ANSI color: "0;15" is black on white.
    """
    number = environment.get("COLORFGBG", "").rpartition(";")[2]
    light = number.isdigit() and int(number) in (7, *range(9, 16))
    return "light" if light else "dark"


def _theme(name: str, *, dark: bool, cursor: str, muted: str, rule: str, **colours: str) -> Theme:
    foreground, background = colours["foreground"], colours["background"]
    return Theme(
        f"joblog-{name}",
        primary=rule,
        secondary=colours["accent"],
        warning=colours["warning"],
        error=colours["error"],
        success=colours["success"],
        accent=colours["accent"],
        foreground=foreground,
        background=background,
        surface=colours["surface"],
        panel=colours["panel"],
        boost=colours["surface"],
        dark=dark,
        variables={
            "primary-muted": cursor,
            "foreground-muted": muted,
            "foreground-disabled": muted,
            "text": foreground,
            "text-muted": muted,
            "text-disabled": muted,
            "block-cursor-background": cursor,
            "block-cursor-foreground": foreground,
            "block-cursor-blurred-background": cursor,
            "block-cursor-blurred-foreground": foreground,
            "block-hover-background": colours["panel"],
            "border": rule,
            "border-blurred": rule,
            "input-cursor-background": foreground,
            "input-cursor-foreground": background,
            "input-selection-background": cursor,
            "input-selection-foreground": foreground,
            "scrollbar": rule,
            "scrollbar-hover": foreground,
            "scrollbar-active": foreground,
            "scrollbar-background": background,
            "scrollbar-background-hover": background,
            "scrollbar-background-active": background,
            "scrollbar-corner-color": background,
            "screen-selection-background": cursor,
            "screen-selection-foreground": foreground,
        },
    )


THEMES = {
    "dark": _theme(
        "dark", dark=True, background="#0B0D10", surface="#12161B", panel="#1A2027",
        foreground="#FFFFFF", muted="#D6DDE4", cursor="#3F6285", rule="#7F8FA0",
        accent="#B4E1FF", success="#A9F5B8", warning="#FFE07A", error="#FFCFC7",
    ),
    "light": _theme(
        "light", dark=False, background="#FFFFFF", surface="#F4F6F8", panel="#E7ECF1",
        foreground="#000000", muted="#22262B", cursor="#7B97B7", rule="#5C6B7A",
        accent="#00205F", success="#00330F", warning="#521A00", error="#5E0000",
    ),
}  # fmt: skip
