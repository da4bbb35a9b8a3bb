"""A book keeps what it is given, exactly, and says plainly what it cannot do."""

from __future__ import annotations

import sqlite3
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import Book, BookError, decisions, keep
from joblog.model import (
    Alternative,
    Direction,
    Doubt,
    Entry,
    HeardUtterance,
    Hearing,
    Item,
    Job,
    Look,
    Moment,
    Photo,
    Plan,
    PlannedItem,
    PlannedTask,
    Position,
    Reading,
    Recording,
    Task,
    Utterance,
    Word,
)

JOB = Job("Gull Point cottage", "America/New_York", ("north wall", "dormer"))
MADE = datetime(2026, 10, 5, 11, 32, 10, tzinfo=UTC)
MEASURE = Entry("measure", place="north wall", inches=Fraction(95, 8), as_said="11 7/8")


@pytest.fixture
def book(tmp_path: Path):
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        yield book


def heard(text: str, *entries: Entry, doubts: tuple[Doubt, ...] = (), start: float = 1.25):
    words = (Word("eleven", start, start + 0.1 + 0.2, 0.1), Word("ça", start, start, 1.0))
    hearings = (
        Hearing("trade", text, words, (Alternative(text, -1 / 3),), 0.7),
        Hearing("general free", text + "?"),
    )
    utterance = Utterance(start, start + 2, hearings)
    return HeardUtterance(utterance, Reading(entries, doubts, "so there"))


def recording(path: Path, made: datetime = MADE) -> Recording:
    from joblog.book.media import fingerprint

    return Recording(fingerprint(path), path.name, Moment(made, "container"), 15.5)


def a_file(folder: Path, name: str, content: bytes) -> Path:
    path = folder / name
    path.write_bytes(content)
    return path


def test_a_job_and_its_plan_come_back_exactly(book: Book):
    panel = Item("soffit panel", "sheet", ("panel",), (("bundle", Fraction(12)),), Fraction(144))
    plan = Plan(
        (
            PlannedItem(panel, Fraction(95, 8), Decimal("13.50"), Fraction(1, 3)),
            PlannedItem(Item("nails", "lb"), Fraction(41)),
        ),
        (PlannedTask(Task("fascia", ("the fascia",)), Fraction(11, 2), Decimal("41.00")),),
        ("north wall", "garage"),
    )
    book.set_plan(JOB.name, Plan((PlannedItem(Item("old", "each"), Fraction(1)),)))
    book.set_plan(JOB.name, plan)
    assert book.jobs() == (JOB,)
    assert book.plan(JOB.name) == plan
    assert str(book.plan(JOB.name).items[0].unit_cost) == "13.50"


def test_no_exact_number_is_kept_as_a_float(book: Book, tmp_path: Path):
    path = a_file(tmp_path, "a.wav", b"sound")
    keep.keep_recording(book, JOB.name, path, recording(path), [heard("eleven", MEASURE)])
    content = book._rows("SELECT content FROM entry_version")[0]["content"]
    assert '"inches": "95/8"' in content
    floats = {
        f"{table}.{column['name']}"
        for [table] in book._db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        for column in book._rows(f"PRAGMA table_info({table})")
        if column["type"] == "REAL"
    }
    assert floats == {
        "recording.seconds", "utterance.start", "utterance.end", "utterance.level",
            "utterance.noise", "hearing.confidence",
        "photo.latitude", "photo.longitude", "photo.altitude", "photo.position_error",
            "photo.direction", "photo.sharpness", "photo.brightness", "tie.seconds",
            "fence.latitude", "fence.longitude", "fence.radius", "track.began", "track.ended",
            "tie.margin", "clock.seconds", "clock.drift", "clock.confidence", "hand_clock.seconds",
    }  # fmt: skip


