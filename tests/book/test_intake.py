"""Files and folders come in whole, once, in order, whatever is wrong with some of them."""

from __future__ import annotations

import errno
import os
import signal
import sqlite3
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from fractions import Fraction
from functools import partial
from pathlib import Path

import fake_ears
import pytest
from fake_ears import photo, recording

from joblog.book import Book, BookError, decisions, intake, media, ties
from joblog.book.progress import Far
from joblog.model import Job, Problem

JOB = Job("Gull Point cottage", "America/New_York")
take_in = partial(intake.take_in, recognizers=(), listen=fake_ears.listen, workers=1)
in_one_process = pytest.mark.usefixtures("heard_here")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield book


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "from phone").mkdir()
    return tmp_path / "from phone"


def a_morning(folder: Path) -> list[Path]:
    """Named so that the order of the names is not the order in which they were made."""
    return [
        recording(
            folder, "z 2026-10-05 07-32-10.wav",
            "north wall eleven and seven eighths", "scratch that", "used three sheets of soffit",
        ),
        recording(folder, "a 2026-10-05 09-15-30.wav", "take a photo of the north wall"),
        photo(folder, "p.jpg", "2026:10:05 09:15:40"),
    ]  # fmt: skip


def dump(book: Book) -> list[str]:
    return list(book._db.conn.iterdump())


def test_recordings_and_photos_of_a_folder_come_in_with_their_entries_and_ties(
    book: Book, folder: Path
):
    originals = a_morning(folder)
    result = take_in(book, JOB.name, [folder])
    assert (result.recordings, result.photos, result.already_there) == (2, 1, 0)
    assert (result.problems, result.left_out, result.stopped) == ((), (), False)
    assert [e.entry.kind for e in book.entries(JOB.name)] == [
        "measure", "correction", "used", "photo",
    ]  # fmt: skip
    assert [e.standing for e in book.entries(JOB.name)][:2] == ["dropped", "accepted"]
    assert book.entries(JOB.name)[0].entry.inches == Fraction(95, 8)
    [tie] = book.ties(JOB.name)
    assert tie.entry == book.entries(JOB.name)[3].id
    kept = sorted(path.read_bytes() for path in book.store.glob("??/*"))
    assert kept == sorted(path.read_bytes() for path in originals)


@in_one_process
def test_a_photo_of_an_entry_that_is_dropped_goes_to_the_next_nearest(book: Book, folder: Path):
    recording(folder, "2026-10-05 09-15-30.wav", "take a photo", "used three sheets of soffit")
    photo(folder, "p.jpg", "2026:10:05 09:15:40")
    take_in(book, JOB.name, [folder])
    cue, used = (e.id for e in book.entries(JOB.name))
    assert [tie.entry for tie in book.ties(JOB.name)] == [cue]
    decisions.drop(book, cue)
    assert [tie.entry for tie in book.ties(JOB.name)] == [used]
    decisions.undo(book, cue)
    assert [tie.entry for tie in book.ties(JOB.name)] == [cue]


@in_one_process
def test_ids_follow_the_time_at_which_recordings_were_made(book: Book, folder: Path):
    a_morning(folder)
    take_in(book, JOB.name, [folder])
    assert [e.id for e in book.entries(JOB.name)] == [1, 2, 3, 4]
    assert [u.recording for u in map(book.utterance, [1, 4])] == [
        r.sha256 for r in book.recordings(JOB.name)
    ]


@in_one_process
def test_what_was_made_comes_from_the_source_not_from_the_copy(book: Book, folder: Path):
    path = recording(folder, "2026-10-05 07-32-10.wav", "used three sheets of soffit")
    take_in(book, JOB.name, [path])
    [kept] = book.recordings(JOB.name)
    assert kept.name == "2026-10-05 07-32-10.wav"
    assert (kept.made.at, kept.made.source) == (
        datetime(2026, 10, 5, 11, 32, 10, tzinfo=UTC), "file name",
    )  # fmt: skip


@in_one_process
def test_without_a_better_clock_the_file_was_closed_when_the_recording_ended(
    book: Book, folder: Path
):
    path = recording(folder, "note.wav", "used three sheets of soffit", "used two sheets")
    ended = datetime(2026, 10, 5, 12, 0, tzinfo=UTC)
    os.utime(path, (ended.timestamp(), ended.timestamp()))
    take_in(book, JOB.name, [path])
    [kept] = book.recordings(JOB.name)
    assert kept.seconds == 20
    assert kept.made.at == datetime(2026, 10, 5, 11, 59, 40, tzinfo=UTC)


@in_one_process
def test_a_place_holds_for_the_rest_of_the_day_and_no_longer(book: Book, folder: Path):
    recording(folder, "2026-10-05 07-32-10.wav", "north wall eleven inches", "twelve inches")
    recording(folder, "2026-10-05 09-15-30.wav", "thirteen inches")
    recording(folder, "2026-10-06 07-30-00.wav", "fourteen inches")
    take_in(book, JOB.name, [folder])
    found = [one.entry for one in book.entries(JOB.name)]
    assert [one.place for one in found] == ["north wall", "north wall", "north wall", None]
    assert [one.carried for one in found] == [(), ("place",), ("place",), ()]


