"""A listener that is killed at any instant and begun again ends as if it had not been killed."""

from __future__ import annotations

import os
import shutil
import sys
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from joblog.audio import sameness as _sameness  # noqa: F401 - loaded before the forks
from joblog.book import Book, by_ear, listened
from joblog.book.listened import keep_listened, left_over
from joblog.book.spool import ASIDE, Spool, sound_of
from joblog.book.steps import steps
from joblog.dictation import read
from joblog.model import Hearing, Job, Reading, Utterance, Vocabulary
from tests.left_behind import at_each_step, in_a_fork, left_behind

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="forks")

JOB = Job("Gull Point cottage", "America/New_York", ("north eave",))
WORDS = Vocabulary(places=JOB.places)
AT = datetime(2026, 10, 5, 18, 30, tzinfo=UTC)
KILLED, LIVES = 9, 10_000
DAY = (
    # What is said, when, and how long it sounds; "14" goes on to be "14 5/8".
    ("north eave 14", 0, 1),
    ("north eave 14 5/8", 0, 2),
    ("north eave 33 1/4", 30, 1),
    ("scratch that", 40, 1),
    ("north eave 41 1/2", 60, 1),
    ("42 1/2", 65, 1),
    ("keep both", 70, 1),
)
READ = {words: read(words, WORDS) for words, *_ in DAY}
"""Read before the forks: reading the first words takes longer than all the rest."""


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with a job and nothing in it."""
    folder = tmp_path_factory.mktemp("begun") / "book"
    with Book.create(folder) as book:
        book.add_job(JOB)
    return folder


@pytest.fixture(autouse=True)
def _each_sound_is_measured_once(
    begun: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before the forks, as the words are read: what a sound is like leaves nothing on the disk."""
    measure, known = listened._print_of, {}

    def once(path: Path) -> Any:
        sound = path.read_bytes()
        if sound not in known:
            known[sound] = measure(path)
        return known[sound]

    monkeypatch.setattr(listened, "_print_of", once)
    listen(shutil.copytree(begun, tmp_path / "beforehand"))
    assert len(known) == len(DAY)


def test_killed_before_every_single_step_and_begun_again(
    tmp_path: Path, begun: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Only the process dies here, not the machine.
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)
    folder = shutil.copytree(begun, tmp_path / "undisturbed")
    left = left_behind(folder, tmp_path / "left", lambda: listen(folder))
    undisturbed = state(folder)
    assert undisturbed["stands"] == ["14 5/8", "41 1/2", "42 1/2"]
    assert len(left) > 40
    for folder in left:
        assert in_a_fork(lambda folder=folder: listen(folder)) == 0
        assert state(folder) == undisturbed, folder.name


def test_killed_again_and_again_on_the_way(tmp_path: Path, begun: Path) -> None:
    killed_before(LIVES, shutil.copytree(begun, tmp_path / "undisturbed"))
    shutil.copytree(begun, tmp_path / "killed")
    # Every life gets a few steps further than to do the last one again.
    lives = 1
    while killed_before(14 + lives % 5, tmp_path / "killed") == KILLED:
        lives += 1
        assert lives < 200, "it never comes to an end"
    assert lives > 3
    assert state(tmp_path / "killed") == state(tmp_path / "undisturbed")


def listen(folder: Path) -> None:
    """Listens to the day, as far as it has not been caught yet."""
    with Book.at(folder) as book:
        if not book.jobs():
            book.add_job(JOB)
        with Spool(book) as spool:
            for left in left_over(book, JOB.name):
                keep(book, left.path, left.at, left.begun)
            for number in range(len(DAY)):
                if number in caught(book, spool):
                    continue
                _, after, seconds = DAY[number]
                at = AT + timedelta(seconds=after)
                path = spool.put(sound(after, seconds, number), at)
                begun = (newest(book),) if number == 1 else ()
                keep(book, path, at, begun)


def sound(after: int, seconds: int, number: int) -> np.ndarray:
    """One that begins as the same does, and ends with the number of what is said."""
    noise = np.random.default_rng(after).normal(0, 3000, 32_000).astype(np.int16)
    return noise[: seconds * 16_000 - number]


def number_of(path: Path) -> int:
    return -len(sound_of(path)) % 16_000


def caught(book: Book, spool: Spool) -> set[int]:
    kept = [book.media(one.sha256) for one in book.recordings(JOB.name)]
    return {number_of(path) for path in [*kept, *(path for path, _ in spool.waiting())]}


def newest(book: Book) -> str:
    return book.recordings(JOB.name)[-1].sha256


def keep(book: Book, path: Path, at: datetime, begun: tuple[str, ...]) -> None:
    words = DAY[number_of(path)][0]
    utterance = Utterance(0.0, 1.0, (Hearing("trade", words),))
    reading, decision = READ[words], None
    standing = [one for one in book.entries(JOB.name) if one.standing != "dropped"]
    if words == "scratch that":
        reading, decision = Reading(), by_ear.Drop(standing[-1].id)
    elif words == "keep both":
        reading, decision = Reading(), by_ear.KeepBoth()
    elif words == "42 1/2":
        decision = by_ear.Replace(standing[-1].id, reading.entries[0], words)
    keep_listened(book, JOB.name, path, at, utterance, reading, decision, begun)


def state(folder: Path) -> dict[str, Any]:
    with Book.open(folder) as book:
        versions = [
            [(one.said, one.standing, one.change, one.doubts) for one in book.versions(kept.id)]
            for kept in book.entries(JOB.name)
        ]
        return {
            "recordings": book.recordings(JOB.name),
            "utterances": book.utterances(JOB.name),
            "versions": versions,
            "steps": [(one.who, one.what, one.entries, one.state) for one in steps(book, JOB.name)],
            "stands": [
                one.entry.as_said for one in book.entries(JOB.name) if one.standing != "dropped"
            ],
            "originals": sorted(
                path.name for path in book.store.rglob("*") if path.suffix not in (".lock", "")
            ),
            # What a kill cut off is kept beside it, and was heard again whole.
            "waits": [path.name for path in (folder / "listening").iterdir() if path.name != ASIDE],
            "damage": book.damage(),
        }


def killed_before(step: int, folder: Path) -> int:
    """Listens in a fork that ends before its `step`-th step as if killed, with status KILLED; with
    `LIVES` it lives to its end."""

    def counted() -> None:
        steps = count()
        at_each_step(lambda: os._exit(KILLED) if next(steps) == step else None)
        listen(folder)

    return in_a_fork(counted)
