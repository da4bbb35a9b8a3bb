"""An intake that is killed at any instant and run again ends as if it had not been killed."""

from __future__ import annotations

import random
import sys
import time
from pathlib import Path

import pytest

from joblog.book import intake
from tests.in_process import Here
from tests.left_behind import left_behind, steps_of

sys.path.append(str(Path(__file__).parents[1] / "bench"))
import killing

pytestmark = pytest.mark.usefixtures("made_anew")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return killing.invented(tmp_path_factory.mktemp("from phone"), recordings=2, photos=1)


def test_killed_at_a_random_instant_and_run_again(tmp_path: Path, folder: Path):
    """In processes of its own, each of which takes seconds; the bench does it fifty times."""
    whole, _ = killing.run(tmp_path / "undisturbed", [folder], quick=True)
    killing.run(tmp_path / "killed", [folder], True, random.Random(7).uniform(0, whole))
    killing.run(tmp_path / "killed", [folder], True)
    assert killing.state(tmp_path / "killed") == killing.state(tmp_path / "undisturbed")


def test_killed_before_every_single_step_and_run_again(
    tmp_path: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
):
    with monkeypatch.context() as here:
        here.setattr(intake, "Pool", Here)
        killing.take_in(tmp_path / "beforehand", [folder], quick=True)  # Else each fork loads it.
    book = tmp_path / "undisturbed"
    steps = steps_of(lambda: take_in_here(tmp_path / "counted", folder))
    left = left_behind(book, tmp_path / "left", lambda: take_in_here(book, folder))
    undisturbed = killing.state(book)
    assert 20 < steps < 250
    assert len(left) > 10
    for book in left:
        again = steps_of(lambda book=book: take_in_here(book, folder))
        assert again <= steps + 5  # it may have to sweep up as well
        assert killing.state(book) == undisturbed, book.name


def take_in_here(book: Path, folder: Path) -> None:
    """As the bench does, but heard in this process: a process for each would take a second."""

    time.sleep = lambda seconds: None
    intake.Pool = Here
    killing.take_in(book, [folder], quick=True)
