"""The time zone of this machine, by its IANA name."""

from __future__ import annotations

import logging
from zoneinfo import available_timezones

import tzlocal


def own_zone() -> str:
    """The IANA name from TZ or the machine's settings; "UTC" when none can be told."""
    # What it finds odd about the settings is no concern of somebody who asks for a job.
    logging.getLogger("tzlocal").setLevel(logging.CRITICAL)
    try:
        name = tzlocal.get_localzone_name()
    except (LookupError, ValueError, OSError):  # contradicting, unknown or unreadable settings
        return "UTC"
    return name if name in available_timezones() else "UTC"
