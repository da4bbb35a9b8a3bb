"""A file opened in the system's own program for it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from shutil import which


def open_outside(path: Path) -> str:
    """Has the system show a file, waiting until it says that it will; why it does not, else ""."""
    why = no_viewer(sys.platform, os.environ)
    if why:
        return why
    if sys.platform == "win32":
        try:
            os.startfile(path)
        except OSError as error:
            return f"Windows opens no program for it ({error.strerror})"
        return ""
    return _told_to_open([OPENERS.get(sys.platform, "xdg-open"), str(path)])


def no_viewer(platform: str, environment: Mapping[str, str]) -> str:
    """Why there is no program that could show a picture here; "" where there may be one."""
    if platform == "win32":
        return ""
    opener = OPENERS.get(platform, "xdg-open")
    if platform != "darwin" and not any(environment.get(name) for name in SCREENS):
        over = "you are connected over ssh, and " if environment.get("SSH_CONNECTION") else ""
        return f"{over}there is no screen that a picture viewer could show it on"
    if which(opener) is None:
        return f"{opener} is missing, which opens a picture in your viewer"
    return ""


OPENERS = {"darwin": "open"}
SCREENS = ("DISPLAY", "WAYLAND_DISPLAY")
LONG = 20.0
"""Seconds after which an opener that has not ended is taken to show the picture itself."""


def _told_to_open(command: list[str]) -> str:
    try:
        opener = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,  # it stays when the review is left
        )
        failed = opener.wait(LONG)
    except subprocess.TimeoutExpired:
        return ""
    except OSError as error:
        return f"{command[0]} cannot be started ({error.strerror})"
    return f"{command[0]} found no program that shows it" if failed else ""
