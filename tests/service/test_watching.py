"""What lands in a watched folder is taken in once, when it has come to rest, and whole."""

from __future__ import annotations

import shutil
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from fixtures.voices import write
from joblog.audio.decode import RATE, blocks
from joblog.audio.voice import stretches
from joblog.book import Book, decisions, intake, keep
from joblog.service import Desk, ServiceError, open_desk, record, watching
from joblog.service.errors import refusing
from joblog.service.watching import News, Watcher

sys.path.append(str(Path(__file__).parents[1] / "book"))
import two_jobs
from fake_ears import Says

pytestmark = pytest.mark.usefixtures("heard_here")
JOB = "Corner porch"
DEMO = Path(__file__).parents[2] / "fixtures" / "demo" / "recordings"
EARS = Says("used three sheets of soffit", "used two sheets of soffit", "used one sheet of soffit")
STILL = 5.0
LONG = 600
"""Seconds that nothing here takes, however busy the machine is."""


def take_in(desk: Desk, paths: Sequence[Path], *, model: Path | None = None) -> intake.Intake:
    with refusing():
        return intake.take_in(desk.book, desk.job.name, paths, recognizers=(EARS,), workers=1)


@pytest.fixture
def desk(book: Book) -> Desk:
    return open_desk(book, JOB)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "from phone"
    made.mkdir()
    return made


class Time:
    """A clock that goes on when it is told to."""

    now = 1000.0

    def __call__(self) -> float:
        return self.now


class Watch:
    """A watcher whose time is in the hands of the test."""

    def __init__(self, desk: Desk, *folders: Path) -> None:
        self.told: list[News] = []
        self.clock = Time()
        self.watcher = Watcher(desk, folders, self.told.append, STILL, now=self.clock, take=take_in)

    def after(self, seconds: float) -> list[str]:
        """Looks after so long, and tells the new lines."""
        self.clock.now += seconds
        before = len(self.told)
        self.watcher.look()
        return [f"{one.kind}: {Path(one.what).name}" for one in self.told[before:]]


@pytest.fixture
def watch(desk: Desk, folder: Path) -> Watch:
    return Watch(desk, folder)


@pytest.fixture(scope="module")
def spoken() -> np.ndarray:
    """Three remarks, one every ten seconds."""
    remarks = [
        next(stretches(blocks(path))).samples for path in sorted(DEMO.glob("monday-[123].*"))
    ]
    return np.concatenate([np.pad(one, (0, 10 * RATE - len(one))) for one in remarks])


@pytest.fixture(scope="module")
def recording(tmp_path_factory: pytest.TempPathFactory, spoken: np.ndarray) -> bytes:
    """A WAV file that says at its head how long it is, as recorders write it at last."""
    return write(tmp_path_factory.mktemp("made") / "whole.wav", spoken).read_bytes()


NAME = "2026-10-05 07.32.10.wav"


def picture(path: Path, shade: int = 100) -> Path:
    Image.new("RGB", (64, 48), (shade, 100, 100)).save(path, "JPEG")
    return path


def counted(desk: Desk) -> list[str]:
    every = desk.book.entries(desk.job.name)
    return [one.said for one in every if one.standing != "dropped"]


def standing(desk: Desk) -> list[str]:
    return [one.standing for one in record.recordings(desk)]


# --- when -------------------------------------------------------------------------------------


def test_what_lies_there_is_taken_in_when_it_has_stood_still(
    watch: Watch, folder: Path, recording: bytes, desk: Desk
) -> None:
    (folder / NAME).write_bytes(recording)
    picture(folder / "eave.jpg")
    assert watch.after(0) == []
    assert watch.after(STILL - 1) == []
    assert watch.after(1) == [f"taken in: {NAME}", "taken in: eave.jpg"]
    assert len(counted(desk)) == 3
    assert (watch.watcher.taken, watch.watcher.done) == (2, True)
    assert watch.after(STILL) == []


