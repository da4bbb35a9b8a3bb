"""What a command loads before it answers."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

TRIED = """
import sys
from joblog.cli.command import commands
commands(sys.argv[1:], standalone_mode=False)
print("loaded:", *sorted(sys.modules))
"""


def loaded_by(at: Path, *words: str) -> frozenset[str]:
    """The modules that are there once a command has answered, in a folder of its own."""
    here = {"HOME": str(at), "USERPROFILE": str(at)}
    shown = subprocess.run(
        [sys.executable, "-c", TRIED, *words],
        cwd=at,
        env={**os.environ, **here, "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    )
    return frozenset(shown.stdout.rpartition("loaded: ")[2].split())


def test_words_are_tried_without_what_only_a_book_needs(tmp_path: Path) -> None:
    loaded = loaded_by(tmp_path, "parse", "used three sheets of vented soffit")
    assert not loaded & {"joblog.book.store", "sqlite_utils", "numpy", "pandas", "textual", "vosk"}


def test_words_are_tried_with_the_book_where_there_is_one(tmp_path: Path) -> None:
    loaded_by(tmp_path, "new", "Corner porch", "--book", str(tmp_path))
    assert "joblog.book.store" in loaded_by(tmp_path, "parse", "used three sheets of soffit")
