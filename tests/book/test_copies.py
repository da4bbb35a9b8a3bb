"""The same sound counts once, whichever way and however often it comes."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

import av
import numpy as np
import pytest
from fake_ears import Says
from numpy.typing import NDArray

from fixtures.voices import write
from joblog.audio.decode import RATE, blocks
from joblog.audio.voice import stretches
from joblog.book import Book, BookError, decisions, intake, steps
from joblog.dictation import read
from joblog.model import Job, Vocabulary

pytestmark = pytest.mark.usefixtures("heard_here")
JOB = Job("Gull Point cottage", "America/New_York")
DEMO = Path(__file__).parents[2] / "fixtures" / "demo" / "recordings"
EARS = Says("used three sheets of soffit", "used two sheets of soffit", "used one sheet of soffit")
take_in = partial(intake.take_in, recognizers=(EARS,), workers=1)
Sound = NDArray[np.float32]


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield book


@pytest.fixture(scope="module")
def spoken() -> Sound:
    """Three remarks, at the beginning of every ten seconds."""
    remarks = [
        next(stretches(blocks(path))).samples for path in sorted(DEMO.glob("monday-[123].*"))
    ]
    return np.concatenate([np.pad(one, (0, 10 * RATE - len(one))) for one in remarks])


def counted(book: Book) -> list[str]:
    return [one.said for one in book.entries(JOB.name) if one.standing != "dropped"]


def sha256(book: Book, name: str) -> str:
    return next(one.sha256 for one in book.recordings(JOB.name) if one.name == name)


def once(book: Book, path: Path) -> list[str]:
    take_in(book, JOB.name, [path])
    return counted(book)


def tagged(source: Path, path: Path) -> Path:
    """The same packets under another title."""
    with av.open(str(source)) as old, av.open(str(path), "w") as new:
        new.metadata["title"] = "north wall"
        stream = new.add_stream_from_template(old.streams.audio[0])
        for packet in old.demux(audio=0):
            if packet.dts is not None:
                packet.stream = stream
                new.mux(packet)
    return path


def test_a_recording_with_other_tags_is_passed_over_and_said_to_be(
    book: Book, tmp_path: Path, spoken: Sound
):
    first = write(tmp_path / "2026-10-05 07.32.10.m4a", spoken)
    said = once(book, first)
    again = tagged(first, tmp_path / "memo.m4a")
    result = take_in(book, JOB.name, [again])
    [note] = result.notes
    assert note.what == str(again)
    assert note.why == (
        "passed over: it has the same sound as 2026-10-05 07.32.10.m4a, which the book has."
    )
    assert (result.recordings, result.problems, counted(book)) == (0, (), said)
    assert [path.suffix for path in book.store.glob("??/*")] == [".m4a"]


def test_recordings_coded_anew_are_passed_over(book: Book, tmp_path: Path, spoken: Sound):
    said = once(book, write(tmp_path / "2026-10-05 07.32.10.ogg", spoken))
    sent = tmp_path / "sent"
    sent.mkdir()
    for ending in ("mp3", "opus", "m4a", "wav", "flac"):
        write(sent / f"sent.{ending}", spoken * 0.7)
    result = take_in(book, JOB.name, [sent])
    assert (result.recordings, len(result.notes), counted(book)) == (0, 5, said)


def test_a_copy_that_comes_together_with_the_whole_is_passed_over(
    book: Book, tmp_path: Path, spoken: Sound
):
    files = [
        write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: RATE * 43 // 2]),
        write(tmp_path / "2026-10-05 07.32.10.flac", spoken),
    ]
    result = take_in(book, JOB.name, files)
    assert (result.recordings, len(result.notes), len(counted(book))) == (1, 1, 3)


def test_the_whole_takes_the_place_of_one_that_was_cut(book: Book, tmp_path: Path, spoken: Sound):
    cut = write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: RATE * 43 // 2])
    assert len(once(book, cut)) == 3
    whole = write(tmp_path / "whole.wav", spoken)
    result = take_in(book, JOB.name, [whole])
    [note] = result.notes
    assert note.why == "takes the place of 2026-10-05 07.32.10.wav, which has only a part of it."
    assert counted(book) == list(EARS.lines)
    standing = {one.name: one.standing for one in book.recordings(JOB.name)}
    assert standing == {cut.name: "superseded", "whole.wav": "kept"}
    assert len(list(book.store.glob("??/*"))) == 2


def test_a_good_copy_takes_the_place_of_a_damaged_one_of_the_same_length(
    book: Book, tmp_path: Path, spoken: Sound
):
    good = write(tmp_path / "2026-10-05 07.32.10.flac", spoken)
    torn = bytearray(good.read_bytes())
    torn[len(torn) // 2] ^= 0xFF
    bad = tmp_path / "2026-10-05 07.32.11.flac"
    bad.write_bytes(torn)
    take_in(book, JOB.name, [bad])
    assert "is damaged" in (book.recordings(JOB.name)[0].trouble or "")
    take_in(book, JOB.name, [good])
    standing = {one.name: one.standing for one in book.recordings(JOB.name)}
    assert standing == {bad.name: "superseded", good.name: "kept"}
    assert take_in(book, JOB.name, [bad]).already_there == 1
    assert counted(book) == list(EARS.lines)


def test_the_whole_is_as_old_as_the_best_clock_of_its_copies_says(
    book: Book, tmp_path: Path, spoken: Sound
):
    take_in(book, JOB.name, [write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: RATE * 43 // 2])])
    take_in(book, JOB.name, [write(tmp_path / "whole.wav", spoken)])
    cut, whole = book.recordings(JOB.name)
    assert whole.made == cut.made


def test_what_a_person_decided_in_the_cut_one_stands_and_is_not_doubled(
    book: Book, tmp_path: Path, spoken: Sound
):
    take_in(book, JOB.name, [write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: 20 * RATE])])
    three, two = book.entries(JOB.name)
    decisions.correct(
        book, three.id, read("used four sheets of soffit", Vocabulary()), "used four sheets"
    )
    decisions.drop(book, two.id)
    take_in(book, JOB.name, [write(tmp_path / "whole.wav", spoken)])
    assert sorted(counted(book)) == ["used four sheets", "used one sheet of soffit"]


def test_what_is_heard_otherwise_where_a_person_decided_is_doubtful(
    book: Book, tmp_path: Path, spoken: Sound
):
    take_in(book, JOB.name, [write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: 9 * RATE])])
    [three] = book.entries(JOB.name)
    decisions.accept(book, three.id)
    other = (Says("used thirty sheets of soffit", "used two sheets of soffit"),)
    take_in(book, JOB.name, [write(tmp_path / "whole.wav", spoken[: 19 * RATE])], recognizers=other)
    thirty = next(e for e in book.entries(JOB.name) if e.said == "used thirty sheets of soffit")
    assert thirty.open
    assert "was decided already, in the shorter 2026-10-05 07.32.10.wav" in thirty.doubts[-1]


def test_a_recording_that_shares_half_of_its_sound_asks(book: Book, tmp_path: Path, spoken: Sound):
    take_in(book, JOB.name, [write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: 20 * RATE])])
    take_in(book, JOB.name, [write(tmp_path / "2026-10-05 07.32.20.wav", spoken[10 * RATE :])])
    first, second = book.recordings(JOB.name)
    assert first.trouble is None
    assert second.trouble is not None
    assert second.trouble.startswith("may be the same sound as 2026-10-05 07.32.10.wav")
    entries = sorted(book.entries(JOB.name), key=lambda entry: entry.id)
    assert [entry.open for entry in entries] == [False, False, True, True]


def test_other_recordings_of_the_same_voice_all_count(book: Book):
    result = take_in(book, JOB.name, [DEMO])
    assert (result.recordings, result.notes) == (13, ())
    assert not any("same sound" in (one.trouble or "") for one in book.recordings(JOB.name))


def test_recordings_of_silence_all_count(book: Book, tmp_path: Path):
    for number, seconds in enumerate((3, 4)):
        write(tmp_path / f"2026-10-05 07.32.1{number}.wav", np.zeros(seconds * RATE, np.float32))
    result = take_in(book, JOB.name, [tmp_path])
    assert (result.recordings, result.notes) == (2, ())


def test_a_sound_of_another_job_stays_there(book: Book, tmp_path: Path, spoken: Sound):
    book.add_job(Job("Other", "America/New_York"))
    take_in(book, "Other", [write(tmp_path / "2026-10-05 07.32.10.wav", spoken)])
    result = take_in(book, JOB.name, [write(tmp_path / "sent.mp3", spoken)])
    [problem] = result.problems
    assert problem.why == (
        "has the same sound as 2026-10-05 07.32.10.wav, in the job 'Other' already; left there."
    )


def test_what_an_older_joblog_took_in_is_known_by_its_sound_too(
    book: Book, tmp_path: Path, spoken: Sound
):
    take_in(book, JOB.name, [write(tmp_path / "2026-10-05 07.32.10.wav", spoken)])
    with book._writing():
        book._db.execute("DELETE FROM sound_print")
    result = take_in(book, JOB.name, [write(tmp_path / "sent.mp3", spoken)])
    assert (result.recordings, len(result.notes)) == (0, 1)


def test_a_withdrawn_recording_counts_no_more_and_can_be_brought_back(
    book: Book, tmp_path: Path, spoken: Sound
):
    path = write(tmp_path / "2026-10-05 07.32.10.wav", spoken)
    said = once(book, path)
    decisions.accept(book, book.entries(JOB.name)[0].id)
    decisions.withdraw(book, sha256(book, path.name))
    assert counted(book) == []
    assert book.recordings(JOB.name)[0].standing == "withdrawn"
    decisions.bring_back(book, sha256(book, path.name))
    assert counted(book) == said
    assert [e.standing for e in book.entries(JOB.name)] == ["accepted", "heard", "heard"]
    assert book.recordings(JOB.name)[0].standing == "kept"


def test_adding_a_withdrawn_recording_brings_it_back(book: Book, tmp_path: Path, spoken: Sound):
    path = write(tmp_path / "2026-10-05 07.32.10.wav", spoken)
    said = once(book, path)
    decisions.withdraw(book, sha256(book, path.name))
    result = take_in(book, JOB.name, [path])
    assert [note.why for note in result.notes] == ["was withdrawn; it is back, with its entries."]
    assert counted(book) == said
    assert take_in(book, JOB.name, [path]).already_there == 1


def test_a_whole_that_is_withdrawn_takes_what_was_decided_in_its_copies_along_and_back(
    book: Book, tmp_path: Path, spoken: Sound
):
    cut = write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: 9 * RATE])
    take_in(book, JOB.name, [cut])
    decisions.accept(book, book.entries(JOB.name)[0].id)
    whole = write(tmp_path / "whole.wav", spoken)
    take_in(book, JOB.name, [whole])
    before = counted(book)
    decisions.withdraw(book, sha256(book, "whole.wav"))
    assert counted(book) == []
    decisions.bring_back(book, sha256(book, "whole.wav"))
    assert counted(book) == before == list(EARS.lines)


def test_a_cut_one_can_be_brought_back_when_its_whole_is_withdrawn_and_not_before(
    book: Book, tmp_path: Path, spoken: Sound
):
    cut = write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: RATE * 43 // 2])
    said = once(book, cut)
    take_in(book, JOB.name, [write(tmp_path / "whole.wav", spoken)])
    with pytest.raises(BookError, match=r"whole\.wav has the same sound and counts"):
        decisions.bring_back(book, sha256(book, cut.name))
    assert take_in(book, JOB.name, [cut]).already_there == 1
    decisions.withdraw(book, sha256(book, "whole.wav"))
    take_in(book, JOB.name, [cut])
    assert counted(book) == said
    with pytest.raises(BookError, match="withdraw that one first"):
        decisions.bring_back(book, sha256(book, "whole.wav"))


def test_putting_a_whole_in_the_place_of_a_cut_one_is_one_step_that_joblog_took(
    book: Book, tmp_path: Path, spoken: Sound
):
    take_in(book, JOB.name, [write(tmp_path / "2026-10-05 07.32.10.wav", spoken[: 20 * RATE])])
    take_in(book, JOB.name, [write(tmp_path / "whole.wav", spoken)])
    [step] = steps.steps(book, JOB.name)
    assert step.who == "joblog"
    assert step.what == "put whole.wav in the place of: 2026-10-05 07.32.10.wav"