def test_what_is_still_being_copied_is_waited_for(
    watch: Watch, folder: Path, recording: bytes, desk: Desk
) -> None:
    path = folder / NAME
    for part in range(1, 5):
        path.write_bytes(recording[: len(recording) * part // 4])
        assert watch.after(STILL - 1) == []
        assert record.recordings(desk) == ()
    assert watch.after(STILL) == [f"taken in: {NAME}"]
    assert (len(counted(desk)), standing(desk)) == (3, ["kept"])


@pytest.mark.parametrize("name", ["eave.jpg.part", "eave.jpg.crdownload", ".eave.jpg", "~eave.jpg"])
def test_what_is_named_as_being_fetched_is_left_until_it_is_named_otherwise(
    watch: Watch, folder: Path, name: str
) -> None:
    path = picture(folder / name)
    watch.after(0)
    assert watch.after(100 * STILL) == []
    path.rename(folder / "eave.jpg")
    watch.after(0)
    assert watch.after(STILL) == ["taken in: eave.jpg"]


@pytest.mark.parametrize("name", [NAME, "eave.jpg"])
def test_what_breaks_off_is_waited_for_longer(
    watch: Watch, folder: Path, recording: bytes, name: str, desk: Desk
) -> None:
    whole = recording if name == NAME else picture(folder / name).read_bytes()
    path = folder / name
    path.write_bytes(whole[: len(whole) // 2])
    watch.after(0)
    assert watch.after(STILL) == []  # the copying was held up
    assert watch.after(STILL) == []
    path.write_bytes(whole)
    watch.after(0)
    assert watch.after(STILL) == [f"taken in: {name}"]
    assert len(record.recordings(desk)) + len(desk.book.photos(JOB)) == 1


def test_what_breaks_off_for_good_is_taken_in_at_last(
    watch: Watch, folder: Path, recording: bytes, desk: Desk
) -> None:
    (folder / NAME).write_bytes(recording[: len(recording) // 2])
    watch.after(0)
    assert watch.after(STILL) == []
    assert watch.after(STILL * watching.PATIENCE) == [f"taken in: {NAME}"]
    [one] = record.recordings(desk)
    assert (one.trouble or "").startswith("ends early")


def test_what_grows_after_it_was_taken_in_is_superseded_by_the_whole(
    watch: Watch, folder: Path, recording: bytes, desk: Desk
) -> None:
    path = folder / NAME
    path.write_bytes(recording[: len(recording) // 2])
    watch.after(0)
    watch.after(STILL)
    watch.after(STILL * watching.PATIENCE)
    first = counted(desk)
    assert len(first) == 2
    path.write_bytes(recording)
    watch.after(0)
    assert watch.after(STILL) == [f"noted: {NAME}"]
    assert "takes the place of" in watch.told[-1].why
    assert sorted(standing(desk)) == ["kept", "superseded"]
    assert len(counted(desk)) == 3


# --- what -------------------------------------------------------------------------------------


def test_what_the_book_has_is_passed_over_without_a_word(
    desk: Desk, folder: Path, recording: bytes
) -> None:
    (folder / NAME).write_bytes(recording)
    take_in(desk, [folder])
    watch = Watch(desk, folder)
    watch.after(0)
    assert watch.after(STILL) == []
    assert watch.watcher.done


def test_what_a_person_withdrew_does_not_come_back_by_lying_there(
    desk: Desk, folder: Path, recording: bytes
) -> None:
    (folder / NAME).write_bytes(recording)
    take_in(desk, [folder])
    decisions.withdraw(desk.book, record.recordings(desk)[0].sha256)
    watch = Watch(desk, folder)
    watch.after(0)
    watch.after(STILL)
    assert standing(desk) == ["withdrawn"]


def test_what_is_neither_is_left_alone_and_what_is_wrong_is_told_once(
    watch: Watch, folder: Path
) -> None:
    (folder / "list.txt").write_text("three sheets")
    (folder / "broken.jpg").write_bytes(b"no picture")
    watch.after(0)
    watch.after(STILL)
    assert watch.after(STILL * watching.PATIENCE) == ["problem: broken.jpg"]
    assert watch.after(STILL * watching.PATIENCE) == []
    assert watch.watcher.done


def test_the_folder_of_the_book_and_hidden_folders_are_left_alone(
    desk: Desk, tmp_path: Path
) -> None:
    (tmp_path / ".trash").mkdir()
    picture(tmp_path / ".trash" / "old.jpg")
    picture(desk.book.folder / "in the book.jpg")
    (tmp_path / "deeper").mkdir()
    picture(tmp_path / "deeper" / "eave.jpg")
    watch = Watch(desk, tmp_path)
    watch.after(0)
    assert watch.after(STILL) == ["taken in: eave.jpg"]


# --- what comes in between --------------------------------------------------------------------


def test_a_folder_that_goes_and_comes_back_goes_on(watch: Watch, folder: Path) -> None:
    picture(folder / "eave.jpg")
    watch.after(0)
    watch.after(STILL)
    away = folder.rename(folder.with_name("unplugged"))
    assert watch.after(STILL) == [f"waiting: {folder.name}"]
    assert watch.after(STILL) == []
    picture(away / "wall.jpg", shade=50)
    away.rename(folder)
    assert watch.after(STILL) == [f"back: {folder.name}"]
    assert watch.after(STILL) == ["taken in: wall.jpg"]


def test_a_file_that_goes_before_it_was_taken_in_is_forgotten(watch: Watch, folder: Path) -> None:
    path = picture(folder / "eave.jpg")
    watch.after(0)
    path.unlink()
    assert watch.after(STILL) == []
    assert watch.watcher.done


def test_while_other_files_are_being_taken_in_it_waits_and_tries_again(
    watch: Watch, folder: Path, desk: Desk
) -> None:
    picture(folder / "eave.jpg")
    watch.after(0)
    with keep.taking_in(desk.book):
        assert watch.after(STILL) == [f"waiting: {JOB}"]
        assert watch.after(watching.AGAIN) == []
    assert watch.after(watching.AGAIN) == ["taken in: eave.jpg"]


def test_what_is_wrong_with_the_book_is_told_once_and_tried_again_later(
    watch: Watch, folder: Path
) -> None:
    picture(folder / "eave.jpg")

    def full(*_: object, **__: object) -> intake.Intake:
        raise ServiceError("the disk is full.")

    watch.watcher.take = full
    watch.after(0)
    assert watch.after(STILL) == [f"waiting: {JOB}"]
    assert watch.after(watching.LATER) == []
    watch.watcher.take = take_in
    assert watch.after(watching.LATER) == ["taken in: eave.jpg"]


def test_stopped_in_the_middle_it_says_what_was_taken_in_and_no_more(
    watch: Watch, folder: Path
) -> None:
    for shade in (1, 100):
        picture(folder / f"{shade}.jpg", shade)

    def stopped(desk: Desk, paths: Sequence[Path], **_: object) -> intake.Intake:
        return replace(take_in(desk, paths[:1]), stopped=True)

    watch.watcher.take = stopped
    watch.after(0)
    assert watch.after(STILL) == ["taken in: 1.jpg"]
    assert watch.watcher.stopped
    assert not watch.watcher.done


# --- in real time, by a folder that is written to ---------------------------------------------


@pytest.fixture
def real(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(watching, "Watcher", partial(Watcher, take=take_in))
    yield


@pytest.mark.parametrize("poll", [False, True])
@pytest.mark.usefixtures("real")
def test_recordings_and_photos_that_are_written_slowly_come_in_whole_and_once(
    desk: Desk, folder: Path, recording: bytes, poll: bool
) -> None:
    writer = threading.Thread(target=_write_slowly, args=(folder, recording))
    writer.start()
    begun = time.monotonic()
    told: list[News] = []

    def enough() -> bool:
        assert time.monotonic() - begun < LONG
        return len(desk.book.photos(JOB)) == 2 and len(counted(desk)) == 3

    watching.watch(desk, [folder], told.append, still=0.5, poll=poll, stop=enough)
    writer.join()
    assert [one for one in told if one.kind == "problem"] == []
    assert standing(desk).count("kept") == 1
    assert len(counted(desk)) == 3


def _write_slowly(folder: Path, recording: bytes) -> None:
    picture(folder / "first.jpg")
    with (folder / NAME).open("wb", buffering=0) as file:
        for at in range(0, len(recording), 1 << 17):
            file.write(recording[at : at + (1 << 17)])
            time.sleep(0.1)
    shutil.copy(picture(folder / "second.jpg.part", shade=10), folder / "second.jpg")


@pytest.mark.usefixtures("real")
def test_once_takes_in_what_lies_there_and_ends(desk: Desk, folder: Path, recording: bytes) -> None:
    (folder / NAME).write_bytes(recording)
    told: list[News] = []
    assert watching.watch(desk, [folder], told.append, still=0.1, once=True) == 1
    assert [one.kind for one in told] == ["taken in"]


@pytest.mark.usefixtures("real")
def test_a_folder_that_comes_only_later_is_found(desk: Desk, tmp_path: Path) -> None:
    folder = tmp_path / "later"
    told: list[News] = []
    begun = time.monotonic()

    def stop() -> bool:
        assert time.monotonic() - begun < LONG
        if told and not folder.exists():
            folder.mkdir()
            picture(folder / "eave.jpg")
        return any(one.kind == "taken in" for one in told)

    watching.watch(desk, [folder], told.append, still=0.1, stop=stop)
    assert [one.kind for one in told] == ["waiting", "back", "taken in"]


@pytest.mark.usefixtures("real")
def test_ctrl_c_ends_it_without_a_word(
    desk: Desk, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    picture(folder / "eave.jpg")

    def pressed(self: object, seconds: float) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(watching._Bell, "wait", pressed)
    assert watching.watch(desk, [folder], pytest.fail, still=0.1) == 0


def test_photos_that_a_killed_watch_had_not_come_to_tie_are_tied(tmp_path: Path) -> None:
    (tmp_path / "from phone").mkdir()
    with two_jobs.a_book(tmp_path) as book:
        tied = book.ties(two_jobs.JOB.name)
        with book._writing():
            book._db.execute("DELETE FROM tie")
        told: list[News] = []
        desk = open_desk(book, two_jobs.JOB.name)
        watching.watch(desk, [tmp_path / "from phone"], told.append, still=0.1, once=True)
        assert tied and book.ties(two_jobs.JOB.name) == tied
        assert told == []
