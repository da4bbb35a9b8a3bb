"""The zone that a new job gets when nobody names one."""

import os
import subprocess
import sys
from zoneinfo import ZoneInfoNotFoundError, available_timezones

import pytest
import tzlocal

from joblog.zone import own_zone


def zone_with(setting: str) -> str:
    """What a program started with this TZ takes for its zone, and nothing else on its terminal."""
    ask = "from joblog.zone import own_zone; print(own_zone())"
    asked = subprocess.run(
        [sys.executable, "-c", ask],
        env={**os.environ, "TZ": setting},
        capture_output=True,
        text=True,
        check=True,
    )
    assert asked.stderr == ""
    return asked.stdout.strip()


def test_a_zone_that_the_environment_names_is_taken() -> None:
    assert zone_with("America/Chicago") == "America/Chicago"


@pytest.mark.parametrize("setting", ["Nowhere/Nothing", "XYZ3ABC", "../etc"])
def test_a_setting_that_is_no_zone_still_gives_one(setting: str) -> None:
    assert zone_with(setting) in available_timezones()


@pytest.mark.parametrize(
    "failure", [ZoneInfoNotFoundError("two zones"), LookupError("none"), OSError("locked")]
)
def test_settings_that_cannot_be_read_give_utc(
    monkeypatch: pytest.MonkeyPatch, failure: Exception
) -> None:
    def fails() -> str:
        raise failure

    monkeypatch.setattr(tzlocal, "get_localzone_name", fails)
    assert own_zone() == "UTC"


@pytest.mark.parametrize("name", [None, "local", "Pacific Standard Time"])
def test_a_name_that_is_no_zone_gives_utc(
    monkeypatch: pytest.MonkeyPatch, name: str | None
) -> None:
    monkeypatch.setattr(tzlocal, "get_localzone_name", lambda: name)
    assert own_zone() == "UTC"