def test_what_was_heard_comes_back_word_for_word(book: Book, tmp_path: Path):
    path = a_file(tmp_path, "a.wav", b"sound")
    one = heard("eleven seven eighths", MEASURE, doubts=(Doubt(0, "which wall?"),))
    assert keep.keep_recording(book, JOB.name, path, recording(path), [one])
    [utterance] = book.utterances(JOB.name)
    [entry] = book.entries(JOB.name)
    assert utterance.utterance == one.utterance
    assert utterance.unread == "so there"
    assert utterance.at == entry.at == MADE + timedelta(seconds=1.25)
    assert book.utterance(utterance.id) == utterance
    assert entry.entry == MEASURE
    assert (entry.doubts, entry.standing, entry.change) == (("which wall?",), "heard", "heard")
    assert entry.said == "eleven seven eighths"
    assert entry.utterance == utterance.id
    assert book.recordings(JOB.name) == (recording(path),)


def test_the_original_is_kept_byte_for_byte_under_its_hash(book: Book, tmp_path: Path):
    path = a_file(tmp_path, "a.WAV", bytes(range(256)) * 10_000)
    keep.keep_recording(book, JOB.name, path, recording(path), [])
    kept = book.media(recording(path).sha256)
    sha256 = recording(path).sha256
    assert kept.relative_to(book.store).as_posix() == f"{sha256[:2]}/{sha256}.wav"
    assert kept.read_bytes() == path.read_bytes()


def test_a_photo_comes_back_as_it_was(book: Book, tmp_path: Path):
    path = a_file(tmp_path, "a.jpg", b"picture")
    photo = Photo(
        recording(path).sha256, "a.jpg", Moment(MADE, "GPS"), 4000, 3000,
        Position(41.5, -70.25, 3.5, 8.25), 6, "invented camera", "the clock is off",
        MADE.replace(tzinfo=None), MADE, Direction(12.5, "magnetic"),
        Look("00ff00ff00ff00ff", 123.5, 0.25), ("a screenshot",),
    )  # fmt: skip
    assert keep.keep_photo(book, JOB.name, path, photo)
    assert not keep.keep_photo(book, JOB.name, path, photo)
    assert book.photos(JOB.name) == (photo,)


def test_the_same_bytes_twice_change_nothing_whatever_the_name(book: Book, tmp_path: Path):
    path = a_file(tmp_path, "a.wav", b"sound")
    again = a_file(tmp_path, "b.mp3", b"sound")
    keep.keep_recording(book, JOB.name, path, recording(path), [heard("eleven", MEASURE)])
    before = list(book._db.conn.iterdump())
    assert not keep.keep_recording(book, JOB.name, again, recording(again), [heard("x", MEASURE)])
    assert list(book._db.conn.iterdump()) == before
    assert len(list(book.store.glob("??/*"))) == 1


def test_a_book_opened_again_is_the_same_book(book: Book, tmp_path: Path):
    path = a_file(tmp_path, "a.wav", b"sound")
    keep.keep_recording(book, JOB.name, path, recording(path), [heard("eleven", MEASURE)])
    with Book.open(book.folder) as again:
        assert again.entries(JOB.name) == book.entries(JOB.name)
        assert again.jobs() == book.jobs()


def test_a_day_begins_and_ends_where_the_job_is(book: Book):
    late = datetime(2026, 10, 6, 3, 59, tzinfo=UTC)  # 23:59 the day before in New York
    decisions.add_typed(book, JOB.name, Reading((Entry("note", note="late"),)), "late", late)
    decisions.add_typed(
        book, JOB.name, Reading((Entry("note", note="next"),)), "next", late + timedelta(minutes=1)
    )
    assert book.days(JOB.name) == (date(2026, 10, 5), date(2026, 10, 6))
    assert [e.said for e in book.entries(JOB.name, date(2026, 10, 5))] == ["late"]
    assert [e.said for e in book.entries(JOB.name, date(2026, 10, 6))] == ["next"]


