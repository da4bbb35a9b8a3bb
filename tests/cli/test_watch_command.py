"""joblog watch: one line for each file, and Ctrl-C as the usual end."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image
from running import Say

LONG = 600
"""Seconds that nothing here takes, however busy the machine is."""


def picture(path: Path, shade: int = 100) -> None:
    Image.new("RGB", (64, 48), (shade, 100, 100)).save(path)


def test_once_takes_in_what_lies_there_and_says_so(porch: Say, tmp_path: Path) -> None:
    folder = tmp_path / "from phone"
    folder.mkdir()
    picture(folder / "eave.jpg")
    status, printed, complained = porch(
        "watch", str(folder), "--once", "--settle", "0.1", "--book", "book"
    )
    assert (status, complained) == (0, "")
    assert printed.splitlines() == [
        f"taken in: {folder / 'eave.jpg'}",
        "1 recordings and photos taken in",
    ]


def test_once_ends_with_what_was_wrong(porch: Say, tmp_path: Path) -> None:
    (tmp_path / "empty.jpg").touch()
    os.utime(tmp_path / "empty.jpg", (1e9, 1e9))  # long since there, so it is not waited for
    status, _, complained = porch(
        "watch", str(tmp_path), "away", "--once", "--settle", "0.1", "--book", "book"
    )
    assert status == 1
    assert complained.splitlines() == [
        "away: is not there now.",
        f"{tmp_path / 'empty.jpg'}: is empty. Copy it again from where it was made.",
    ]


@pytest.mark.skipif(sys.platform == "win32", reason="sends Ctrl-C as POSIX does")
def test_ctrl_c_ends_it_with_what_was_done(porch: Say, tmp_path: Path) -> None:
    folder = tmp_path / "from phone"
    folder.mkdir()
    picture(folder / "eave.jpg")
    words = ["watch", str(folder), "--settle", "0.1", "--book", "book"]
    process = subprocess.Popen(
        [sys.executable, "-m", "joblog", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        preexec_fn=_hears_ctrl_c,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "watching for Corner porch; Ctrl-C ends it\n"
    assert process.stdout.readline() == f"taken in: {folder / 'eave.jpg'}\n"
    process.send_signal(signal.SIGINT)
    printed, complained = process.communicate(timeout=LONG)
    assert (process.returncode, complained) == (0, "")
    assert printed == "1 recordings and photos taken in\n"


def _hears_ctrl_c() -> None:
    """What is started from something in the background would not."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
