"""Runs the command line as a person does: its exit status, what it printed, what it complained."""

from __future__ import annotations

from pathlib import Path

import pytest
from running import Say

from joblog.cli import main


@pytest.fixture
def say(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Say:
    """In an empty folder, with an empty home and nothing set up beforehand."""
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.delenv("JOBLOG_BOOK", raising=False)
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("USERPROFILE", str(home))
    monkeypatch.chdir(tmp_path)

    def run(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr("sys.argv", ["joblog", *words])
        with pytest.raises(SystemExit) as left:
            main()
        printed = capsys.readouterr()
        return int(left.value.code or 0), printed.out, printed.err

    return run


@pytest.fixture
def porch(say: Say) -> Say:
    """A book with one job that something was written down for."""
    assert say("new", "Corner porch", "--zone", "America/Chicago", "--book", "book")[0] == 0
    line = "north eave eleven and seven eighths"
    assert say("write", line, "--at", "2026-10-05 14:30", "--book", "book")[0] == 0
    return say
