"""The time zone of this machine, by its IANA name."""

from __future__ import annotations

import os
from pathlib import Path
from zoneinfo import ZoneInfo, available_timezones


def own_zone() -> str:
    """The IANA name from TZ, /etc/timezone or /etc/localtime; "UTC" when none can be told."""
    for name in (os.environ.get("TZ", ""), _written(), _linked()):
        if name and name in available_timezones():
            return ZoneInfo(name).key
    return "UTC"


def _written() -> str:
    try:
        return Path("/etc/timezone").read_text("utf-8").strip()
    except OSError:
        return ""


def _linked() -> str:
    try:
        target = str(Path("/etc/localtime").resolve())
    except OSError:
        return ""
    return target.partition("/zoneinfo/")[2]
