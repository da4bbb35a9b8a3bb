"""Whatever was said is found by its words, however they are typed, and stays in step."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.book import Book, decisions, schema, searching, verify
from joblog.book.searching import marks, phrases
from joblog.form import describe
from joblog.model import Entry
from tests.book.two_jobs import AT, JOB, NINE, OTHER, USED, a_book, pictured, recorded, said, wrote


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as made:
        yield made


def texts(book: Book, typed: str, *, every_job: bool = True) -> list[str]:
    return [row["text"] for row in book.found(typed, JOB.name, every_job=every_job)]


def stands(book: Book, line: str) -> bool:
    """Whether an entry is found that reads so."""
    return any(text.startswith(line) for text in texts(book, line))


def test_an_entry_is_found_as_it_stands_and_not_as_it_was(book: Book) -> None:
    [used] = [kept for kept in book.entries(JOB.name) if kept.entry.kind == "used"]
    nine, seven = describe(used.entry), describe(replace(used.entry, quantity=Fraction(7)))
    assert stands(book, nine) and not stands(book, seven)
    decisions.edit(book, used.id, "quantity", "7")
    assert stands(book, seven) and not stands(book, nine)
    decisions.undo(book, used.id)
    assert stands(book, nine) and not stands(book, seven)


def test_a_dropped_entry_is_found_and_says_so(book: Book) -> None:
    [id] = wrote(book, NINE)
    decisions.drop(book, id)
    assert any("(dropped)" in text for text in texts(book, "dropped"))


def test_every_hearing_and_every_name_is_found(book: Book) -> None:
    assert texts(book, "morning 0") and texts(book, "noon.wav")
    assert [row["photo"] for row in book.found("wall", JOB.name)] == [
        photo.sha256 for photo in book.photos(JOB.name) if photo.name == "wall.jpg"
    ]


def test_the_last_word_need_not_be_finished_and_the_others_must_be(book: Book) -> None:
    assert texts(book, "soffit pan")
    assert not texts(book, "soff panel")


def test_this_job_comes_first_and_then_what_is_newest(book: Book, tmp_path: Path) -> None:
    late = said(Entry("note", note="rain again"))
    recorded(book, tmp_path, "later", late, hours=50, job=OTHER)
    for days in (2, 1):
        pictured(book, tmp_path, f"rain {days}", AT + timedelta(days=days))
    found = [(row["job"], row["at"]) for row in book.found("rain", JOB.name)]
    here = [at for job, at in found if job == JOB.name]
    assert [job for job, _ in found] == sorted((job for job, _ in found), key=JOB.name.__ne__)
    assert here == sorted(here, reverse=True) and len(here) == 2
    assert {job for job, _ in found} == {JOB.name, OTHER.name}
    only = list(book.found("rain", JOB.name, every_job=False))
    assert {row["job"] for row in only} == {JOB.name}


def test_what_is_moved_into_another_job_is_found_there(book: Book) -> None:
    photo = next(one for one in book.photos(JOB.name) if one.name == "yard.jpg")
    decisions.move_original(book, photo.sha256, OTHER.name)
    assert [row["job"] for row in book.found("yard", JOB.name)] == [OTHER.name]
    [id] = wrote(book, Entry("note", note="scaffold hired"))
    decisions.move(book, id, job=OTHER.name)
    assert [row["job"] for row in book.found("scaffold", JOB.name)] == [OTHER.name]
    assert searching.in_step(book._db)


@pytest.mark.parametrize(
    ("written", "typed"),
    [
        ("11 7/8 in at the north eave", "11 7/8"),
        ("11 7/8 in at the north eave", '11-7/8"'),
        ("the façade, twice", "FACADE"),
        ("the facade, twice", "façade"),
        ("cost 13.50 each", "13.50"),
        ("say AND or NOT", "and or not"),
        ("IMG_2031.jpg", "2031"),
    ],
)
def test_numbers_accents_and_capitals_are_found_as_people_type_them(
    book: Book, written: str, typed: str
) -> None:
    wrote(book, Entry("note", note=written))
    [text] = texts(book, typed)
    assert written in text


def test_a_number_is_one_number(book: Book) -> None:
    wrote(book, Entry("note", note="7 panels of 11 feet, 1/8 off"))
    assert not texts(book, "11 7/8")


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    with a_book(tmp_path_factory.mktemp("kept")) as made:
        yield made


@given(typed=st.text(max_size=40) | st.text('"*():^-+{}\\ aANDORNEar7/', max_size=20))
def test_nothing_that_is_typed_is_a_search_language(kept: Book, typed: str) -> None:
    for row in kept.found(typed, JOB.name):
        assert marks(row["text"], phrases(typed)) is not None


def test_marks_are_where_the_words_are() -> None:
    text = "used: 3 sheets of soffit panel, façade"
    found = marks(text, phrases("facad used pan"))
    assert found is None  # "facad" is not the last word.
    found = marks(text, phrases("façade used pan"))
    assert found is not None
    assert [text[start:end] for start, end in found] == ["used", "pan", "façade"]


# --- books of before, and another SQLite ------------------------------------------------------


def test_an_older_book_is_filled_when_it_is_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    others = tuple(one for one in schema.MIGRATIONS if one is not searching.begin)
    monkeypatch.setattr(schema, "MIGRATIONS", others)
    a_book(tmp_path).close()
    monkeypatch.setattr(schema, "MIGRATIONS", (*others, searching.begin))
    with Book.open(tmp_path / "book") as book:
        assert texts(book, "soffit panel") and searching.in_step(book._db)
        assert not tuple(verify.verify(book))


def test_without_the_index_the_same_is_found_and_the_index_catches_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with a_book(tmp_path) as book:
        [id] = wrote(book, Entry("note", note="façade scaffold"))
        asked = ("soffit pan", "FACADE", "9 soffit", "morning", "wall", "nothing like it")
        by_index = [texts(book, typed) for typed in asked]
    with monkeypatch.context() as poorer:
        poorer.setattr(searching, "_can_index", lambda db: False)
        with Book.open(tmp_path / "book") as book:
            assert not book.finds_by_index
            assert [texts(book, typed) for typed in asked] == by_index
            decisions.edit(book, id, "note", "gutter")
            assert texts(book, "gutter") and not texts(book, "facade")
    with Book.open(tmp_path / "book") as book:
        assert book.finds_by_index
        assert texts(book, "gutter") and not any("façade" in text for text in texts(book, "facade"))
        assert searching.in_step(book._db)


def test_words_that_are_damaged_are_made_anew_by_a_check(tmp_path: Path) -> None:
    a_book(tmp_path).close()
    raw = sqlite3.connect(tmp_path / "book" / "book.sqlite")
    raw.execute("UPDATE said SET text = 'nonsense' WHERE text LIKE '%soffit%'")
    raw.commit()
    raw.close()
    with Book.open(tmp_path / "book") as book:
        assert not searching.in_step(book._db)
        assert "soffit" not in "".join(texts(book, "soffit"))
        # It holds nothing that the entries do not, so a person need not hear of it.
        assert not tuple(verify.verify(book))
        assert texts(book, "soffit") and searching.in_step(book._db)
        wrote(book, USED)
        assert searching.in_step(book._db)