@in_one_process
def test_taking_in_the_same_again_changes_nothing(book: Book, folder: Path):
    a_morning(folder)
    take_in(book, JOB.name, [folder])
    before = dump(book)
    again = take_in(book, JOB.name, [folder])
    assert (again.recordings, again.photos, again.already_there) == (0, 0, 3)
    assert dump(book) == before


@in_one_process
def test_a_copy_under_another_name_changes_nothing(book: Book, folder: Path):
    recording(folder, "2026-10-05 07-32-10.wav", "used three sheets of soffit")
    recording(folder, "copy.wav", "used three sheets of soffit")
    result = take_in(book, JOB.name, [folder])
    assert (result.recordings, result.already_there) == (1, 1)


@in_one_process
def test_a_recording_in_which_nobody_speaks_is_kept_and_said_to_be_silent(book: Book, folder: Path):
    take_in(book, JOB.name, [recording(folder, "2026-10-05 07-32-10.wav", "SILENCE")])
    [kept] = book.recordings(JOB.name)
    assert kept.trouble == "no speech was found in it"
    assert book.media(kept.sha256).exists()


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("CORRUPT", "is not a recording that can be read"),
        ("SURPRISES", "could not be read (RuntimeError: a codec went wrong)."),
        ("DIES", "the program that was reading it died"),
    ],
)
def test_a_bad_recording_gets_one_line_and_the_rest_comes_in(
    book: Book, folder: Path, line: str, why: str
):
    bad = recording(folder, "2026-10-05 07-32-10.wav", line)
    good = [
        recording(folder, "2026-10-05 07-40-00.wav", "used three sheets of soffit"),
        photo(folder, "p.jpg", "2026:10:05 09:15:40"),
    ]
    result = take_in(book, JOB.name, [folder])
    [problem] = result.problems
    assert problem.what == str(bad)
    assert problem.why.startswith(why)
    assert (result.recordings, result.photos) == (1, 1)
    kept = sorted(path.read_bytes() for path in book.store.glob("??/*"))
    assert kept == sorted(path.read_bytes() for path in good)


def test_a_recognizer_that_cannot_work_is_said_once_and_photos_come_in(book: Book, folder: Path):
    recording(folder, "2026-10-05 07-32-10.wav", "DEAF")
    recording(folder, "2026-10-05 07-40-00.wav", "DEAF", "again")
    photo(folder, "p.jpg", "2026:10:05 09:15:40")
    result = take_in(book, JOB.name, [folder])
    assert result.problems == (
        Problem("recordings", "there is no model in the folder; name another"),
    )
    assert (result.recordings, result.photos) == (0, 1)


@in_one_process
def test_a_corrupt_photo_gets_one_line_and_the_rest_comes_in(book: Book, folder: Path):
    bad = folder / "bad.jpg"
    bad.write_bytes(photo(folder, "p.jpg", "2026:10:05 09:15:40").read_bytes()[:200])
    result = take_in(book, JOB.name, [folder])
    assert [problem.what for problem in result.problems] == [str(bad)]
    assert result.photos == 1


@in_one_process
def test_a_full_disk_gets_one_line_a_file_and_leaves_nothing_half_written(
    book: Book, folder: Path, monkeypatch: pytest.MonkeyPatch
):
    a_morning(folder)
    real = media._move

    def full_for_sound(passing: Path, place: Path) -> None:
        if place.suffix == ".wav":
            raise OSError(errno.ENOSPC, "No space left on device")
        real(passing, place)

    monkeypatch.setattr(media, "_move", full_for_sound)
    result = take_in(book, JOB.name, [folder])
    assert [Path(problem.what).name[0] for problem in result.problems] == ["a", "z"]
    assert result.problems[0].why.startswith("the disk is full. Make room")
    assert (result.recordings, result.photos) == (0, 1)
    assert [p.suffix for p in book.store.rglob("*") if p.is_file()].count(".wav") == 0


@in_one_process
def test_a_database_that_cannot_grow_keeps_what_was_finished(book: Book, folder: Path):
    a_morning(folder)
    pages = book._rows("PRAGMA page_count")[0]["page_count"]
    book._db.execute(f"PRAGMA max_page_count = {pages + 20}")
    recording(folder, "2026-10-05 08-00-00.wav", *["used three sheets of soffit"] * 500)
    result = take_in(book, JOB.name, [folder])
    [problem] = result.problems
    assert problem.what.endswith("2026-10-05 08-00-00.wav")
    assert "the disk is full" in problem.why
    assert (result.recordings, result.photos) == (2, 1)
    assert book._rows("PRAGMA integrity_check") == [{"integrity_check": "ok"}]


