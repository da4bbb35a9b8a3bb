"""One entry made into several, and two alike ones made into one."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlite_utils import Database

from joblog.book import Book, BookError, decisions, schema, seals, steps, ties
from joblog.book.parting import adds_up, merge, shared, split, together
from joblog.book.verdicts import verdicts
from joblog.model import Entry
from joblog.reconcile import reconcile
from tests.book.every_kind import EVERY_KIND
from tests.book.two_jobs import JOB, OTHER, a_book, recorded, said, shown, stock, wrote

NINE_ID = 2


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as book:
        yield book


def wall(book: Book) -> str:
    return next(photo.sha256 for photo in book.photos(JOB.name) if photo.name == "wall.jpg")


def figures(book: Book) -> list[tuple[object, ...]]:
    """The balance of every item, whichever entries stand behind it."""
    squared = reconcile(JOB, book.plan(JOB.name), book.entries(JOB.name), book.catalog())
    return [
        (one.item, one.delivered, one.placed, one.consumed, one.unaccounted)
        for one in squared.stock
    ]


# --- splitting --------------------------------------------------------------------------------


def test_an_entry_is_split_and_the_balance_is_as_it_was(book: Book) -> None:
    before = figures(book)
    north, south = split(book, NINE_ID, shared(book.entry(NINE_ID).entry, "4"))
    assert (north.id, north.entry.quantity, south.entry.quantity) == (NINE_ID, 4, 5)
    assert (north.change, south.change) == ("split", "split")
    assert figures(book) == before


def test_a_split_is_one_step_and_undone_as_one(book: Book) -> None:
    before = shown(book)
    _, added = split(book, NINE_ID, shared(book.entry(NINE_ID).entry, "4"))
    assert steps.steps(book, JOB.name)[-1].what == (
        "split: installed 9 soffit panels, north eave, into installed 4 soffit panels, north eave; "
        "installed 5 soffit panels, north eave"
    )
    steps.undo_last(book, JOB.name)
    assert shown(book) == before
    assert book.entry(added.id).standing == "dropped"
    steps.redo_last(book, JOB.name)
    assert (book.entry(NINE_ID).entry.quantity, book.entry(added.id).entry.quantity) == (4, 5)


def test_two_facts_that_were_typed_take_the_place_of_one(book: Book) -> None:
    parts = stock("used", 4, "north eave"), stock("used", 6, "south eave")
    assert tuple(one.entry for one in split(book, NINE_ID, parts)) == parts


def test_doubts_stay_on_both_parts_but_those_that_were_answered(book: Book) -> None:
    [id] = wrote(book, stock("used", 6), doubt="which wall?")
    parts = shared(book.entry(id).entry, "2")
    assert [one.doubts for one in split(book, id, parts)] == [("which wall?",)] * 2
    steps.undo_last(book, JOB.name)
    settled = split(book, id, parts, settles=["which wall?"])
    assert [one.standing for one in settled] == ["accepted", "accepted"]


def test_one_fact_is_no_split(book: Book) -> None:
    with pytest.raises(BookError, match="entry 2: that is one fact"):
        split(book, NINE_ID, [stock("used", 4)])


def test_what_is_dropped_is_neither_split_nor_merged(book: Book) -> None:
    [id] = wrote(book, stock("used", 2, "north eave"))
    decisions.drop(book, id)
    with pytest.raises(BookError, match="is dropped; restore it first"):
        split(book, id, shared(book.entry(id).entry, "1"))
    with pytest.raises(BookError, match="is dropped; restore it first"):
        merge(book, NINE_ID, id)


@pytest.mark.parametrize(
    ("first", "why"),
    [
        ("0", "no part of 9"),
        ("9", "no part of 9"),
        ("12", "no part of 9"),
        ("half", "'half' is not a number"),
        ("-1", "too little"),
        ("", "it says no amount"),
    ],
)
def test_what_is_no_part_of_it_is_refused(first: str, why: str) -> None:
    with pytest.raises(BookError, match=why):
        shared(stock("used", 9), first)


def test_an_entry_without_an_amount_has_nothing_to_share() -> None:
    with pytest.raises(BookError, match="no amount in it to share"):
        shared(Entry("note", note="rain"), "1")


def test_pieces_are_whole() -> None:
    cut = Entry("measure", inches=Fraction(95, 8), pieces=6)
    assert [one.pieces for one in shared(cut, "2")] == [2, 4]
    with pytest.raises(BookError, match="not a whole number"):
        shared(cut, "2.5")


def test_what_was_done_in_the_hours_is_shared_as_they_are() -> None:
    done = Entry("labor", hours=Fraction(6), quantity=Fraction(90), unit="ft")
    one, other = shared(done, "2")
    assert (one.hours, one.quantity, other.hours, other.quantity) == (2, 30, 4, 60)


@given(
    st.sampled_from([one for one in EVERY_KIND if adds_up(one)]),
    st.integers(1, 99),
)
def test_parts_make_the_whole_again_whatever_it_is(entry: Entry, part: int) -> None:
    whole = getattr(entry, adds_up(entry)[0])
    first = part if isinstance(whole, int) else str(Fraction(whole) * part / 100)
    if isinstance(whole, Decimal):
        first = str(whole * part / 100)
    elif isinstance(whole, int):
        first = str(1 + part % (whole - 1))
    one, other = shared(entry, first)
    assert together(one, other) == entry


# --- merging ----------------------------------------------------------------------------------


def test_two_alike_become_one_and_the_balance_is_as_it_was(book: Book) -> None:
    [id] = wrote(book, stock("used", 2, "north eave"))
    before = figures(book)
    whole = merge(book, NINE_ID, id)
    assert (whole.entry.quantity, whole.change, whole.standing) == (11, "merged", "accepted")
    assert (book.entry(id).standing, book.entry(id).change) == ("dropped", "merged")
    assert figures(book) == before


def test_a_merge_is_one_step_and_undone_as_one(book: Book) -> None:
    [id] = wrote(book, stock("used", 2, "north eave"))
    before = shown(book)
    merge(book, NINE_ID, id)
    steps.undo_last(book, JOB.name)
    assert shown(book) == before


def test_the_doubts_of_both_stay(book: Book) -> None:
    [id] = wrote(book, stock("used", 2, "north eave"), doubt="which wall?")
    assert merge(book, NINE_ID, id).doubts == ("which wall?",)
    assert book.entry(NINE_ID).open


def test_photos_tied_by_hand_come_along(book: Book) -> None:
    [id] = wrote(book, stock("used", 2, "north eave"))
    decisions.tie(book, wall(book), id)
    merge(book, NINE_ID, id)
    assert [one.entry for one in book.ties(JOB.name) if one.reason == ties.BY_HAND] == [NINE_ID]
    steps.undo_last(book, JOB.name)
    assert [one.entry for one in book.ties(JOB.name) if one.reason == ties.BY_HAND] == [id]


def test_what_went_into_another_one_does_not_come_back_beside_it(book: Book) -> None:
    [id] = wrote(book, stock("used", 2, "north eave"))
    merge(book, NINE_ID, id)
    with pytest.raises(BookError, match=f"entry {id} counts in another one"):
        decisions.restore(book, id)


@pytest.mark.parametrize(
    ("other", "why"),
    [
        (stock("used", 2, "south eave"), "not alike in place: north eave, south eave"),
        (stock("used", 2), "not alike in place: north eave, nothing"),
        (stock("spoiled", 2, "north eave"), "not alike: installed"),
        (
            Entry("used", "north eave", item="soffit panel", quantity=Fraction(2), unit="box"),
            "not alike in unit: sheet, box",
        ),
        (Entry("used", "north eave", item="soffit panel"), "not alike: installed"),
    ],
)
def test_what_is_not_alike_is_not_merged(book: Book, other: Entry, why: str) -> None:
    [id] = wrote(book, other)
    before = shown(book)
    with pytest.raises(BookError, match=why):
        merge(book, NINE_ID, id)
    assert shown(book) == before


def test_an_entry_is_not_merged_with_itself_nor_with_one_of_another_job(book: Book) -> None:
    with pytest.raises(BookError, match="takes two to make one"):
        merge(book, NINE_ID, NINE_ID)
    [id] = wrote(book, stock("used", 2, "north eave"), job=OTHER)
    with pytest.raises(BookError, match="are in two jobs"):
        merge(book, NINE_ID, id)


def test_what_was_said_twice_of_no_amount_is_one_afterwards() -> None:
    told, again = Entry("note", note="rain"), Entry("note", note="rain again")
    assert together(told, again).note == "rain; rain again"


def test_neither_says_anything_of_how_words_were_heard(book: Book) -> None:
    before = verdicts(book)
    [id] = wrote(book, stock("used", 2, "north eave"))
    split(book, 1, shared(book.entry(1).entry, "4"))
    merge(book, NINE_ID, id)
    assert verdicts(book) == before


# --- books of before --------------------------------------------------------------------------


@pytest.fixture
def older(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book that knows neither, with a recording in it."""
    until = schema.MIGRATIONS.index(schema._split_and_merged)
    with monkeypatch.context() as before:
        before.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:until])
        with Book.create(tmp_path / "older") as book:
            book.add_job(JOB)
            recorded(book, tmp_path, "morning", said(stock("used", 9)))
    return tmp_path / "older"


def test_an_older_book_stays_as_it_was_and_its_entries_can_be_split(older: Path) -> None:
    with Book.open(older) as book:
        [kept] = book.entries(JOB.name)
        assert (kept.entry, kept.version) == (stock("used", 9), 1)
        assert [one.entry.quantity for one in split(book, kept.id, shared(kept.entry, "4"))] == [
            4,
            5,
        ]


def test_a_damaged_line_of_an_older_book_does_not_keep_it_shut(older: Path) -> None:
    db = Database(older / "book.sqlite")
    # As a failing disk does: a flipped bit asks neither trigger nor constraint.
    for [name] in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    db.execute("PRAGMA ignore_check_constraints = ON")
    db.execute("UPDATE entry_version SET change = 'hearD'")
    db.execute("DELETE FROM seal WHERE of = ?", [seals.DEFINITIONS])
    db.execute("INSERT INTO seal VALUES (?, '', ?)", [seals.DEFINITIONS, seals._definitions(db)])
    db.close()
    with Book.open(older) as book:
        assert "entry 1, version 1" in [found.what for found in book.damage()]
