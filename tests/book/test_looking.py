"""A photo is drawn away from the screen, whatever is wrong with it."""

from __future__ import annotations

import io
import sys
from multiprocessing import resource_tracker
from pathlib import Path

import pytest
from fake_ears import photo

from joblog.book import looking
from joblog.book.looking import NotDrawnError, drawn
from joblog.workers import Limits


def test_a_photo_is_made_small(tmp_path: Path):
    assert drawn(photo(tmp_path, "p.jpg", "2026:10:05 09:15:40"), (32, 32)).size == (32, 24)


def test_one_that_is_damaged_says_so_and_the_next_is_drawn(tmp_path: Path):
    bad = tmp_path / "bad.jpg"
    bad.write_bytes(b"\xff\xd8\xff nothing")
    with pytest.raises(NotDrawnError, match=r"bad\.jpg: is damaged or cut off"):
        drawn(bad, (32, 32))
    assert drawn(photo(tmp_path, "p.jpg", "2026:10:05 09:15:40"), (32, 32)).size == (32, 24)


def test_one_that_takes_too_much_says_so(tmp_path: Path):
    path = photo(tmp_path, "p.jpg", "2026:10:05 09:15:40")
    with pytest.raises(NotDrawnError, match=r"p\.jpg: takes too much memory"):
        drawn(path, (32, 32), Limits(memory=1 << 20, idle=120.0))


def test_one_that_a_process_was_lost_over_is_not_tried_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    path = photo(tmp_path, "p.jpg", "2026:10:05 09:15:40")
    monkeypatch.setattr(looking, "_fatal", {path: "died"})
    monkeypatch.setattr(looking, "_standing", None)
    with pytest.raises(NotDrawnError, match=r"p\.jpg: makes the program stop"):
        drawn(path, (32, 32))
    [(_, answer)] = looking.all_drawn([path], (32, 32))
    assert isinstance(answer, NotDrawnError)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows hands on no files")
def test_a_screen_that_keeps_errors_to_itself_is_no_hindrance(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    class NoFile(io.StringIO):
        def fileno(self) -> int:
            return -1

    path = photo(tmp_path, "p.jpg", "2026:10:05 09:15:40")
    monkeypatch.setattr(sys, "stderr", NoFile())
    # Started anew, as at the first photo of an evening.
    monkeypatch.setattr(resource_tracker, "getfd", resource_tracker.ResourceTracker().getfd)
    assert drawn(path, (32, 32), Limits()).size == (32, 24)