@in_one_process
def test_ties_that_cannot_be_written_are_a_problem_and_come_the_next_time(
    book: Book, folder: Path, monkeypatch: pytest.MonkeyPatch
):
    a_morning(folder)
    with monkeypatch.context() as patched:
        patched.setattr(ties, "tie_photos", full)
        result = take_in(book, JOB.name, [folder])
    assert result.problems == (
        Problem(JOB.name, "photos are not tied to entries: the disk is full."),
    )
    assert (result.recordings, result.photos, book.ties(JOB.name)) == (2, 1, ())
    take_in(book, JOB.name, [folder])
    assert len(book.ties(JOB.name)) == 1


def full(*_: object) -> None:
    raise BookError("the disk is full.")


@in_one_process
def test_a_recording_of_another_job_stays_there(book: Book, folder: Path):
    book.add_job(Job("Other", "America/New_York"))
    path = recording(folder, "2026-10-05 07-32-10.wav", "used three sheets of soffit")
    take_in(book, JOB.name, [path])
    result = take_in(book, "Other", [path])
    assert result.problems == (
        Problem(str(path), "is in the job 'Gull Point cottage' already; left there."),
    )
    assert book.entries("Other") == ()


def test_an_unknown_job_is_refused_before_anything_is_copied(book: Book, folder: Path):
    a_morning(folder)
    with pytest.raises(BookError, match="no job called"):
        take_in(book, "Nowhere", [folder])
    assert not any(path.is_file() for path in book.store.glob("*/**/*"))


def test_progress_counts_every_file_to_the_end(book: Book, folder: Path):
    a_morning(folder)
    recording(folder, "broken.wav", "CORRUPT")
    told: list[Far] = []
    take_in(book, JOB.name, [folder], progress=told.append)
    assert {far.files for far in told[1:]} == {4}
    assert [far.done for far in told] == sorted(far.done for far in told)
    assert told[-1].done == 4


@in_one_process
def test_progress_goes_through_its_steps_in_turn(book: Book, folder: Path):
    recording(folder, "2026-10-05 07-32-10.wav", "used three sheets of soffit")
    told: list[Far] = []
    take_in(book, JOB.name, [folder], progress=told.append)
    assert list(dict.fromkeys(far.doing for far in told)) == [
        "looking round", "copying", "getting ready", "hearing", "tying",
    ]  # fmt: skip


@in_one_process
def test_what_is_in_the_book_is_told_when_it_is_added_again(book: Book, folder: Path):
    a_morning(folder)
    take_in(book, JOB.name, [folder])
    recording(folder, "2026-10-06 07-32-10.wav", "used three sheets of soffit")
    told: list[Far] = []
    take_in(book, JOB.name, [folder], progress=told.append)
    [ready] = [far for far in told if far.doing == "getting ready"]
    assert (ready.already, ready.recordings, ready.files) == (3, 1, 4)


@in_one_process
def test_troubles_of_what_came_in_are_told(book: Book, folder: Path):
    recording(folder, "2026-10-05 07-32-10.wav", "SILENCE")
    result = take_in(book, JOB.name, [folder])
    assert result.troubles == (Problem("2026-10-05 07-32-10.wav", "no speech was found in it"),)


@in_one_process
def test_a_name_that_is_no_text_is_shown_as_far_as_it_goes(book: Book, folder: Path):
    path = Path(os.fsdecode(os.fsencode(folder) + b"/2026-10-05 07-32-10 \xff.wav"))
    path.write_text("used three sheets of soffit")
    take_in(book, JOB.name, [folder])
    assert book.recordings(JOB.name)[0].name == "2026-10-05 07-32-10 \N{REPLACEMENT CHARACTER}.wav"


@pytest.fixture
def hearing_ctrl_c() -> Iterator[None]:
    """What was started in the background would not."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("hearing_ctrl_c")
def test_ctrl_c_ends_it_cleanly_and_again_does_the_rest(book: Book, folder: Path):
    a_morning(folder)
    recording(folder, "2026-10-06 07-32-10.wav", "SLOW 600", "used three sheets of soffit")
    # As soon as the first recordings are in.
    threading.Thread(target=interrupt_when, args=(book.folder / "book.sqlite", 2)).start()
    result = take_in(book, JOB.name, [folder])
    assert result.stopped
    assert result.left >= 1
    assert result.problems == ()
    assert len(book.recordings(JOB.name)) == 2
    recording(folder, "2026-10-06 07-32-10.wav", "SLOW 0", "used three sheets of soffit")
    rest = take_in(book, JOB.name, [folder])
    assert (rest.recordings, rest.stopped) == (1, False)


def interrupt_when(file: Path, recordings: int) -> None:
    watching = sqlite3.connect(file)
    until = time.monotonic() + 300  # only so that no fault hangs
    while time.monotonic() < until:
        if watching.execute("SELECT count(*) FROM recording").fetchone()[0] >= recordings:
            break
        time.sleep(0.02)
    watching.close()
    os.kill(os.getpid(), signal.SIGINT)