def test_the_day_the_clocks_change_has_25_hours(book: Book):
    last = datetime(2026, 11, 2, 4, 59, tzinfo=UTC)  # 23:59 on 1 November, standard time
    decisions.add_typed(book, JOB.name, Reading((Entry("note"),)), "last", last)
    assert book.days(JOB.name) == (date(2026, 11, 1),)
    assert len(book.entries(JOB.name, date(2026, 11, 1))) == 1


def test_the_database_holds_foreign_keys_and_waits_for_the_disk(book: Book):
    with pytest.raises(BookError), book._writing():
        book._insert("doubt", {"entry": 99, "version": 1, "ordinal": 0, "why": "?"})
    assert book._rows("PRAGMA foreign_keys") == [{"foreign_keys": 1}]
    assert book._rows("PRAGMA journal_mode") == [{"journal_mode": "wal"}]
    assert book._rows("PRAGMA synchronous") == [{"synchronous": 2}]
    assert book._rows("PRAGMA foreign_key_check") == []


def test_a_version_cannot_be_overwritten_or_deleted_even_by_hand(book: Book):
    decisions.add_typed(book, JOB.name, Reading((MEASURE,)), "eleven", MADE)
    with pytest.raises(sqlite3.IntegrityError, match="never overwritten"):
        book._db.execute("UPDATE entry_version SET said = 'twelve'")
    with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
        book._db.execute("DELETE FROM entry_version")


def test_a_book_from_a_newer_joblog_is_refused_and_left_alone(book: Book):
    book.close()
    file = book.folder / "book.sqlite"
    with sqlite3.connect(file) as newer:
        newer.execute("PRAGMA user_version = 99")
    newer.close()
    before = file.read_bytes()
    with pytest.raises(BookError, match=r"newer joblog.*install the newer"):
        Book.open(book.folder)
    assert file.read_bytes() == before


def test_another_programs_database_is_no_book(tmp_path: Path):
    with sqlite3.connect(tmp_path / "book.sqlite") as other:
        other.execute("CREATE TABLE theirs (x)")
    other.close()
    with pytest.raises(BookError, match="is not a joblog book"):
        Book.open(tmp_path)
    with pytest.raises(BookError, match="is not a joblog book"):
        Book.create(tmp_path)


def test_a_file_that_is_no_database_is_no_book(tmp_path: Path):
    a_file(tmp_path, "book.sqlite", b"once upon a time" * 100)
    with pytest.raises(BookError, match="is not a joblog book"):
        Book.open(tmp_path)


def test_a_folder_without_a_book_says_so(tmp_path: Path):
    with pytest.raises(BookError, match="there is no book here"):
        Book.open(tmp_path / "nowhere")


def test_a_second_book_is_not_made_over_the_first(book: Book):
    with pytest.raises(BookError, match="a book is here already"):
        Book.create(book.folder)


def test_what_a_killed_create_left_behind_is_made_a_book(tmp_path: Path):
    a_file(tmp_path, "book.sqlite", b"")
    with Book.create(tmp_path) as book:
        assert book.jobs() == ()


def test_a_file_in_the_way_of_the_folder_is_named(tmp_path: Path):
    a_file(tmp_path, "file", b"")
    with pytest.raises(BookError, match=r"file.*in the way"):
        Book.create(tmp_path / "file")


def test_an_unknown_job_is_answered_with_the_known_ones(book: Book):
    with pytest.raises(BookError, match=r"'Gull' in this book; it has: Gull Point cottage"):
        book.entries("Gull")


def test_two_jobs_cannot_have_one_name(book: Book):
    with pytest.raises(BookError, match="already"):
        book.add_job(JOB)


def test_another_program_that_is_writing_is_waited_for_and_then_named(
    book: Book, monkeypatch: pytest.MonkeyPatch
):
    other = sqlite3.connect(book.folder / "book.sqlite", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    book._db.execute("PRAGMA busy_timeout = 10")
    with pytest.raises(BookError, match="another program is writing"):
        decisions.add_typed(book, JOB.name, Reading((MEASURE,)), "eleven", MADE)
    other.close()
