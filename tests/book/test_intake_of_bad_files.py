"""A file that a codec dies, hangs or swells over costs itself alone, and is named."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import numpy as np
import pytest
import saboteurs
from fake_ears import Says, photo
from PIL import Image
from saboteurs import Saboteur

from fixtures.voices import write
from joblog.book import Book, intake
from joblog.model import Job
from joblog.workers import Limits

JOB = Job("Gull Point cottage", "America/New_York")
LIMITS = Limits(memory=1 << 30, computing=10.0, idle=10.0)
take_in = partial(intake.take_in, workers=1, limits=LIMITS)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield book


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two good recordings, a good photo, and one of each that is not what it seems."""
    folder = tmp_path / "from phone"
    folder.mkdir()
    for number, name in enumerate(("2026-10-05 07.32.10", "2026-10-05 09.15.30", "bad")):
        sound = np.random.default_rng(number).uniform(-0.1, 0.1, 16_000)
        write(folder / f"{name}.wav", sound.astype(np.float32))
    photo(folder, "p.jpg", "2026:10:05 09:15:40")
    photo(folder, "bad.jpg", "2026:10:05 09:15:40", shade=7)
    return folder


@pytest.mark.parametrize(
    ("do", "why"),
    [
        (os.abort, "the program that was reading it died. It was left out"),
        (saboteurs.turn_in_circles, "could not be read to an end: nothing came of it"),
        (saboteurs.sleep, "could not be read to an end: nothing came of it"),
        (saboteurs.swell, "takes too much memory to be read. It was left out"),
    ],
)
def test_a_recording_that_cannot_be_survived_costs_itself_alone(
    book: Book, folder: Path, do: Callable[[], object], why: str
):
    result = take_in(book, JOB.name, [folder], recognizers=(Saboteur(do),))
    [problem] = result.problems
    assert problem.what == str(folder / "bad.wav")
    assert problem.why.startswith(why)
    assert (result.recordings, result.photos) == (2, 2)
    assert len(list(book.store.glob("??/*"))) == 4


@pytest.mark.parametrize("do", [os.abort, saboteurs.sleep, saboteurs.swell])
def test_a_photo_that_cannot_be_survived_costs_itself_alone(
    book: Book, folder: Path, do: Callable[[], object]
):
    result = take_in(book, JOB.name, [folder], recognizers=(Saboteur(do, "photo"),))
    [problem] = result.problems
    assert problem.what == str(folder / "bad.jpg")
    assert "It was left out" in problem.why
    assert (result.recordings, result.photos) == (3, 1)
    assert len(list(book.store.glob("??/*"))) == 4


def test_a_file_time_beyond_the_calendar_costs_that_file_alone(book: Book, folder: Path):
    Image.new("RGB", (64, 48)).save(folder / "bad.png")
    ears = (Saboteur(saboteurs.nothing, "file time"),)
    result = take_in(book, JOB.name, [folder], recognizers=ears)
    assert {problem.what for problem in result.problems} == {
        str(folder / "bad.wav"),
        str(folder / "bad.png"),
    }
    for problem in result.problems:
        assert "its file's time is in no calendar; put the time into its name" in problem.why
    assert (result.recordings, result.photos) == (2, 2)


def test_links_that_lead_back_to_themselves_are_named_and_the_rest_comes_in(
    book: Book, folder: Path
):
    (folder / "loop.wav").symlink_to(folder / "loop.wav")
    (folder / "loop").symlink_to(folder / "pool")
    (folder / "pool").symlink_to(folder / "loop")
    (folder / "round").symlink_to(folder)
    result = take_in(book, JOB.name, [folder, folder / "loop"], recognizers=(Says(),))
    assert {problem.what for problem in result.problems} == {
        str(folder / name) for name in ("loop", "loop.wav", "pool")
    }
    assert {problem.why for problem in result.problems} == {
        "is a link that leads back to itself. Name the file that it was meant for."
    }
    assert (result.recordings, result.photos) == (3, 2)


def test_a_folder_that_may_not_be_entered_is_named_and_the_rest_comes_in(
    book: Book, folder: Path, monkeypatch: pytest.MonkeyPatch
):
    (folder / "locked").mkdir()
    scandir, is_dir = os.scandir, Path.is_dir

    def refuse(path: object, real: Callable[..., object] = scandir) -> object:
        if "locked" in str(path):
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return real(path)

    # Whoever runs the tests as the system's owner may enter everything.
    def looked_at(path: Path, **how: object) -> object:
        return refuse(path, is_dir) if path.parent.name == "locked" else is_dir(path)

    monkeypatch.setattr(os, "scandir", refuse)
    monkeypatch.setattr(Path, "is_dir", looked_at)
    named = folder / "locked" / "a.wav"
    result = take_in(book, JOB.name, [folder, named], recognizers=(Says(),))
    assert [problem.what for problem in result.problems] == [str(folder / "locked"), str(named)]
    assert result.problems[0].why.startswith("there is no permission to read")
    assert (result.recordings, result.photos) == (3, 2)
